package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringwise/vision/columns"

	"github.com/stretchr/testify/assert"
)

// striped is a strip of dark and light stripes, each so many columns wide.
func striped(columnsWide int) *columns.Strip {
	s := &columns.Strip{Detail: 1}
	for r := range s.Pixels {
		for c := range s.Pixels[r] {
			for k := range 3 {
				s.Pixels[r][c][k] = 60 + 120*float32(c/columnsWide%2)
			}
		}
	}
	return s
}

func contrast(s *columns.Strip) float64 {
	sum, squares, n := 0.0, 0.0, 0.0
	for r := range s.Pixels {
		for c := 20; c < columns.Columns-20; c++ {
			v := float64(s.Pixels[r][c][0])
			sum, squares, n = sum+v, squares+v*v, n+1
		}
	}
	return math.Sqrt(squares/n - sum/n*sum/n)
}

// TestCoarsen checks that stripes much wider than a photo pixel stay and those
// narrower than half of one fade away, as sampling has it (Nyquist).
func TestCoarsen(t *testing.T) {
	chance := rand.New(rand.NewPCG(7, 7))
	for range 20 {
		wide, narrow := striped(16), striped(1)
		coarsen(wide, 0.5, chance)
		coarsen(narrow, 0.4, chance)
		assert.Greater(t, contrast(wide), 0.6*contrast(striped(16)))
		assert.Less(t, contrast(narrow), 0.2*contrast(striped(1)))
		assert.Equal(t, 0.5, wide.Detail)
	}
}

// TestRodCrosses checks that a rod covers a part of a strip, and that it is told where
// it lies over the body and nowhere else. A shadow covers nothing.
func TestRodCrosses(t *testing.T) {
	chance := rand.New(rand.NewPCG(8, 8))
	covered, shadows := 0, 0
	for range 200 {
		s := striped(columns.Columns)
		truth := &drawn().target
		rod := newRod(chance)
		if !rod.aside {
			rod.dark = 0 // what it changes is what it covers
		}
		rod.cross(s, truth)
		changed := 0
		for c := range columns.Columns {
			over, deep, all := 0, 0, 0
			for r := range s.Pixels {
				off := s.Pixels[r][c][1] != 60
				if off {
					changed++
				}
				if at := 2*(float32(r)+0.5)/columns.Rows - 1; at > truth.edges[c][0] && at < truth.edges[c][1] {
					all++
					if off {
						over++
					}
					d := (rod.a*(float64(c)-columns.Columns/2) + rod.b*(float64(r)-columns.Rows/2) - rod.offset) / rod.half
					if math.Abs(d) < 0.4 {
						deep++
					}
				}
			}
			if rod.aside || 5*over < all {
				assert.Zero(t, truth.over[c])
			}
			if !rod.aside && rod.half > 2 && 3*deep > all {
				assert.Equal(t, float32(1), truth.over[c])
				covered++
			}
		}
		if rod.aside {
			shadows++
		}
		assert.Less(t, changed, columns.Rows*columns.Columns*2/3)
	}
	assert.Positive(t, covered)
	assert.Positive(t, shadows)
}
