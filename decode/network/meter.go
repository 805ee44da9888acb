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
	Unclear MeterVerdict = "unclear" // the meter's error is too large to tell
)

// A MeterAnswer is what a meter reading says of a part.
type MeterAnswer struct {
	Shown        Value        `json:"shown"`
	Low          Value        `json:"low"`           // the least the part can have, by the meter's accuracy
	High         Value        `json:"high"`          // the most
	ErrorPercent float64      `json:"error_percent"` // of the reading from the marked value
	Verdict      MeterVerdict `json:"verdict"`
	// Nearest is the nearest number of E24, said only if the verdict is
	// Outside.
	Nearest *Value   `json:"nearest,omitempty"`
	Notes   []string `json:"notes"`
}

// compare sets a meter reading against a value with a tolerance.
func compare(v Value, m decode.Measurement) (MeterAnswer, error) {
	switch {
	case m.Ohms.IsNegative():
		return MeterAnswer{}, fmt.Errorf("a meter reading of %s is below zero: swap the test leads or leave the sign out", decode.FormatOhms(m.Ohms))
	case m.AccuracyPercent.IsNegative() || m.AccuracyOhms.IsNegative() || m.AccuracyPercent.GreaterThan(hundred):
		return MeterAnswer{}, fmt.Errorf("the meter's accuracy must be 0 to 100 %%, and its part in ohms not below zero")
	}
	margin := m.Limit()
	low, high := decimal.Max(decimal.Zero, m.Ohms.Sub(margin)), m.Ohms.Add(margin)
	a := MeterAnswer{Shown: Exact(m.Ohms), Low: Exact(low), High: Exact(high), Notes: []string{},
		ErrorPercent: m.Ohms.Sub(v.Ohms).Shift(2).DivRound(v.Ohms, 9).InexactFloat64()}
	least, most := v.Low().Ohms, v.High().Ohms
	switch {
	case low.GreaterThanOrEqual(least) && high.LessThanOrEqual(most):
		a.Verdict = Inside
	case high.LessThan(least) || low.GreaterThan(most):
		a.Verdict = Outside
		if near, err := series.Nearest(series.E24, m.Ohms); err == nil {
			nearest := Exact(near)
			a.Nearest = &nearest
		}
	default:
		a.Verdict = Unclear
	}
	if margin.IsZero() {
		a.Notes = append(a.Notes, "The meter is taken to be exact: no accuracy was given.")
	}
	if m.InCircuit {
		a.Notes = append(a.Notes, decode.NoteInCircuit)
	}
	return a, nil
}
