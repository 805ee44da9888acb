package decode

import (
	"fmt"
	"slices"
	"strings"

	"ringwise/decode/series"
)

// contradiction says that the rings and the meter do not agree, and what may
// be the cause: one ring misread, the row read from the wrong end, or another
// part.
func contradiction(r Reading, m Measurement, s Specimen) string {
	said := r.Value()
	if r.TolerancePercent.Valid && !r.IsLink() {
		said += fmt.Sprintf(" ±%s %%", r.TolerancePercent.Decimal)
	}
	if len(r.Rings) > 0 {
		said = "rings say " + said
	} else {
		said = "it is said to be " + said
	}
	return fmt.Sprintf("%s, the meter says %s: %s", said, FormatOhms(m.Ohms), strings.Join(causes(r, m, s), ", or "))
}

// causes lists what may be wrong, the likeliest first.
func causes(r Reading, m Measurement, s Specimen) []string {
	var list []string
	back := reversed(r.Rings)
	if !slices.Equal(back, r.Rings) && agrees(back, m, s) {
		list = append(list, "read from the wrong end")
	}
	if ring, others := misread(r, m, s); ring >= 0 {
		list = append(list, fmt.Sprintf("%s misread (%s would agree)", roleName(r, ring), strings.Join(others, " or ")))
	}
	if r.Ohms.LessThan(m.Ohms) && m.InCircuit {
		list = append(list, "a charged capacitor in the circuit disturbs the meter")
	}
	if len(r.Rings) == 1 {
		list = append(list, "a diode or another part with one ring")
	}
	return append(list, "another part or a broken one")
}

// agrees tells whether some meaning of the rings, with preferred digits, goes
// with the measurement.
func agrees(rings []Colour, m Measurement, s Specimen) bool {
	meanings, err := Readings(rings)
	return err == nil && slices.ContainsFunc(meanings, func(r Reading) bool {
		return hasPreferredDigits(r) && FitOf(r, m, s) == Within
	})
}

// misread finds the ring that, if it alone had another colour, would make the
// rings agree with the measurement, and the letters of those colours; -1 if
// there is none. The multiplier is looked at first: it errs most.
func misread(r Reading, m Measurement, s Specimen) (ring int, others []string) {
	rings, digits := r.Rings, digitRings(r)
	if len(rings) < 3 {
		return -1, nil
	}
	order := []int{digits}
	for i := range digits {
		order = append(order, i)
	}
	for _, i := range order {
		trial := slices.Clone(rings)
		for c := range Colour(ColourCount) {
			trial[i] = c
			if c != rings[i] && agrees(trial, m, s) {
				others = append(others, c.String())
			}
		}
		if others != nil {
			return i, others
		}
	}
	return -1, nil
}

// roleName names a ring by what it stands for.
func roleName(r Reading, ring int) string {
	if ring == digitRings(r) {
		return "multiplier ring"
	}
	return fmt.Sprintf("ring %d", ring+1)
}

// digitRings is how many of the first rings are digits.
func digitRings(r Reading) int {
	if len(r.Rings) < 3 || len(r.Rings) == 5 && r.FailureRate.Valid {
		return 2
	}
	return digitsOf[min(len(r.Rings), len(digitsOf)-1)]
}

// hasPreferredDigits tells whether the digits are a preferred number of
// IEC 60063, two digits one of E24.
func hasPreferredDigits(r Reading) bool {
	n := 0
	for _, c := range r.Rings[:digitRings(r)] {
		n = 10*n + int(c)
	}
	if digitRings(r) == 2 {
		e, ok := series.Lowest(10 * n)
		return ok && e.Digits() == 2
	}
	_, ok := series.Lowest(n)
	return ok
}
