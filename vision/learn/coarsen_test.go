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

// TestRodCrosses checks that a rod covers a small part of a strip.
func TestRodCrosses(t *testing.T) {
	chance := rand.New(rand.NewPCG(8, 8))
	for range 50 {
		s := striped(columns.Columns)
		newRod(chance).cross(s)
		changed := 0
		for r := range s.Pixels {
			for c := range s.Pixels[r] {
				if s.Pixels[r][c][1] != 60 {
					changed++
				}
			}
		}
		assert.Less(t, changed, columns.Rows*columns.Columns/3)
	}
}
