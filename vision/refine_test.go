package vision

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawnPlane is a plane on which a rectangle stands out, with leads as long as
// half of it at its left and right ends if wanted.
func drawnPlane(width, height int, b box, left, right bool) plane {
	p := plane{width, height, make([]uint8, width*height)}
	sin, cos := math.Sincos(b.angle)
	for i := range p.pixels {
		dx, dy := float64(i%width)-b.x, float64(i/width)-b.y
		along, across := dx*cos+dy*sin, dy*cos-dx*sin
		lead := left && along < 0 || right && along > 0
		if math.Abs(along) <= b.half && math.Abs(across) <= b.rise || lead && math.Abs(along) <= 2*b.half && math.Abs(across) <= 2 {
			p.pixels[i] = 255
		}
	}
	return p
}

// From a rough box, the rectangle that was drawn is found: plane geometry.
func TestRefine(t *testing.T) {
	for degrees := 0; degrees <= 170; degrees += 10 {
		for _, c := range []struct{ x, y, turn, half, rise float64 }{
			{0, 0, 0, 1, 1}, {4, -3, 0.12, 0.85, 0.9}, {-5, 4, -0.12, 1.15, 1.1},
		} {
			t.Run(fmt.Sprintf("%d° from %v", degrees, c), func(t *testing.T) {
				want := box{180.3, 160.6, float64(degrees) * math.Pi / 180, 66, 22}
				rough := box{want.x + c.x, want.y + c.y, want.angle + c.turn, want.half * c.half, want.rise * c.rise}
				got, ok := refine(drawnPlane(360, 320, want, true, true), rough)
				require.True(t, ok)
				assert.InDelta(t, 0, math.Hypot(got.x-want.x, got.y-want.y), 1, "centre")
				assert.InDelta(t, 0, math.Sin(got.angle-want.angle), math.Sin(2*math.Pi/180), "angle")
				assert.InEpsilon(t, want.half, got.half, 0.1, "length")
				assert.InEpsilon(t, want.rise, got.rise, 0.1, "width")
				assert.Equal(t, 2, got.leads)
				assert.Greater(t, got.fill, 0.95)
				assert.Less(t, got.wave, 0.03)
			})
		}
	}
}

// A lead counts where one was drawn or where the frame cuts the body off.
func TestRefineLeads(t *testing.T) {
	inside := box{300, 200, 0.5, 66, 22}
	atFrame := box{60, 200, 0, 66, 22}
	for _, c := range []struct {
		name        string
		box         box
		left, right bool
		want        int
	}{
		{"both", inside, true, true, 2}, {"left", inside, true, false, 1},
		{"right", inside, false, true, 1}, {"none", inside, false, false, 0},
		{"one beyond the frame", atFrame, false, true, 2}, {"cut off by the frame", atFrame, false, false, 1},
	} {
		got, ok := refine(drawnPlane(600, 400, c.box, c.left, c.right), c.box)
		require.True(t, ok, c.name)
		assert.Equal(t, c.want, got.leads, c.name)
	}
}

// What has no body's shape is refused.
func TestRefineRefused(t *testing.T) {
	empty := plane{360, 320, make([]uint8, 360*320)}
	_, ok := refine(empty, box{180, 160, 0, 60, 20})
	assert.False(t, ok, "nothing there")
	square := box{180, 160, 0, 40, 40}
	_, ok = refine(drawnPlane(360, 320, square, false, false), square)
	assert.False(t, ok, "as wide as long")
	rod := box{180, 160, 0, 140, 14}
	_, ok = refine(drawnPlane(360, 320, rod, false, false), rod)
	assert.False(t, ok, "ten times as long as wide")
}

// Areas of rectangles: boxes overlap that share more than a quarter of the
// smaller one.
func TestOverlaps(t *testing.T) {
	b := box{100, 100, 0.4, 40, 10}
	shifted := func(along, across float64) box {
		o := b
		o.x, o.y = b.at(along, across)
		return o
	}
	crossing := func(half float64) box { return box{100, 100, 0.4 + math.Pi/2, half, 10} }
	for _, c := range []struct {
		name string
		p, q box
		want bool
	}{
		{"the same", b, b, true},
		{"turned round", b, box{100, 100, 0.4 + math.Pi, 40, 10}, true},
		{"far away", b, box{300, 100, 0.4, 40, 10}, false},
		{"half shared, along", b, shifted(40, 0), true},
		{"a tenth shared, along", b, shifted(72, 0), false},
		{"half shared, across", b, shifted(0, 10), true},
		{"a tenth shared, across", b, shifted(0, 18), false},
		{"side by side", b, shifted(0, 20.5), false},
		{"a small one inside", b, box{105, 102, 1, 5, 3}, true},
		{"crossing, a sixth shared", box{100, 100, 0.4, 60, 10}, crossing(60), false},
		{"crossing, two fifths shared", box{100, 100, 0.4, 60, 10}, crossing(25), true},
	} {
		assert.Equal(t, c.want, c.p.overlaps(c.q), c.name)
		assert.Equal(t, c.want, c.q.overlaps(c.p), "%s, the other way round", c.name)
	}
}

// A box holds what lies between its sides, and a place in it is where turning
// and moving puts it: plane geometry, with the sine and cosine of 30°.
func TestBoxHolds(t *testing.T) {
	b := box{50, 40, math.Pi / 6, 20, 10}
	x, y := b.at(10, 4)
	assert.InDelta(t, 50+10*math.Sqrt(3)/2-2, x, 1e-9)
	assert.InDelta(t, 40+5+2*math.Sqrt(3), y, 1e-9)
	for _, c := range []struct {
		along, across float64
		want          bool
	}{
		{0, 0, true}, {19.9, 9.9, true}, {-19.9, 9.9, true}, {19.9, -9.9, true}, {-19.9, -9.9, true},
		{20.1, 0, false}, {-20.1, 0, false}, {0, 10.1, false}, {0, -10.1, false}, {15, 12, false},
	} {
		assert.Equal(t, c.want, b.extent().holds(b.at(c.along, c.across)), "%v along, %v across", c.along, c.across)
	}
	assert.False(t, b.extent().holds(50, 59), "below the middle, outside the turned box")
	assert.True(t, b.extent().holds(66, 49), "to the right and below, inside it")
}
