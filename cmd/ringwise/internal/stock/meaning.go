package stock

import (
	"fmt"
	"strings"

	"ringwise/decode"
)

// Meaning writes what a reading says of its part, such as "5.6 kΩ ±5 %".
func Meaning(r decode.Reading) string { return r.Meaning() }

// Title names an entry in a line: its number, how many, and the value.
func (p Part) Title() string {
	return fmt.Sprintf("#%d, %d of %s", p.ID, p.Count, Meaning(p.Reading))
}

// parseLetters reads letters of IEC 60757 parted by spaces, as decode.RowLetters
// writes them.
func parseLetters(text string) ([]decode.Colour, error) {
	var rings []decode.Colour
	for _, word := range strings.Fields(text) {
		c, err := decode.ParseColour(word)
		if err != nil {
			return nil, told{err}
		}
		rings = append(rings, c)
	}
	return rings, nil
}
