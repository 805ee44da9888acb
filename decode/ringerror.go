package decode

import (
	"fmt"
	"strings"
)

// A RingError says which ring of a row cannot stand where it is.
type RingError struct {
	Position int      // place of the ring, counted from 1 in reading order
	Colour   Colour   // the colour found there
	Why      string   // what is wrong with it
	Could    []Colour // the colours that could stand there
}

// Error names the ring, what is wrong and what could stand there.
func (e *RingError) Error() string {
	names := make([]string, len(e.Could))
	for i, c := range e.Could {
		names[i] = c.String()
	}
	return fmt.Sprintf("ring %d cannot be %s: %s; it could be %s",
		e.Position, e.Colour, e.Why, strings.Join(names, ", "))
}

// A CountError says that no ring code has that many rings.
type CountError struct{ Count int }

// Error names the count and the counts that have a meaning.
func (e *CountError) Error() string {
	return fmt.Sprintf("%d rings have no meaning: a code has three, four, five or six rings, or a single black one", e.Count)
}

// misplaced returns an error for the first ring that has no meaning in the
// layout, or nil. There are as many rings as roles.
func misplaced(rings []Colour, layout []role) *RingError {
	for i, c := range rings {
		if layout[i].stands(c) {
			continue
		}
		e := &RingError{Position: i + 1, Colour: c, Why: layout[i].whyNot(c)}
		for could := Colour(0); could < ColourCount; could++ {
			if layout[i].stands(could) {
				e.Could = append(e.Could, could)
			}
		}
		return e
	}
	return nil
}

// whyNot says why the colour has no meaning in the role.
func (r role) whyNot(c Colour) string {
	if c >= ColourCount {
		return "that is no ring colour"
	}
	switch r {
	case leadingDigitRing:
		if c == Black {
			return "a value does not start with the digit zero"
		}
		return "the first ring is a digit, and " + c.String() + " is none"
	case digitRing:
		return "this ring is a digit, and " + c.String() + " is none"
	case toleranceRing:
		return "the tolerance stands here, and " + c.String() + " is none"
	case reliableToleranceRing:
		return "with a failure-rate ring the tolerance stands here, and " + c.String() + " is none"
	case tempcoRing:
		return "the temperature coefficient stands here, and " + c.String() + " is none"
	case failureRateRing:
		return "the failure rate stands here, and " + c.String() + " is none"
	}
	return c.String() + " has no meaning here"
}
