package vision

import (
	"math"

	"ringwise/decode"
)

// A paint is what one ring colour looks like in a photo that is well exposed
// and whose white is white: a mean tint and the spread of each part about it.
type paint struct {
	mean, spread tint
}

// paints are the ring colours as photos show them. The spreads cover makers'
// paints, varnish, fading and what is left of the light.
var paints = [decode.ColourCount]paint{
	decode.Black:  {tint{17, 1, 1}, tint{8, 4, 5}},
	decode.Brown:  {tint{31, 15, 15}, tint{8, 6, 7}},
	decode.Red:    {tint{40, 46, 28}, tint{8, 10, 9}},
	decode.Orange: {tint{57, 42, 48}, tint{9, 10, 11}},
	decode.Yellow: {tint{77, 3, 62}, tint{9, 8, 14}},
	decode.Green:  {tint{41, -29, 12}, tint{10, 11, 10}},
	decode.Blue:   {tint{34, 8, -40}, tint{10, 10, 12}},
	decode.Violet: {tint{36, 24, -24}, tint{10, 9, 10}},
	decode.Grey:   {tint{55, 0, 0}, tint{10, 4, 5}},
	decode.White:  {tint{86, 0, 3}, tint{8, 4, 6}},
	decode.Gold:   {tint{50, 7, 29}, tint{13, 6, 10}},
	decode.Silver: {tint{68, 0, 2}, tint{12, 3, 5}},
	decode.Pink:   {tint{70, 28, 3}, tint{9, 9, 8}},
}

// tailDegrees are the degrees of freedom of the t distribution that the
// likelihoods follow: fewer give heavier tails.
const tailDegrees = 7

// logLikelihood is the logarithm of the density of seeing a tint on a ring of
// this paint. further widens the paint's own spread, in Lab units.
func (p paint) logLikelihood(seen tint, further float64) float64 {
	d := seen.minus(p.mean)
	l := math.Hypot(p.spread.l, further)
	a := math.Hypot(p.spread.a, further)
	b := math.Hypot(p.spread.b, further)
	m := d.l*d.l/(l*l) + d.a*d.a/(a*a) + d.b*d.b/(b*b)
	return usualDensity - math.Log(l*a*b) - 0.5*(tailDegrees+3)*math.Log1p(m/tailDegrees)
}

// usualDensity makes the likelihood of a ring that is what it looks like about
// one, so that cuts with more rings and with fewer can be weighed against each
// other.
const usualDensity = 8
