package decode

import (
	"slices"

	"github.com/shopspring/decimal"

	"ringwise/decode/series"
)

// A role is what a ring at some place of the row stands for.
type role uint8

const (
	// leadingDigitRing is the first digit of a value, 1 to 9. IEC 60062 writes
	// resistances with preferred numbers in mind, and none of IEC 60063
	// starts with zero; allowing it would give every value several codes.
	// Zero itself has a code of its own, the single black ring.
	leadingDigitRing role = iota
	digitRing
	multiplierRing
	toleranceRing
	// reliableToleranceRing is the tolerance ring of an established-reliability
	// part: 1, 2, 5 or 10 % (MIL practice, from memory).
	reliableToleranceRing
	tempcoRing
	failureRateRing
)

// layouts holds, for each count of rings, the roles they may have, the
// standard's own layout first (IEC 60062). The second layout of five rings is
// the four-ring code with a failure-rate ring.
var layouts = map[int][][]role{
	3: {{leadingDigitRing, digitRing, multiplierRing}},
	4: {{leadingDigitRing, digitRing, multiplierRing, toleranceRing}},
	5: {{leadingDigitRing, digitRing, digitRing, multiplierRing, toleranceRing},
		{leadingDigitRing, digitRing, multiplierRing, reliableToleranceRing, failureRateRing}},
	6: {{leadingDigitRing, digitRing, digitRing, multiplierRing, toleranceRing, tempcoRing}},
}

// stands reports whether a colour has a meaning in a role.
func (r role) stands(c Colour) bool {
	var ok bool
	switch r {
	case leadingDigitRing:
		_, ok = c.Digit()
		ok = ok && c != Black
	case digitRing:
		_, ok = c.Digit()
	case multiplierRing:
		_, ok = c.Multiplier()
	case toleranceRing:
		_, ok = c.Tolerance()
	case reliableToleranceRing:
		ok = c == Brown || c == Red || c == Gold || c == Silver
	case tempcoRing:
		_, ok = c.Tempco()
	case failureRateRing:
		_, ok = c.FailureRate()
	}
	return ok
}

// Readings returns every legal meaning of the rings in the order given, most
// usual first, at least one unless there is an error.
//
// One ring, black, is a zero-ohm link. Three rings are two digits and a
// multiplier, ±20 %; four have a tolerance ring; five have three digits, a
// multiplier and a tolerance, or are a four-ring code with a failure-rate
// ring; six have a temperature coefficient last (IEC 60062). Of two meanings
// of five rings the standard's own comes first, unless its three digits are
// no preferred number while the two digits of the other are. A value never
// starts with the digit zero.
//
// It returns a *RingError if a ring cannot stand where it is, and a
// *CountError if no code has that many rings.
func Readings(rings []Colour) ([]Reading, error) {
	if len(rings) == 1 {
		if rings[0] != Black {
			return nil, &RingError{Position: 1, Colour: rings[0], Could: []Colour{Black},
				Why: "a single ring stands only for a zero-ohm link"}
		}
		return []Reading{{Rings: slices.Clone(rings), Notes: []string{NoteLink}}}, nil
	}
	choices, ok := layouts[len(rings)]
	if !ok {
		return nil, &CountError{Count: len(rings)}
	}
	var found []Reading
	var preferred []bool
	var worst *RingError
	for _, layout := range choices {
		if err := misplaced(rings, layout); err != nil {
			// The layout that makes sense of most rings explains best.
			if worst == nil || err.Position > worst.Position {
				worst = err
			}
			continue
		}
		found = append(found, meanings(rings, layout)...)
		preferred = append(preferred, isPreferred(rings, layout))
	}
	if found == nil {
		if legal(reversed(rings)) {
			worst.Why += "; the row makes sense read from the other end"
		}
		return nil, worst
	}
	if len(preferred) == 2 && preferred[1] && !preferred[0] {
		// The failure-rate layout has one meaning only, the last.
		last := len(found) - 1
		found = append([]Reading{found[last]}, found[:last]...)
	}
	return found, nil
}

// meanings returns the readings of rings that fit the layout, most usual
// first.
func meanings(rings []Colour, layout []role) []Reading {
	r := Reading{Rings: slices.Clone(rings)}
	significand, exponent := 0, 0
	senses := []toleranceSense{{percent: noRingTolerance}}
	for i, c := range rings {
		switch layout[i] {
		case leadingDigitRing, digitRing:
			d, _ := c.Digit()
			significand = 10*significand + d
		case multiplierRing:
			exponent, _ = c.Multiplier()
		case toleranceRing:
			senses = toleranceSenses(c, len(rings) == 4)
		case reliableToleranceRing:
			senses[0].percent, _ = c.Tolerance()
		case tempcoRing:
			ppm, _ := c.Tempco()
			r.TempcoPPM = &ppm
		case failureRateRing:
			rate, _ := c.FailureRate()
			r.FailureRate = decimal.NewNullDecimal(rate)
			r.Notes = []string{NoteFailureRate}
		}
	}
	r.Ohms = decimal.New(int64(significand), int32(exponent))
	readings := make([]Reading, len(senses))
	for i, s := range senses {
		readings[i] = r
		readings[i].TolerancePercent = decimal.NewNullDecimal(s.percent)
		if s.note != "" {
			readings[i].Notes = append(slices.Clone(r.Notes), s.note)
		}
		if s.caution != "" {
			readings[i].Cautions = []string{s.caution}
		}
	}
	return readings
}

// isPreferred reports whether the digits of rings that fit the layout are a
// preferred number of IEC 60063.
func isPreferred(rings []Colour, layout []role) bool {
	significand := 0
	for i, c := range rings {
		if layout[i] == leadingDigitRing || layout[i] == digitRing {
			d, _ := c.Digit()
			significand = 10*significand + d
		}
	}
	if significand < 100 {
		e, ok := series.Lowest(10 * significand)
		return ok && e.Digits() == 2
	}
	_, ok := series.Lowest(significand)
	return ok
}

// legal reports whether the rings have a meaning in some layout.
func legal(rings []Colour) bool {
	return slices.ContainsFunc(layouts[len(rings)], func(layout []role) bool {
		return misplaced(rings, layout) == nil
	})
}

func reversed(rings []Colour) []Colour {
	back := slices.Clone(rings)
	slices.Reverse(back)
	return back
}
