package main

import (
	"math"
	"math/rand/v2"
)

// A row shows copies of one body of a photo side by side, as bodies lie that are
// sorted or swept together.
type row struct {
	of     body
	step   float64 // from one axis to the next, in pixels
	copies int     // on one side of the body, the way of across
	turned bool    // whether every other copy lies the other way round
}

// newRow draws a row of one of some bodies.
func newRow(bodies []body, chance *rand.Rand) *row {
	of := bodies[chance.IntN(len(bodies))]
	if chance.Float64() < 0.5 { // to the other side
		of.ux, of.uy = -of.ux, -of.uy
	}
	return &row{of, 2 * of.rise * (1 + 0.35*chance.Float64()*chance.Float64()), 1 + chance.IntN(4), chance.Float64() < 0.5}
}

// from is where in the photo a place of the row comes from.
func (r *row) from(x, y float64) (float64, float64) {
	dx, dy := x-r.of.x, y-r.of.y
	along, across := dx*r.of.ux+dy*r.of.uy, dy*r.of.ux-dx*r.of.uy
	n := math.Round(across / r.step)
	if n < 1 || n > float64(r.copies) || math.Abs(along) > 1.02*r.of.half || math.Abs(across-n*r.step) > 1.03*r.of.rise {
		return x, y
	}
	across -= n * r.step
	if r.turned && int(n)%2 == 1 {
		along = -along
	}
	return r.of.x + along*r.of.ux - across*r.of.uy, r.of.y + along*r.of.uy + across*r.of.ux
}

// bodies are a photo's bodies with the row's, less those that it covers.
func (r *row) bodies(all []body) []body {
	var out []body
	for _, b := range all {
		if x, y := r.from(b.x, b.y); x == b.x && y == b.y {
			out = append(out, b)
		}
	}
	for n := 1; n <= r.copies; n++ {
		b := r.of
		b.x -= float64(n) * r.step * b.uy
		b.y += float64(n) * r.step * b.ux
		out = append(out, b)
	}
	return out
}
