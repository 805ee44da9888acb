package network

import "strconv"

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

// FormatOff says in words by how many percent something is off: "5 % too low",
// "exact".
func FormatOff(percent float64) string {
	switch {
	case percent > 0:
		return FormatPercent(percent) + " too high"
	case percent < 0:
		return FormatPercent(-percent) + " too low"
	}
	return "exact"
}
