package page

import (
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/score"
	"ringwise/decode"
	"ringwise/vision"
)

// CIELAB of sRGB white, red and blue for D65, from memory of published tables
// of the sRGB primaries: red 53.24, 80.09, 67.20; blue 32.30, 79.19, -107.86.
func TestProfile(t *testing.T) {
	crop := image.NewRGBA(image.Rect(0, 0, 60, 20))
	for x := range 60 {
		for y := range 20 {
			c := color.RGBA{0xff, 0xff, 0xff, 0xff}
			switch {
			case y < 4 || y > 15:
				c = color.RGBA{0, 0, 0, 0xff} // edge and ground, not to be seen
			case x >= 40:
				c = color.RGBA{0, 0, 0xff, 0xff}
			case x >= 20:
				c = color.RGBA{0xff, 0, 0, 0xff}
			}
			crop.SetRGBA(x, y, c)
		}
	}
	p := profile(crop)
	assert.Len(t, p.L, 30)
	for i, want := range map[int][3]float64{0: {100, 0, 0}, 9: {100, 0, 0}, 10: {53.24, 80.09, 67.20}, 29: {32.30, 79.19, -107.86}} {
		assert.InDelta(t, want[0], p.L[i], 0.1, "L* of column %d", i)
		assert.InDelta(t, want[1], p.A[i], 0.1, "a* of column %d", i)
		assert.InDelta(t, want[2], p.B[i], 0.1, "b* of column %d", i)
	}
}

// A crop reaches 0.12 of the body beyond each end.
func TestInCrop(t *testing.T) {
	assert.InDelta(t, 0.12/1.24, inCrop(0), 1e-12)
	assert.InDelta(t, 0.5, inCrop(0.5), 1e-12)
	assert.InDelta(t, 1.12/1.24, inCrop(1), 1e-12)
}

// A body of 100 by 40 about (100, 50), however its corners are told.
func TestTrueBody(t *testing.T) {
	straight := [4]vision.Point{{X: 50, Y: 30}, {X: 150, Y: 30}, {X: 150, Y: 70}, {X: 50, Y: 70}}
	halfRound := [4]vision.Point{straight[2], straight[3], straight[0], straight[1]}
	right, left := 3.0, -178.0
	for _, c := range []struct {
		name    string
		polygon [][2]float64
		axis    *float64
		want    [4]vision.Point
		ok      bool
	}{
		{"no outline", nil, nil, [4]vision.Point{}, false},
		{"a triangle", [][2]float64{{50, 30}, {150, 30}, {150, 70}}, nil, [4]vision.Point{}, false},
		{"no area", [][2]float64{{50, 30}, {150, 30}, {150, 30}, {50, 30}}, nil, [4]vision.Point{}, false},
		{"in order", [][2]float64{{50, 30}, {150, 30}, {150, 70}, {50, 70}}, nil, straight, true},
		{"the other way round", [][2]float64{{50, 70}, {150, 70}, {150, 30}, {50, 30}}, nil, straight, true},
		{"from another corner", [][2]float64{{50, 70}, {50, 30}, {150, 30}, {150, 70}}, nil, straight, true},
		{"first ring on the left", [][2]float64{{150, 70}, {50, 70}, {50, 30}, {150, 30}}, &right, straight, true},
		{"first ring on the right", [][2]float64{{50, 30}, {150, 30}, {150, 70}, {50, 70}}, &left, halfRound, true},
	} {
		got, ok := trueBody(score.Body{Centre: &[2]float64{100, 50}, Length: 100, Polygon: c.polygon, Axis: c.axis})
		assert.Equal(t, c.ok, ok, c.name)
		if ok {
			assert.Equal(t, c.want, got.Outline, c.name)
		}
	}
}

func TestRunsBackwards(t *testing.T) {
	right, left := 20.0, 200.0
	for _, c := range []struct {
		name  string
		axis  *float64
		order []int
		want  bool
	}{
		{"read rightwards", nil, []int{0, 1, 2}, false},
		{"read leftwards", nil, []int{2, 1, 0}, true},
		{"one ring", nil, []int{0}, false},
		{"not read", nil, nil, false},
		{"the axis is known", &left, []int{0, 1, 2}, true},
		{"the axis is known, read against it", &right, []int{2, 1, 0}, false},
	} {
		part := photoread.Part{Part: vision.Part{Outline: [4]vision.Point{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 4}, {X: 0, Y: 4}}}}
		if c.order != nil {
			part.Candidates = []decode.Candidate{{Order: c.order}}
		}
		assert.Equal(t, c.want, runsBackwards(part, score.Body{Axis: c.axis}), c.name)
	}
}
