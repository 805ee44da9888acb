// Package sheet makes questions on the ring code from confirmed parts, with
// their answers, worked steps and the slips that lead to wrong ones. It knows
// what stands on a sheet of paper, not how it is drawn.
package sheet

import (
	"fmt"
	"slices"

	"ringwise/decode"
)

// A Part is one resistor that questions may be asked about.
type Part struct {
	Reading decode.Reading

	// Picture is the part cut out of its photo, nil if it is to be drawn.
	Picture *Picture

	// Unchecked is set for a part that no person has confirmed: it was read
	// from a photo and the reading called sure.
	Unchecked bool
}

// A Picture is a part cut out of its photo, straight, its first ring at the
// left. All pictures of a sheet have the same size.
type Picture struct {
	JPEG          []byte
	Width, Height int // in pixels
	// Rings are the places of the rings in reading order, as fractions of the
	// width from the left; nil if they are not known.
	Rings []float64
}

// usable says why no question may be asked about a part, or nil: a learner
// who knows the tables of IEC 60062 must come to exactly its value. Five rings
// are taken for three digits, a multiplier and a tolerance, as every sheet
// says.
func usable(p Part) error {
	r := p.Reading
	switch {
	case r.IsLink():
		return fmt.Errorf("a zero-ohm link has no value to work out")
	case len(r.Rings) == 0:
		return fmt.Errorf("it has no ring code")
	case r.FailureRate.Valid:
		return fmt.Errorf("it has a failure-rate ring, which five-ring parts of a sheet have not")
	}
	found, err := decode.Readings(r.Rings)
	if err != nil {
		return err
	}
	found = slices.DeleteFunc(found, func(f decode.Reading) bool { return f.FailureRate.Valid })
	switch {
	case len(found) == 0:
		return fmt.Errorf("its rings have a meaning only with a failure rate")
	case len(found) > 1:
		return fmt.Errorf("its tolerance ring has more than one meaning")
	case !found[0].Ohms.Equal(r.Ohms) || !found[0].TolerancePercent.Decimal.Equal(r.TolerancePercent.Decimal):
		return fmt.Errorf("it was confirmed as something else than its rings say")
	}
	return nil
}

// Usable parts the parts that questions may be asked about at a level from
// those that are left out, each with the reason.
func Usable(parts []Part, level int) (good []Part, reasons []string) {
	for _, p := range parts {
		err := usable(p)
		if most := mostRings(level); err == nil && len(p.Reading.Rings) > most {
			err = fmt.Errorf("level %d has parts of at most %d rings", level, most)
		}
		if err != nil {
			reasons = append(reasons, fmt.Sprintf("%s is left out: %v", nameOf(p.Reading), err))
			continue
		}
		good = append(good, p)
	}
	return good, reasons
}

func nameOf(r decode.Reading) string {
	name := r.Value()
	if len(r.Rings) > 0 {
		name += " (" + lettersOf(r.Rings) + ")"
	}
	return name
}

// mostRings is the greatest count of rings at a level.
func mostRings(level int) int { return level + 3 }
