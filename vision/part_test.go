package vision

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Plane geometry: a place in a rectangle is its corner plus shares of two
// sides; a slanted outline keeps its corners and the middles of its sides.
func TestPartAt(t *testing.T) {
	upright := Part{Outline: [4]Point{{10, 20}, {110, 20}, {110, 60}, {10, 60}}}
	s, c := math.Sincos(math.Pi / 6) // 30° clockwise on the screen
	turned := Part{Outline: [4]Point{{0, 0}, {100 * c, 100 * s}, {100*c - 40*s, 100*s + 40*c}, {-40 * s, 40 * c}}}
	backwards := Part{Outline: [4]Point{{110, 60}, {10, 60}, {10, 20}, {110, 20}}}
	slanted := Part{Outline: [4]Point{{0, 0}, {100, 10}, {90, 50}, {10, 40}}}
	for _, w := range []struct {
		name          string
		part          Part
		along, across float64
		want          Point
	}{
		{"left end top", upright, 0, 0, Point{10, 20}},
		{"right end top", upright, 1, 0, Point{110, 20}},
		{"right end bottom", upright, 1, 1, Point{110, 60}},
		{"left end bottom", upright, 0, 1, Point{10, 60}},
		{"middle", upright, 0.5, 0.5, Point{60, 40}},
		{"a quarter along", upright, 0.25, 0.5, Point{35, 40}},
		{"beyond the end", upright, 1.5, 0.5, Point{160, 40}},
		{"turned, middle", turned, 0.5, 0.5, Point{50*c - 20*s, 50*s + 20*c}},
		{"turned, along the axis", turned, 0.2, 0.5, Point{20*c - 20*s, 20*s + 20*c}},
		{"left end on the right", backwards, 0.1, 0.5, Point{100, 40}},
		{"top edge below", backwards, 0.5, 0, Point{60, 60}},
		{"slanted, corner", slanted, 1, 1, Point{90, 50}},
		{"slanted, middle of the top", slanted, 0.5, 0, Point{50, 5}},
		{"slanted, middle of the right end", slanted, 1, 0.5, Point{95, 30}},
	} {
		got := w.part.At(w.along, w.across)
		assert.InDelta(t, w.want.X, got.X, 1e-9, w.name)
		assert.InDelta(t, w.want.Y, got.Y, 1e-9, w.name)
	}
}
