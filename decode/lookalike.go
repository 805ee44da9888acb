package decode

// How long a body is for its width. Moulded chokes are 1.5 to 2.5 times as long
// as thick, resistors mostly 2.3 to 3.5 times; the width seen in a photo never
// comes out smaller for the view. Common practice, no source.
const (
	leastSlender = 2.3 // below it a body may be a choke
	surelySlim   = 2.8 // from it on a body is none
)

// mayBeOther tells whether a body with these rings could as well be another
// part that wears rings legal here. Common practice, no source:
//
//   - Moulded chokes have two digits, a multiplier and a tolerance, sometimes a
//     broad silver ring before them, and are mostly green; but so are many
//     resistors, and it is the shape that tells.
//   - Tubular capacitors have five rings on bodies of many colours.
//   - Resistors of four rings are mostly tan or brown, those of five or six
//     blue, green or grey, with a tolerance that chokes do not have.
//   - Six rings are on resistors alone.
func (s Sighting) mayBeOther(rings []Colour) bool {
	stubby := s.Slenderness > 0 && s.Slenderness < leastSlender
	switch {
	case len(rings) < 4 || len(rings) > 5:
		return false
	case len(rings) == 5 && s.Body != BodyBlue && s.Body != BodyGreen && s.Body != BodyGrey:
		return true
	case len(rings) == 5:
		return stubby && !finelyMade(rings[4])
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
