package paper

import (
	"fmt"
	"strings"
)

// A Size is a size of paper, in millimetres.
type Size struct {
	Name          string
	Width, Height float64
}

// A4 is ISO 216; Letter is 8.5 by 11 inches (ANSI/ASME Y14.1).
var (
	A4     = Size{"a4", 210, 297}
	Letter = Size{"letter", 215.9, 279.4}
)

// ParseSizes reads "a4", "letter" or "both".
func ParseSizes(text string) ([]Size, error) {
	switch strings.ToLower(text) {
	case "a4":
		return []Size{A4}, nil
	case "letter":
		return []Size{Letter}, nil
	case "both":
		return []Size{A4, Letter}, nil
	}
	return nil, fmt.Errorf("there is no paper %q: use a4, letter or both", text)
}
