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
//     and of less than 100 mH.
//   - Tubular capacitors have five rings on bodies of many colours, the first,
//     for the temperature coefficient, broader than the others, and are mostly
//     made to 5 % or coarser. They may have been read from the other end.
//   - Diodes with rings have a broad first ring, and so have wire-wound resistors,
//     which are no stand-in for others.
//   - Resistors of four rings are mostly tan or brown, those of five or six
//     blue, green or grey, with a tolerance that chokes do not have.
//   - Six rings are on resistors alone.
func (s Sighting) mayBeOther(c Candidate) bool {
	n := len(c.Rings)
	if n < 4 || n > 5 {
		return false
	}
	fine := finelyMade(c.Rings[n-1])
	stubby := s.Slenderness > 0 && s.Slenderness < leastSlender
	switch {
	case n == 5 && s.Body != BodyBlue && s.Body != BodyGreen && s.Body != BodyGrey:
		return !fine || c.broadFirst(s) || c.broadLast(s)
	case c.broadFirst(s):
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

// broadEnd is how many times as broad as the rings between them a ring at an end
// may be and not look broad: half way, by ratio, from as broad to nearly twice so.
const broadEnd = 1.35

// broadFirst tells whether the first ring that is read is plainly broader than those
// between the first and the last.
func (c Candidate) broadFirst(s Sighting) bool { return c.broad(s, 0) }

// broadLast tells so of the last.
func (c Candidate) broadLast(s Sighting) bool { return c.broad(s, len(c.Order)-1) }

func (c Candidate) broad(s Sighting, ring int) bool {
	width := func(i int) float64 { return s.Cuts[c.Cut].Rings[c.Order[i]].Width }
	var between []float64
	for i := 1; i < len(c.Order)-1; i++ {
		between = append(between, width(i))
	}
	slices.Sort(between)
	return width(ring) > broadEnd*between[len(between)/2]
}
