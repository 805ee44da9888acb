package vision

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Bodies of unlike size that touch side by side stand out from the ground as one.
func TestFindTouching(t *testing.T) {
	for _, c := range []struct {
		lengths      []float64
		angle, along float64 // degrees, and how far every other body is moved along
	}{
		{[]float64{220, 90}, 0, 20},
		{[]float64{220, 90}, 20, 0},
		{[]float64{120, 240, 120}, 0, 0},
		{[]float64{120, 240, 120}, 0, 20},
		{[]float64{120, 240, 120}, 50, 0},
	} {
		turned := drawn{x: 500, y: 300, angle: c.angle}
		var bodies []drawn
		across := 0.0
		for i, length := range c.lengths {
			b := drawn{length: length, angle: c.angle, rings: drawnCodes[i%len(drawnCodes)].rings}
			if i > 0 {
				across += b.width() / 2
			}
			b.x, b.y = turned.at(c.along*float64(1-i%2*2), across)
			across += b.width()/2 - 1
			bodies = append(bodies, b)
		}
		parts, err := Find(t.Context(), photographed(t, scene(1000, 750, bodies...)))
		require.NoError(t, err)
		for i, b := range bodies {
			at := func(p Part) bool { return span(centre(p), Point{b.x, b.y}) < 0.25*b.length }
			assert.True(t, slices.ContainsFunc(parts, at), "body %d of %v at %g degrees", i+1, c.lengths, c.angle)
		}
	}
}

func TestMeets(t *testing.T) {
	b := box{x: 100, y: 100, half: 40, rise: 15}
	beside := box{x: 100, y: 132, half: 40, rise: 15}
	assert.False(t, b.meets(beside))
	assert.True(t, b.grown().meets(beside), "it lies close by")
	assert.False(t, b.grown().meets(box{x: 100, y: 160, half: 40, rise: 15}))
}
