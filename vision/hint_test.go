package vision

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hinted are the places that the network hints at in a picture.
func hinted(t *testing.T, picture *Photo) []fit {
	t.Helper()
	copies := pictureOf(picture.Pixels)
	defer copies.close()
	v := newView(copies)
	stand := seeGround(v).stand(v)
	defer stand.Close()
	ringed, _ := hints(v, plane{v.width, v.height, stand.ToBytes()})
	return ringed
}

// TestHints checks that drawn bodies are hinted at, at any angle and size, each at
// its place.
func TestHints(t *testing.T) {
	for _, size := range []float64{90, 160, 300} {
		for angle := -80.0; angle <= 90; angle += 34 {
			d := drawn{x: 330, y: 300, length: size, angle: angle, rings: drawnCodes[0].rings}
			all := hinted(t, photographed(t, scene(720, 600, d)))
			require.NotEmpty(t, all, "length %g, angle %g", size, angle)
			h := all[0]
			assert.Less(t, math.Hypot(h.x-d.x, h.y-d.y), 0.12*size, "length %g, angle %g: the middle", size, angle)
			assert.InDelta(t, 0, math.Sin(h.angle-angle*math.Pi/180), 0.15, "length %g, angle %g", size, angle)
			assert.InEpsilon(t, size/2, h.half, 0.25, "length %g, angle %g", size, angle)
			assert.InEpsilon(t, d.width()/2, h.rise, 0.35, "length %g, angle %g", size, angle)
		}
	}
}

func TestNoHintOnPaper(t *testing.T) {
	assert.Empty(t, hinted(t, photographed(t, paper(500, 333))))
}

// TestHintsSideBySide checks that bodies that lie close together are hinted at one
// by one.
func TestHintsSideBySide(t *testing.T) {
	var bodies []drawn
	for i := range 3 {
		d := drawn{length: 200, angle: 25, rings: drawnCodes[i%len(drawnCodes)].rings}
		d.x, d.y = drawn{x: 360, y: 300, angle: 25}.at(0, float64(i-1)*1.08*d.width())
		bodies = append(bodies, d)
	}
	all := hinted(t, photographed(t, scene(720, 600, bodies...)))
	for _, d := range bodies {
		assert.True(t, slices.ContainsFunc(all, func(h fit) bool {
			return math.Hypot(h.x-d.x, h.y-d.y) < 0.25*d.width() && h.rise < 0.7*d.width()
		}), "the body at %g, %g", d.x, d.y)
	}
}

// TestHintsFillThePhoto checks that bodies that all but fill the photo are hinted at.
func TestHintsFillThePhoto(t *testing.T) {
	for _, angle := range []float64{0, 25, 90} {
		d := drawn{x: 400, y: 400, length: 700, angle: angle, rings: drawnCodes[1].rings}
		all := hinted(t, photographed(t, scene(800, 800, d)))
		assert.True(t, slices.ContainsFunc(all, func(h fit) bool {
			return math.Hypot(h.x-d.x, h.y-d.y) < 0.1*d.length && math.Abs(h.half-d.length/2) < 0.15*d.length
		}), "angle %g", angle)
	}
}

// TestOutlinedKeepsHint checks that an outline that shows no lead, such as where leads
// look like the ground, does not gainsay a hint.
func TestOutlinedKeepsHint(t *testing.T) {
	mask := plane{300, 200, make([]uint8, 300*200)}
	for y := 80; y < 120; y++ {
		for x := 100; x < 200; x++ {
			mask.pixels[y*mask.width+x] = 200
		}
	}
	hint := fit{box: box{x: 152, y: 99, half: 52, rise: 21}, fill: 0.6, leads: 1, chance: 0.6}
	f := outlined(mask, hint)
	require.NotEqual(t, hint.box, f.box)
	assert.Equal(t, 1, f.leads)
	assert.InDelta(t, 0.6, f.chance, 0)
}
