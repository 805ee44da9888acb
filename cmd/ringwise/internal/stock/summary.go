package stock

import (
	"context"
	"time"

	"ringwise/decode"
)

// A Summary says what was confirmed since some time, as far as it is still in
// the stock, and what the stock holds.
type Summary struct {
	Since time.Time
	// Entries were confirmed since. Parts are in them now: without what was
	// taken, with what was put back.
	Entries, Parts int
	// Values counts the different values and tolerances among them.
	Values int
	// AsOffered counts entries whose first candidate the person confirmed
	// unchanged, Corrected those where another reading than the first was
	// confirmed, ByHand those whose value was given by hand, Measured those
	// with a meter's value.
	AsOffered, Corrected, ByHand, Measured int
	// SureButWrong counts entries of which Ringwise had been sure and the
	// person confirmed another reading.
	SureButWrong int
	// TotalEntries, TotalParts and TotalValues are what the stock holds, where
	// any part is left.
	TotalEntries, TotalParts, TotalValues int
}

// Summary returns the summary since a time; since the beginning if it is zero.
func (s *Store) Summary(ctx context.Context, since time.Time) (Summary, error) {
	sum := Summary{Since: since}
	parts, err := s.Parts(ctx, Filter{Empty: true}) // by value and tolerance
	if err != nil {
		return sum, err
	}
	var last, lastHeld *decode.Reading // the value before
	for i := range parts {
		p := &parts[i]
		if p.Count > 0 {
			sum.TotalEntries++
			sum.TotalParts += p.Count
			if lastHeld == nil || byValue(*lastHeld, p.Reading) != 0 {
				sum.TotalValues++
			}
			lastHeld = &p.Reading
		}
		if p.Confirmed.Before(since) {
			continue
		}
		sum.Entries++
		sum.Parts += p.Count
		if last == nil || byValue(*last, p.Reading) != 0 {
			sum.Values++
		}
		last = &p.Reading
		if p.Meter != nil {
			sum.Measured++
		}
		switch {
		case p.Origin == ByHand:
			sum.ByHand++
		case len(p.Candidates) > 0 && offers(p.Candidates[0], p.Reading):
			sum.AsOffered++
		case len(p.Candidates) > 0:
			sum.Corrected++
		}
		if p.Verdict == decode.Sure.String() && len(p.Candidates) > 0 && !offers(p.Candidates[0], p.Reading) {
			sum.SureButWrong++
		}
	}
	return sum, nil
}

// offers tells whether a candidate says what was confirmed.
func offers(c Candidate, r decode.Reading) bool {
	return byValue(decode.Reading{Ohms: c.Ohms, TolerancePercent: c.Tolerance}, r) == 0
}
