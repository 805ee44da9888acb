// Package decode knows the ring code of resistors as the standards give it:
// colours, values, tolerances, the letter-and-digit code and preferred
// numbers. It turns sightings of rings into ranked candidates. It reads no
// files and knows nothing of pictures.
package decode

import (
	"fmt"
	"strings"
)

// Colour is one ring colour of IEC 60062. The ten digit colours come first
// and in the order of their digits, so that Colour(5) is the digit five.
type Colour uint8

// The ring colours. Black to White are the digits 0 to 9.
const (
	Black Colour = iota
	Brown
	Red
	Orange
	Yellow
	Green
	Blue
	Violet
	Grey
	White
	Gold
	Silver
	Pink
)

// ColourCount is the number of ring colours.
const ColourCount = 13

// colourNames holds the English name and the letters of IEC 60757 for each
// colour.
var colourNames = [ColourCount]struct{ name, letters string }{
	{"black", "BK"}, {"brown", "BN"}, {"red", "RD"}, {"orange", "OG"},
	{"yellow", "YE"}, {"green", "GN"}, {"blue", "BU"}, {"violet", "VT"},
	{"grey", "GY"}, {"white", "WH"}, {"gold", "GD"}, {"silver", "SR"},
	{"pink", "PK"},
}

// String returns the colour's English name in lower case.
func (c Colour) String() string {
	if c < ColourCount {
		return colourNames[c].name
	}
	return fmt.Sprintf("colour %d", uint8(c))
}

// Letters returns the colour's two letters of IEC 60757, such as "BN".
func (c Colour) Letters() string {
	if c < ColourCount {
		return colourNames[c].letters
	}
	return "??"
}

// RowLetters returns the letters of IEC 60757 of a row of rings, parted by
// spaces, such as "GN BU RD GD".
func RowLetters(rings []Colour) string {
	words := make([]string, len(rings))
	for i, c := range rings {
		words[i] = c.Letters()
	}
	return strings.Join(words, " ")
}

// ParseColour reads a colour from its English name or its IEC 60757 letters,
// in any case. "gray" is taken for "grey" and "purple" for "violet".
func ParseColour(text string) (Colour, error) {
	word := strings.ToLower(strings.TrimSpace(text))
	switch word {
	case "gray":
		word = "grey"
	case "purple":
		word = "violet"
	}
	for c, n := range colourNames {
		if word == n.name || strings.EqualFold(word, n.letters) {
			return Colour(c), nil
		}
	}
	return 0, fmt.Errorf("%q is no ring colour: use a name such as brown or IEC 60757 letters such as BN", text)
}
