package vision

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPacks(t *testing.T) {
	// Three bodies of 60 by 20, one above the other.
	b := box{x: 100, y: 80, half: 30, rise: 30}
	ways := packs(b)
	var numbers []int
	for _, pack := range ways {
		numbers = append(numbers, len(pack))
		area := 0.0
		for _, f := range pack {
			aspect := f.half / f.rise
			assert.True(t, aspect >= stubbiest && aspect <= slimmest)
			area += f.half * f.rise
		}
		assert.InDelta(t, b.half*b.rise, area, 1e-9, "the slices fill the box")
	}
	assert.Equal(t, []int{2, 3, 2, 3}, numbers, "along the axis and across it")

	three := ways[1]
	for i, y := range []float64{60, 80, 100} {
		assert.InDelta(t, 100, three[i].x, 1e-9)
		assert.InDelta(t, y, three[i].y, 1e-9)
		assert.Equal(t, 10.0, three[i].rise)
	}
	across := ways[3]
	assert.InDelta(t, math.Pi/2, across[0].angle, 1e-9)
	assert.InDelta(t, 120, across[0].x, 1e-9)
	assert.InDelta(t, 80, across[0].y, 1e-9)
}
