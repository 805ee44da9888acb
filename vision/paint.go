package vision

import (
	"math"

	"ringwise/decode"
)

// A paint is what one ring colour looks like in a photo that is well exposed
// and whose white is white: a mean tint and the spread of each part about it.
type paint struct {
	mean, spread spot
}

// paints are the ring colours as photos show them. The spreads cover makers'
// paints, varnish, fading and what is left of the light.
var paints = [decode.ColourCount]paint{
	decode.Black:  {spot{tint{25, 0, 2}, 25}, spot{tint{7, 2.5, 4.5}, 13}},
	decode.Brown:  {spot{tint{34, 11, 11}, 22}, spot{tint{6, 4.5, 6}, 10}},
	decode.Red:    {spot{tint{42, 41, 23}, 19}, spot{tint{6.5, 8, 7}, 10}},
	decode.Orange: {spot{tint{55, 35, 41}, 20}, spot{tint{7, 9, 9}, 9}},
	decode.Yellow: {spot{tint{74, -1, 58}, 24}, spot{tint{9, 7, 12}, 13}},
	decode.Green:  {spot{tint{45, -22, 16}, 19}, spot{tint{9, 8, 7}, 8}},
	decode.Blue:   {spot{tint{38, 9, -32}, 23}, spot{tint{9, 7, 10}, 12}},
	decode.Violet: {spot{tint{38, 23, -20}, 17}, spot{tint{7, 8, 12}, 11}},
	decode.Grey:   {spot{tint{52, 0, 4}, 18}, spot{tint{8, 2.5, 6}, 10}},
	decode.White:  {spot{tint{84, 0, 5}, 22}, spot{tint{8, 2.5, 5}, 16}},
	decode.Gold:   {spot{tint{54, 5, 27}, 36}, spot{tint{9, 4.5, 7}, 14}},
	decode.Silver: {spot{tint{67, 1, 5}, 36}, spot{tint{11, 2.5, 5}, 17}},
	decode.Pink:   {spot{tint{70, 28, 3}, 20}, spot{tint{9, 9, 8}, 10}},
}

// tailDegrees are the degrees of freedom of the t distribution that the
// likelihoods follow: fewer give heavier tails.
const tailDegrees = 7

// measuring is the spread that measuring a tint adds to a paint's own, in Lab
// units.
const measuring = 1.5

// A density is a paint's spread made ready for use: what a step of one unit in
// each direction weighs, and the logarithm of the density at the mean.
type density struct {
	l, a, b, sheen float64
	top            float64
}

var densities = func() (out [decode.ColourCount]density) {
	for c, p := range paints {
		l := math.Hypot(p.spread.l, measuring)
		a := math.Hypot(p.spread.a, measuring)
		b := math.Hypot(p.spread.b, measuring)
		out[c] = density{
			1 / (l * l), 1 / (a * a), 1 / (b * b), 1 / (p.spread.sheen * p.spread.sheen),
			usualDensity - math.Log(l*a*b) - math.Log(p.spread.sheen/12),
		}
	}
	return out
}()

// logLikelihood is the logarithm of the density of seeing a spot on a ring of
// the given colour.
func logLikelihood(colour decode.Colour, seen spot) float64 {
	d, p := seen.minus(paints[colour].mean), &densities[colour]
	m := d.l*d.l*p.l + d.a*d.a*p.a + d.b*d.b*p.b
	shine := d.sheen * d.sheen * p.sheen
	return p.top - 0.5*(tailDegrees+3)*math.Log1p(m/tailDegrees) - 2.5*math.Log1p(shine/4)
}

// usualDensity makes the likelihood of a ring that is what it looks like about
// one, so that cuts with more rings and with fewer can be weighed against each
// other.
const usualDensity = 8
