package network

import (
	"fmt"
	"math"
	"slices"
)

// A BodySize is a type size of leaded resistors: two digits for the diameter
// and two for the length in millimetres.
type BodySize struct {
	Name string `json:"name"`
	// LimitVolts is the limiting element voltage of such bodies, the lowest
	// that is usual.
	LimitVolts float64 `json:"limit_volts"`
	// LowWatts to HighWatts is at what ratings bodies of this size are sold.
	LowWatts  float64 `json:"low_watts"`
	HighWatts float64 `json:"high_watts"`
	// leastLength and leastDiameter, in mm, are the smallest body of the
	// size.
	leastLength, leastDiameter float64
}

// bodySizes are the usual type sizes, small to large. Limiting element
// voltages and ratings from memory of data sheets of carbon and metal films;
// dimensions from memory, with room for measuring.
var bodySizes = []BodySize{
	{"0204", 150, 0.125, 0.4, 3.0, 1.4},
	{"0207", 250, 0.25, 0.6, 5.5, 2.0},
	{"0411", 350, 0.5, 1, 8.5, 3.0},
	{"0414", 500, 0.5, 1, 11.3, 3.6},
	{"0617", 500, 1, 2, 14.5, 5.2},
}

// BodySizes returns the type sizes, small to large.
func BodySizes() []BodySize { return slices.Clone(bodySizes) }

// asksForLimit reports whether a voltage is more than the smallest bodies bear, so
// that a part's limiting element voltage has to be known.
func asksForLimit(volts float64) bool { return volts > bodySizes[0].LimitVolts }

// SizeNamed returns the type size of that name, such as "0207".
func SizeNamed(name string) (BodySize, error) {
	for _, s := range bodySizes {
		if s.Name == name {
			return s, nil
		}
	}
	return BodySize{}, fmt.Errorf("%q is no type size: use one of 0204, 0207, 0411, 0414, 0617", name)
}

// SizeOfBody returns the type size of a body by its length and diameter in
// millimetres, either 0 if not measured, leads and their caps of paint left
// out. Between two sizes it takes the smaller, which bears less: what comes of
// it is an estimate only. It returns an error for bodies that are smaller than
// any, far larger than all, or no body.
func SizeOfBody(lengthMM, diameterMM float64) (BodySize, error) {
	if !isAmountOrNone(lengthMM) || !isAmountOrNone(diameterMM) || lengthMM == 0 && diameterMM == 0 {
		return BodySize{}, fmt.Errorf("a body is measured in mm, above zero: give its length, its diameter, or both")
	}
	length, diameter := lengthMM, diameterMM
	if length == 0 {
		length = math.Inf(1)
	}
	if diameter == 0 {
		diameter = math.Inf(1)
	}
	last := len(bodySizes) - 1
	if lengthMM > 2*bodySizes[last].leastLength || diameterMM > 2*bodySizes[last].leastDiameter {
		return BodySize{}, fmt.Errorf("a body of %s is larger than the type sizes known here: look for its rating on the part", bodyText(lengthMM, diameterMM))
	}
	for i := last; i >= 0; i-- {
		if length >= bodySizes[i].leastLength && diameter >= bodySizes[i].leastDiameter {
			return bodySizes[i], nil
		}
	}
	return BodySize{}, fmt.Errorf("a body of %s is smaller than the type sizes known here: do not count on more than 1/8 W", bodyText(lengthMM, diameterMM))
}

func bodyText(length, diameter float64) string {
	switch {
	case diameter == 0:
		return fmt.Sprintf("%g mm length", length)
	case length == 0:
		return fmt.Sprintf("%g mm diameter", diameter)
	}
	return fmt.Sprintf("%g mm × %g mm", length, diameter)
}
