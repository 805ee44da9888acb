package network

import (
	"fmt"

	"github.com/shopspring/decimal"

	"ringwise/decode"
	"ringwise/decode/series"
)

// AnyNumber is the count of parts that can be had in any number, such as those
// of a series.
const AnyNumber = -1

// A Part is a resistor, or several alike, as far as it is known.
type Part struct {
	ID    string `json:"id,omitempty"`    // the caller's own name for it
	Where string `json:"where,omitempty"` // where the person finds it
	Value Value  `json:"value"`           // as marked
	// Rings are those on the part where a person has confirmed them, nil
	// otherwise; Value.Rings gives the usual ones.
	Rings []decode.Colour `json:"-"`
	// Measured is what a meter allows for, nil if the part was not measured out
	// of circuit. It goes before the tolerance where a part stands in; bounds of
	// circuits and dividers go by the tolerance.
	Measured   *Span       `json:"measured,omitempty"`
	TempcoPPM  *int        `json:"tempco_ppm,omitempty"`  // temperature coefficient, ppm/K either side of zero
	Kind       decode.Kind `json:"kind,omitempty"`        // empty: unknown
	RatedWatts float64     `json:"rated_watts,omitempty"` // at the start of derating; 0: unknown
	// RatingEstimated says that RatedWatts is only judged, such as by the body.
	RatingEstimated bool    `json:"rating_estimated,omitempty"`
	LimitVolts      float64 `json:"limit_volts,omitempty"` // limiting element voltage; 0: unknown
	Count           int     `json:"count"`                 // how many there are, or AnyNumber
}

// A Span is a range of resistance.
type Span struct {
	Low  Value `json:"low"`
	High Value `json:"high"`
}

// enough reports whether there are so many.
func (p Part) enough(number int) bool { return p.Count == AnyNumber || p.Count >= number }

// String names the part: its value and where it is.
func (p Part) String() string {
	if p.Where != "" {
		return fmt.Sprintf("%s from %s", p.Value, p.Where)
	}
	return p.Value.String()
}

// FromSeries returns a part for every number of a series of IEC 60063 from low
// to high ohms, both included, in any number. The tolerance is the one that
// goes with the series unless another is given.
func FromSeries(e series.E, low, high decimal.Decimal, tolerance decimal.NullDecimal) ([]Part, error) {
	values, err := series.Between(e, low, high)
	if err != nil {
		return nil, err
	}
	if !tolerance.Valid {
		tolerance = decimal.NewNullDecimal(e.TolerancePercent())
	}
	parts := make([]Part, len(values))
	for i, ohms := range values {
		parts[i] = Part{Where: e.String(), Value: Value{ohms, tolerance}, Count: AnyNumber}
	}
	return parts, nil
}

// A LeftOut is a part that was not considered, and why.
type LeftOut struct {
	Part Part   `json:"part"`
	Why  string `json:"why"`
}

// usable parts those that may be used in an ordinary place from the others.
func usable(parts []Part) (use []Part, out []LeftOut) {
	for _, p := range parts {
		switch {
		case p.Count == 0 || p.Count < AnyNumber:
			// None left: nothing to tell.
		case p.Value.Ohms.IsNegative() || p.Value.Ohms.IsZero():
			out = append(out, LeftOut{p, "a link has no resistance to work with"})
		case p.Kind.Special():
			out = append(out, LeftOut{p, p.Kind.WhySpecial()})
		default:
			use = append(use, p)
		}
	}
	return use, out
}

// checkValue refuses a resistance that is not above zero.
func checkValue(what string, v Value) error {
	if !v.Ohms.IsPositive() {
		return fmt.Errorf("%s is %s: it must be above zero", what, v)
	}
	if v.TolerancePercent.Valid && (v.TolerancePercent.Decimal.IsNegative() || v.TolerancePercent.Decimal.GreaterThan(hundred)) {
		return fmt.Errorf("%s has a tolerance of %s %%: it must be 0 to 100", what, v.TolerancePercent.Decimal)
	}
	return nil
}
