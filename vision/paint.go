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
	decode.Black:  {spot{tint{26, 0, 2}, 24}, spot{tint{5.9, 2.1, 4.9}, 12}},
	decode.Brown:  {spot{tint{34, 9, 10}, 22}, spot{tint{4.6, 4.0, 3.6}, 10}},
	decode.Red:    {spot{tint{42, 37, 21}, 20}, spot{tint{3.7, 7.3, 4.0}, 10}},
	decode.Orange: {spot{tint{52, 28, 33}, 22}, spot{tint{3.9, 7.1, 5.5}, 10}},
	decode.Yellow: {spot{tint{72, -2, 52}, 23}, spot{tint{5.8, 5.4, 6.7}, 13}},
	decode.Green:  {spot{tint{44, -20, 15}, 20}, spot{tint{6.6, 5.7, 6.9}, 9}},
	decode.Blue:   {spot{tint{37, 7, -26}, 23}, spot{tint{7.8, 6.0, 7.2}, 11}},
	decode.Violet: {spot{tint{39, 20, -15}, 19}, spot{tint{5.1, 8.0, 9.0}, 11}},
	decode.Grey:   {spot{tint{50, 0, 4}, 18}, spot{tint{8.1, 2.0, 4.1}, 12}},
	decode.White:  {spot{tint{79, 0, 5}, 26}, spot{tint{6.5, 2.0, 3.5}, 18}},
	decode.Gold:   {spot{tint{50, 5, 24}, 26}, spot{tint{9.8, 3.1, 6.6}, 13}},
	decode.Silver: {spot{tint{65, 1, 4}, 30}, spot{tint{8.5, 2.0, 4.0}, 17}},
	decode.Pink:   {spot{tint{68, 25, 3}, 20}, spot{tint{7.0, 7.0, 7.0}, 10}},
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

func (p paint) density() density {
	l := math.Hypot(p.spread.l, measuring)
	a := math.Hypot(p.spread.a, measuring)
	b := math.Hypot(p.spread.b, measuring)
	return density{
		1 / (l * l), 1 / (a * a), 1 / (b * b), 1 / (p.spread.sheen * p.spread.sheen),
		usualDensity - math.Log(l*a*b) - math.Log(p.spread.sheen/12),
	}
}

// A palette is a paint for each colour, made ready for use.
type palette struct {
	means     [decode.ColourCount]spot
	densities [decode.ColourCount]density
}

func newPalette(paints [decode.ColourCount]paint) *palette {
	out := new(palette)
	for c, p := range paints {
		out.means[c], out.densities[c] = p.mean, p.density()
	}
	return out
}

// tintLikelihoods and sheenLikelihoods are the logarithms of the density of seeing a
// tint, and some sheen, on a ring of each colour; that of seeing both is their sum.
func (p *palette) tintLikelihoods(seen tint) (out [decode.ColourCount]float64) {
	for c := range out {
		d, p := seen.minus(p.means[c].tint), &p.densities[c]
		m := d.l*d.l*p.l + d.a*d.a*p.a + d.b*d.b*p.b
		out[c] = p.top - 0.5*(tailDegrees+3)*math.Log(1+m/tailDegrees)
	}
	return out
}

func (p *palette) sheenLikelihoods(sheen float64) (out [decode.ColourCount]float64) {
	for c := range out {
		d := sheen - p.means[c].sheen
		out[c] = -2.5 * math.Log(1+d*d*p.densities[c].sheen/4)
	}
	return out
}

// usualDensity makes the likelihood of a ring that is what it looks like about
// one, so that cuts with more rings and with fewer can be weighed against each
// other.
const usualDensity = 9
