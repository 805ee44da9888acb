package vision

import (
	"math/rand/v2"
	"testing"

	"ringwise/vision/columns"

	"github.com/stretchr/testify/assert"
)

// banded is a wide strip with a body between two rows, dark rings across it,
// and noisy ground beside it.
func banded(top, bottom int, contrast float32) *columns.Strip {
	chance := rand.New(rand.NewPCG(1, 1))
	s := &columns.Strip{Detail: 1}
	for r := range s.Pixels {
		for c := range s.Pixels[r] {
			v := 210 + 4*float32(chance.NormFloat64())
			if r >= top && r < bottom {
				v = 160 + 4*float32(chance.NormFloat64())
				if c/12%3 == 1 {
					v -= contrast
				}
			}
			s.Pixels[r][c] = [3]float32{v, v, v}
		}
	}
	return s
}

func TestAcross(t *testing.T) {
	for _, c := range []struct{ top, bottom int }{{12, 32}, {4, 40}, {17, 38}, {16, 27}} {
		top, bottom, ok := across(banded(c.top, c.bottom, 90), 15, 113)
		assert.True(t, ok)
		assert.InDelta(t, c.top, top, 1)
		assert.InDelta(t, c.bottom, bottom, 1)
	}
	_, _, ok := across(banded(12, 32, 3), 15, 113)
	assert.False(t, ok, "there are hardly any rings to go by")
}

func TestEvened(t *testing.T) {
	b := box{x: 100, y: 60, half: 40, rise: 16}
	same, beside := evened(banded(12, 32, 90), b, b, 15, 113)
	assert.False(t, beside, "the box fits")
	assert.Equal(t, b, same)

	moved, beside := evened(banded(20, 40, 90), b, b, 15, 113)
	assert.True(t, beside, "the body lies to one side")
	row := 2 * stripAcross * b.rise / stripRows
	assert.InDelta(t, b.y+8*row, moved.y, row)
	assert.InDelta(t, 10*row/patternShare, moved.rise, row)
}
