package decode

import (
	"errors"
	"strings"
)

// ParseRow reads a row of ring colours, by names or by letters of IEC 60757,
// parted by spaces, commas, semicolons, dashes or slashes: "GN BU RD GD",
// "green-blue-red-gold". It does not ask whether the row means anything;
// Readings does. The error names the word that is no colour.
func ParseRow(text string) ([]Colour, error) {
	var rings []Colour
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;-/", plainSpace(r)) }) {
		colour, err := ParseColour(word)
		if err != nil {
			return nil, err
		}
		rings = append(rings, colour)
	}
	if len(rings) == 0 {
		return nil, errors.New("name the colours of the rings, such as GN BU RD GD")
	}
	return rings, nil
}
