package network

import (
	"math"
	"strconv"
)

// FormatFigures writes a number to so many significant figures, without an
// exponent.
func FormatFigures(x float64, figures int) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', figures, 64), 64)
	if err != nil {
		return "no finite number"
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// FormatPercent writes percent to three significant figures.
func FormatPercent(percent float64) string { return FormatFigures(percent, 3) + " %" }

// FormatBounds writes a range that was worked out, with as many figures as show its
// width, four at the least; all of them where both ends are one.
func FormatBounds(low, high Value) string {
	width := high.Ohms.Sub(low.Ohms).InexactFloat64()
	if !(width > 0) {
		return low.String() + " to " + high.String()
	}
	figures := max(4, 3+int32(math.Log10(high.Ohms.InexactFloat64()/width)))
	return low.Rounded(figures).String() + " to " + high.Rounded(figures).String()
}

// FormatOff says in words by how many percent something is off: "5 % too low",
// "exact".
func FormatOff(percent float64) string { return formatOff(percent, 3) }

// FormatOffFrom is FormatOff with as many figures as show that something is farther off
// than a bound of so many percent, where it is: "10.04 % too high" of a bound of 10.
func FormatOffFrom(percent, bound float64) string {
	figures := 3
	for beyond := math.Abs(percent); beyond > bound && figures < 9; figures++ {
		if shown, err := strconv.ParseFloat(FormatFigures(beyond, figures), 64); err != nil || shown > bound {
			break
		}
	}
	return formatOff(percent, figures)
}

func formatOff(percent float64, figures int) string {
	switch {
	case percent > 0:
		return FormatFigures(percent, figures) + " % too high"
	case percent < 0:
		return FormatFigures(-percent, figures) + " % too low"
	}
	return "exact"
}
