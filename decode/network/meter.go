package network

import (
	"fmt"

	"github.com/shopspring/decimal"

	"ringwise/decode"
	"ringwise/decode/series"
)

// A MeterVerdict says how a reading lies to the bounds of a tolerance.
type MeterVerdict string

// The verdicts, after the decision rules of ISO 14253-1: a reading conforms
// only if it does so for every value that the meter's error allows.
const (
	Inside  MeterVerdict = "inside"  // surely within the tolerance
	Outside MeterVerdict = "outside" // surely not
	Unclear MeterVerdict = "unclear" // the reading is not sure enough to tell
)

// A MeterAnswer is what a meter reading says of a part.
type MeterAnswer struct {
	Shown        Value        `json:"shown"`
	Low          Value        `json:"low"`           // the least the part can have, by the meter's accuracy
	High         *Value       `json:"high"`          // the most; nil in circuit, where the part may have any more
	ErrorPercent float64      `json:"error_percent"` // of the reading from the marked value
	Verdict      MeterVerdict `json:"verdict"`
	Says         string       `json:"says"` // the verdict in words, to follow "the reading is"
	// Nearest is the nearest number of E24, said only if the verdict is
	// Outside, the part was measured out of circuit and it is another value.
	Nearest *Value   `json:"nearest,omitempty"`
	Notes   []string `json:"notes"`
}

const saysOutside = "outside the tolerance"

// compare sets a meter reading against a value with a tolerance. In a circuit
// the part's neighbours lie in parallel with it, so that it may have more than
// was read, never less.
func compare(v Value, m decode.Measurement) (MeterAnswer, error) {
	switch {
	case m.Ohms.IsNegative():
		return MeterAnswer{}, fmt.Errorf("a meter reading of %s is below zero: swap the test leads or leave the sign out", decode.FormatOhms(m.Ohms))
	case m.AccuracyPercent.IsNegative() || m.AccuracyOhms.IsNegative() || m.AccuracyPercent.GreaterThan(hundred):
		return MeterAnswer{}, fmt.Errorf("the meter's accuracy must be 0 to 100 %%, and its part in ohms not below zero")
	}
	margin := m.Limit()
	low, high := decimal.Max(decimal.Zero, m.Ohms.Sub(margin)), m.Ohms.Add(margin)
	a := MeterAnswer{Shown: Exact(m.Ohms), Low: Exact(low), Notes: []string{},
		ErrorPercent: m.Ohms.Sub(v.Ohms).Shift(2).DivRound(v.Ohms, 9).InexactFloat64()}
	least, most := v.Low().Ohms, v.High().Ohms
	switch {
	case m.InCircuit && low.GreaterThan(most):
		a.Verdict, a.Says = Outside, saysOutside
	case m.InCircuit:
		a.Verdict, a.Says = Unclear, "no proof in its circuit, where the part may have more than is read"
	case low.GreaterThanOrEqual(least) && high.LessThanOrEqual(most):
		a.Verdict, a.Says = Inside, "inside the tolerance"
	case high.LessThan(least) || low.GreaterThan(most):
		a.Verdict, a.Says = Outside, saysOutside
		if near, err := series.Nearest(series.E24, m.Ohms); err == nil && !near.Equal(v.Ohms) {
			nearest := Exact(near)
			a.Nearest = &nearest
		}
	case high.Sub(low).GreaterThan(most.Sub(least)):
		a.Verdict, a.Says = Unclear, fmt.Sprintf("too rough to tell: as it was written it may be off by %s, more than the tolerance; write all the digits that the meter shows, or take a more exact one",
			Exact(margin).Rounded(3))
	default:
		a.Verdict, a.Says = Unclear, "too near to a bound to tell with this meter"
	}
	if !m.InCircuit {
		most := Exact(high)
		a.High = &most
	}
	if margin.IsZero() {
		a.Notes = append(a.Notes, "The meter is taken to be exact: no accuracy was given.")
	}
	if m.InCircuit {
		a.Notes = append(a.Notes, decode.NoteInCircuit)
	}
	return a, nil
}
