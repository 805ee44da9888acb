package score

import "ringwise/decode"

// A Confusion counts, for each true ring colour, which colour it was read as.
type Confusion [decode.ColourCount][decode.ColourCount]int

// Confusion compares, ring by ring, the first candidate of every found part
// with the true code, where both have the same number of rings. Of several
// true codes the one that agrees in the most rings is taken.
func (c *Card) Confusion() Confusion {
	var table Confusion
	for _, l := range c.Labelled {
		if len(l.Reported.Candidates) == 0 {
			continue
		}
		rings := l.Reported.Candidates[0].Rings
		best, agree := Bands(nil), -1
		for _, code := range append([]Bands{l.Truth.Bands}, l.Truth.AltBands...) {
			if n := agreement(code, rings); n > agree {
				best, agree = code, n
			}
		}
		for i, colour := range best {
			table[colour][rings[i]]++
		}
	}
	return table
}

// agreement returns in how many places the codes agree, -1 if they differ in
// length.
func agreement(code Bands, rings []decode.Colour) int {
	if len(code) != len(rings) {
		return -1
	}
	n := 0
	for i := range code {
		if code[i] == rings[i] {
			n++
		}
	}
	return n
}
