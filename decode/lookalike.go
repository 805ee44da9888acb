package decode

import "slices"

// How long a body is for its width. Moulded chokes are 1.5 to 2.5 times as long
// as thick, resistors mostly 2.3 to 3.5 times; the width seen in a photo never
// comes out smaller for the view. Common practice, no source.
const (
	leastSlender = 2.3 // below it a body may be a choke
	surelySlim   = 2.5 // from it on a body is none
)

// mayBeOther tells whether a body with the candidate's rings could as well be
// another part that wears rings legal here. Common practice, no source:
//
//   - Moulded chokes have two digits, a multiplier and a tolerance, sometimes a
//     broad silver ring before them, and are mostly green; but so are many
//     resistors, and it is the shape that tells. They are made to 5 % or coarser,
//     without a fourth ring to 20 %, and of less than 100 mH.
//   - Tubular capacitors have five rings on bodies of many colours, the first,
//     for the temperature coefficient, broader than the others, and are mostly
//     made to 5 % or coarser. They may have been read from the other end.
//   - Diodes with rings have a broad first ring, and so have wire-wound resistors,
//     which are no stand-in for others.
//   - Resistors of four rings are mostly tan or brown, those of five or six
//     blue, green or grey, with a tolerance that chokes do not have.
//   - Six rings are on resistors alone.
//   - Parts coded by body, tip and dot have both ends painted, and no body beyond.
//   - The track of a photoresistor looks like five rings or more of one colour.
func (s Sighting) mayBeOther(c Candidate) bool {
	n := len(c.Rings)
	switch {
	case n < 3:
		return false
	case c.tipped(s) || n > 4 && c.ofOneColour():
		return true
	case n > 5:
		return false
	}
	fine := n > 3 && finelyMade(c.Rings[n-1])
	stubby := s.Slenderness > 0 && s.Slenderness < leastSlender
	switch {
	case n == 5 && s.Body != BodyBlue && s.Body != BodyGreen && s.Body != BodyGrey:
		return !fine || c.broad(s, 0, hardlyBroad) || c.broad(s, n-1, hardlyBroad) || c.atTheEnd(s)
	case c.broad(s, 0, broadEnd):
		return true
	case n == 5:
		return stubby && !fine
	case fine || aboveChokes(c.Rings[2]):
		return false
	case s.Body == BodyTan || s.Body == BodyDark:
		return stubby
	}
	return s.Slenderness < surelySlim
}

// finelyMade tells whether a ring is a tolerance of 2 % or closer.
func finelyMade(tolerance Colour) bool {
	switch tolerance {
	case Brown, Red, Green, Blue, Violet:
		return true
	}
	return false
}

// aboveChokes tells whether two digits and a multiplier would, in microhenries,
// be 100 mH or more, which is more than moulded chokes have.
func aboveChokes(multiplier Colour) bool { return multiplier >= Yellow && multiplier <= White }

// How many times as broad as the rings between them a ring at an end may be and not
// look broad: half way, by ratio, from as broad to nearly twice so, and where a broad
// one is usual, less.
const (
	broadEnd    = 1.35
	hardlyBroad = 1.2
)

// broad tells whether a ring, by its place in the reading, is that many times as
// broad as those between the first and the last are.
func (c Candidate) broad(s Sighting, ring int, times float64) bool {
	var between []float64
	for _, i := range c.Order[1 : len(c.Order)-1] {
		between = append(between, s.Cuts[c.Cut].Rings[i].Width)
	}
	slices.Sort(between)
	return s.Cuts[c.Cut].Rings[c.Order[ring]].Width > times*between[len(between)/2]
}

// atTheEnd tells whether hardly any body is seen beyond one of the outermost rings, so
// that how broad it is cannot be told.
func (c Candidate) atTheEnd(s Sighting) bool {
	left, right := c.beyond(s)
	return min(left, right) < hardlyAny
}

// tipped tells whether hardly any body is seen beyond either of them, and less of it
// than of paint on the whole.
func (c Candidate) tipped(s Sighting) bool {
	left, right := c.beyond(s)
	paint := 0.0
	for _, r := range s.Cuts[c.Cut].Rings {
		paint += r.Width
	}
	return max(left, right) < hardlyAny && paint > mostPaint
}

// mostPaint is the share of a body that rings cover at most where they reach both its
// ends: half, and some more for being seen too broad. Common practice, no source.
const mostPaint = 0.55

// hardlyAny is a share of the body's length.
const hardlyAny = 0.04

// beyond is how much of the body is seen beyond its outermost rings, as shares of its
// length.
func (c Candidate) beyond(s Sighting) (left, right float64) {
	rings := s.Cuts[c.Cut].Rings
	first, last := rings[0], rings[len(rings)-1]
	return first.Centre - first.Width/2, 1 - last.Centre - last.Width/2
}

// ofOneColour tells whether all rings have one colour.
func (c Candidate) ofOneColour() bool { return len(slices.Compact(slices.Clone(c.Rings))) == 1 }
