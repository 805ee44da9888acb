package main

import (
	"math/rand/v2"

	"ringwise/decode"
	"ringwise/vision/columns"
)

// thin draws how much of the body shows through the rings, by column: through none, in
// most examples. Metallic paint on tan hardly stands out in many a photo.
func (e *example) thin(chance *rand.Rand) *[columns.Columns]float32 {
	out := new([columns.Columns]float32)
	metal, other := 0.0, 0.0
	if chance.Float64() < 0.3 {
		metal = 0.7 * chance.Float64()
	}
	if chance.Float64() < 0.05 {
		other = 0.5 * chance.Float64()
	}
	for _, ring := range e.rings() {
		much := other
		if metallic(decode.Colour(ring.class - columns.Ring)) {
			much = metal
		}
		for c := ring.start; c < ring.end; c++ {
			out[c] = float32(much)
		}
	}
	return out
}

// bare lets the body show through a ring, as it looks on either side of it.
func (e *example) bare(ring stretch, thin *[columns.Columns]float32, out *[columns.Columns]*[columns.Rows][3]uint8) {
	if thin[ring.start] == 0 {
		return
	}
	const reach = 6 // columns, in which there is bare body or else the ring is left
	var beside []int
	for i := 1; i <= reach; i++ {
		for _, c := range [2]int{ring.start - i, ring.end - 1 + i} {
			if c >= 0 && c < columns.Columns && e.target.shares[c][columns.Body] == 1 && len(beside) < 4 {
				beside = append(beside, c)
			}
		}
	}
	if len(beside) == 0 {
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
	for c := ring.start; c < ring.end; c++ {
		share := thin[c] * e.target.shares[c][ring.class]
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
