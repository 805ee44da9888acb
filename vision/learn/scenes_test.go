package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringwise/vision/bodies"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawnScene is a window of random colours with bodies in it, one of them partly
// beyond the window.
func drawnScene(chance *rand.Rand) *scene {
	s := &scene{lab: make([]float32, 3*window*window)}
	for i := range s.lab {
		s.lab[i] = float32(chance.NormFloat64())
	}
	for _, b := range []body{{x: 60, y: 90, half: 40, rise: 15}, {x: 200, y: 128, half: 20, rise: 8}, {x: 250, y: 30, half: 30, rise: 11},
		{x: 80, y: 190, half: 22, rise: 10, bare: true}, {x: 150, y: 60, half: 25, rise: 25, bare: true, round: true}} {
		b.uy, b.ux = math.Sincos(2 * math.Pi * chance.Float64())
		s.bodies = append(s.bodies, b)
	}
	return s
}

// TestSlopesOfScenes checks the slopes of the loss against differences: the
// definition of a derivative.
func TestSlopesOfScenes(t *testing.T) {
	chance := rand.New(rand.NewPCG(7, 7))
	n, slope := bodies.New(chance), bodies.New(nil)
	s := drawnScene(chance)
	spotFrom(new(scratch), n, s, slope)
	loss := func() float64 {
		m := new(scratch)
		l, _ := overlook(m, n, s).loss(m, s)
		return l
	}
	checkSlopes(t, n.Weights(), slope.Weights(), loss)
}

// TestOverlooksAsItLearns checks what OpenCV makes of the network against the way
// through it that learning takes.
func TestOverlooksAsItLearns(t *testing.T) {
	chance := rand.New(rand.NewPCG(8, 8))
	lab := make([]uint8, 3*window*window)
	s := &scene{lab: make([]float32, len(lab))}
	for i := range lab {
		lab[i] = uint8(128 + 30*chance.NormFloat64())
		if i%3 == 0 { // lightness
			s.lab[i] = float32(lab[i])*100/255/50 - 1
		} else {
			s.lab[i] = (float32(lab[i]) - 128) / 40
		}
	}
	n := bodies.Taught()
	v := overlook(new(scratch), n, s)
	seen := bodies.Said(lab, window, window)
	require.Len(t, seen, len(v.said.Data))
	for i, want := range v.said.Data {
		cell, k := i/bodies.Outputs, i%bodies.Outputs
		require.InDelta(t, want, seen[k*v.places()+cell], 5e-3)
	}
}

// TestVariedScene checks that bodies are where their pixels are, however a photo
// is turned, mirrored and scaled.
func TestVariedScene(t *testing.T) {
	const width, height = 300, 200
	paint := [3]uint8{200, 30, 30}
	marked := body{x: 140, y: 90, ux: 0.8, uy: 0.6, half: 40, rise: 14}
	o := outlook{bodies: []body{marked}}
	for i := range o.sizes {
		r := raster{width >> i, height >> i, make([]uint8, 3*(width>>i)*(height>>i))}
		for y := range r.height {
			for x := range r.width {
				dx, dy := float64(x<<i)+0.5*float64(i)-marked.x, float64(y<<i)+0.5*float64(i)-marked.y
				along, across := dx*marked.ux+dy*marked.uy, dy*marked.ux-dx*marked.uy
				if math.Abs(along) < marked.half && math.Abs(across) < marked.rise {
					copy(r.pixels[3*(y*r.width+x):], paint[:])
				}
			}
		}
		o.sizes[i] = r
	}
	chance := rand.New(rand.NewPCG(9, 9))
	for range 30 {
		s := o.vary(chance)
		require.NotEmpty(t, s.bodies)
		for _, b := range s.bodies {
			for _, p := range [][2]float64{{0, 0}, {0.85, 0}, {-0.85, 0}, {0, 0.7}, {0, -0.7}, {1.2, 0}, {0, 1.4}, {0, -1.4}} {
				along, across := p[0]*b.half, p[1]*b.rise
				x, y := int(b.x+along*b.ux-across*b.uy+0.5), int(b.y+along*b.uy+across*b.ux+0.5)
				if x < 0 || y < 0 || x >= window || y >= window || s.lab[3*(y*window+x)] == 0 {
					continue // beyond the window, or beyond the photo
				}
				red := s.lab[3*(y*window+x)+1] > 0.4
				onBody := math.Abs(p[0]) < 1 && math.Abs(p[1]) < 1
				if onBody || len(s.bodies) == 1 { // else another may lie there
					assert.Equal(t, onBody, red, "%v of %+v", p, b)
				}
			}
		}
	}
}
