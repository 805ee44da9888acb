package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestRow checks that the copies of a row show the body, and that what they cover
// is no body any more.
func TestRow(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 1))
	for range 50 {
		s, c := math.Sincos(2 * math.Pi * chance.Float64())
		first := body{x: 300, y: 200, ux: c, uy: s, half: 50, rise: 16}
		r := newRow([]body{first}, chance)
		far := body{x: 300 + 200*c, y: 200 + 200*s, ux: c, uy: s, half: 50, rise: 16}
		covered := first
		covered.x, covered.y = first.x-r.step*r.of.uy+3*c, first.y+r.step*r.of.ux+3*s
		all := r.bodies([]body{first, far, covered})
		require.Len(t, all, 2+r.copies)
		assert.Equal(t, []body{first, far}, all[:2])
		for _, b := range all[2:] {
			x, y := r.from(b.x, b.y)
			assert.InDelta(t, first.x, x, 1e-9)
			assert.InDelta(t, first.y, y, 1e-9)
			end := 0.9 * b.half
			x, y = r.from(b.x+end*b.ux, b.y+end*b.uy)
			assert.InDelta(t, end, math.Hypot(x-first.x, y-first.y), 1e-9, "an end shows an end")
		}
	}
}
