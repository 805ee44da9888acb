package main

import (
	"math"
	"math/rand/v2"

	"ringwise/vision/columns"
)

// finish changes the paint of some metallic rings, and now and then of others:
// for the columns of such a ring, what each row shows. Real metallic paint
// glitters little or much, and where it is smooth it mirrors what is around in
// broad light and dark stripes along the body. Where it is thin the body shows.
func (e *example) finish(chance *rand.Rand, thin *[columns.Columns]float32, truth *target) (out [columns.Columns]*[columns.Rows][3]uint8) {
	for _, ring := range truth.rings() {
		even, mirror := 0.1, 0.0
		if metallic(ring.class) {
			even, mirror = 0.4, 0.45
		}
		if ring.end-ring.start > 3 {
			if chance.Float64() < even {
				e.even(ring.start+1, ring.end-1, &out)
			}
			if chance.Float64() < mirror {
				e.mirror(ring.start, ring.end, newGleam(chance), &out)
			}
		}
		if metallic(ring.class) && !metallic(ringClass(&e.target.shares[ring.start])) {
			e.glitter(ring, chance, &out)
		}
	}
	for _, ring := range e.target.rings() {
		e.bare(ring, thin, &out)
	}
	return out
}

// even gives each row of a stretch the mean of its columns.
func (e *example) even(start, end int, out *[columns.Columns]*[columns.Rows][3]uint8) {
	even := new([columns.Rows][3]uint8)
	for r := range even {
		for k := range even[r] {
			sum := 0
			for c := start; c < end; c++ {
				sum += int(e.pixels[r][c][k])
			}
			even[r][k] = uint8(sum / (end - start))
		}
	}
	for c := start; c < end; c++ {
		out[c] = even
	}
}

// mirror lays a gleam over a stretch.
func (e *example) mirror(start, end int, g gleam, out *[columns.Columns]*[columns.Rows][3]uint8) {
	for c := start; c < end; c++ {
		share := float64(1 - e.target.shares[c][columns.Body] - e.target.shares[c][columns.Outside])
		shown := new([columns.Rows][3]uint8)
		for r := range shown {
			p := e.pixels[r][c]
			if out[c] != nil {
				p = out[c][r]
			}
			factor, white := g.at(e.fromAxis(r, c))
			inside := share * float64(e.inside(r, c))
			for k, v := range p {
				v := float64(v)
				lit := math.Min(255, v*factor)
				lit += white * (255 - lit)
				shown[r][k] = uint8(v + inside*(lit-v) + 0.5)
			}
		}
		out[c] = shown
	}
}

// glitter strews the flakes of metallic paint over a ring that had none: a few bright
// ones among many darker ones, of one or more pixels.
func (e *example) glitter(ring stretch, chance *rand.Rand, out *[columns.Columns]*[columns.Rows][3]uint8) {
	much, size := math.Max(0, 0.6*chance.Float64()-0.1), 1+chance.IntN(3)
	var flakes [columns.Rows][columns.Columns]float64
	for r := range flakes {
		for c := range flakes[r] {
			flakes[r][c] = chance.Float64()
		}
	}
	for c := ring.start; c < ring.end; c++ {
		shown := new([columns.Rows][3]uint8)
		for r := range shown {
			p := e.pixels[r][c]
			if out[c] != nil {
				p = out[c][r]
			}
			flake := flakes[r/size][c/size]
			factor := 1 + float64(e.inside(r, c))*much*(2.4*flake*flake*flake-0.6)
			for k, v := range p {
				shown[r][k] = uint8(math.Min(255, float64(v)*factor+0.5))
			}
		}
		out[c] = shown
	}
}

// A gleam is what smooth metal mirrors across a body: waves of light and dark,
// and one glint.
type gleam struct {
	depth, waves, phase  float64
	glint, middle, width float64
}

func newGleam(chance *rand.Rand) gleam {
	return gleam{
		depth: 0.1 + 0.5*chance.Float64(), waves: 1 + 3*chance.Float64(), phase: 2 * math.Pi * chance.Float64(),
		glint: math.Max(0, chance.Float64()-0.3), middle: 1.4 * (chance.Float64() - 0.5), width: 0.08 + 0.3*chance.Float64(),
	}
}

// at is the factor on sRGB values, and the share of white, at a place from -1 to
// 1 across the body.
func (g gleam) at(place float64) (factor, white float64) {
	d := (place - g.middle) / g.width
	return math.Exp(g.depth * math.Cos(g.waves*place+g.phase)), g.glint * math.Exp(-d*d)
}
