package main

import (
	"math/rand/v2"
	"slices"

	"ringwise/vision/columns"
)

// thin draws how much of the body shows through the rings, by column: through none, in
// most examples. Metallic paint on tan hardly stands out in many a photo. Where all of it
// shows, a ring is narrower than it was.
func (e *example) thin(chance *rand.Rand) *[columns.Columns]float32 {
	out := new([columns.Columns]float32)
	metal, other := 0.0, 0.0
	if chance.Float64() < 0.3 {
		metal = 0.7 * chance.Float64()
	}
	if chance.Float64() < 0.05 {
		other = 0.5 * chance.Float64()
	}
	narrow := 1.0
	if chance.Float64() < 0.25 {
		narrow = 0.4 + 0.5*chance.Float64()
	}
	for _, ring := range e.target.rings() {
		much := other
		if metallic(ring.class) {
			much = metal
		}
		for c := ring.start; c < ring.end; c++ {
			out[c] = float32(much)
		}
		side := int(float64(ring.end-ring.start) * (1 - narrow) / 2)
		if side == 0 || len(e.beside(ring)) == 0 {
			continue
		}
		for i := -smeared; i < side; i++ {
			for _, c := range [2]int{ring.start + i, ring.end - 1 - i} {
				if i >= 0 || e.isBare(c) {
					out[c] = 1
				}
			}
		}
	}
	return out
}

// smeared is how many columns beside a ring may show some of it.
const smeared = 2

// isBare tells whether a column shows bare body.
func (e *example) isBare(column int) bool {
	return column >= 0 && column < columns.Columns && e.target.shares[column][columns.Body] == 1
}

// beside are columns of bare body near a ring, if there are any.
func (e *example) beside(ring stretch) (out []int) {
	const reach, most = 6, 4 // columns
	for i := 1 + smeared; i <= smeared+reach; i++ {
		for _, c := range [2]int{ring.start - i, ring.end - 1 + i} {
			if e.isBare(c) && len(out) < most {
				out = append(out, c)
			}
		}
	}
	return out
}

// bare lets the body show through a ring, as it looks on either side of it. Where no
// bare body is near, the ring is left.
func (e *example) bare(ring stretch, thin *[columns.Columns]float32, out *[columns.Columns]*[columns.Rows][3]uint8) {
	beside := e.beside(ring)
	if len(beside) == 0 || slices.Max(thin[ring.start:ring.end]) == 0 {
		return
	}
	var body [columns.Rows][3]float32
	for r := range body {
		for _, b := range beside {
			for k, v := range e.pixels[r][b] {
				body[r][k] += float32(v) / float32(len(beside))
			}
		}
	}
	for c := max(0, ring.start-smeared); c < min(columns.Columns, ring.end+smeared); c++ {
		share := thin[c]
		if share < 1 {
			share *= e.target.shares[c][ring.class]
		}
		if share == 0 {
			continue
		}
		shown := new([columns.Rows][3]uint8)
		for r := range shown {
			p := e.pixels[r][c]
			if out[c] != nil {
				p = out[c][r]
			}
			for k, v := range p {
				shown[r][k] = uint8(float32(v) + share*(body[r][k]-float32(v)) + 0.5)
			}
		}
		out[c] = shown
	}
}
