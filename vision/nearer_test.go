package vision

import (
	"fmt"
	"image"
	"image/draw"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"ringwise/decode"
)

// TestFindSmallInLarge checks that small bodies are found and read in a large photo,
// each once, also where windows meet, and beside a large body.
func TestFindSmallInLarge(t *testing.T) {
	const width, height, length = 3200, 2400, 60
	bodies := []drawn{{x: 800, y: 900, length: 900, angle: 20, rings: drawnCodes[0].rings}}
	for i, at := range [][2]float64{{1600, 1200}, {1600, 300}, {2500, 1205}, {60, 60}, {3140, 2340}, {2810, 500}, {300, 1900}, {1500, 2000}} {
		bodies = append(bodies, drawn{x: at[0], y: at[1], length: length, angle: 37 * float64(i), rings: drawnCodes[i%len(drawnCodes)].rings})
	}
	parts, err := Find(t.Context(), photographed(t, scene(width, height, bodies...)))
	require.NoError(t, err)
	require.Len(t, parts, len(bodies))
	for _, d := range bodies {
		same := func(p Part) bool { return math.Hypot(centre(p).X-d.x, centre(p).Y-d.y) < d.length/8 }
		i := slices.IndexFunc(parts, same)
		if !assert.GreaterOrEqual(t, i, 0, "the body at %g, %g", d.x, d.y) {
			continue
		}
		left, right := parts[i].At(0, 0.5), parts[i].At(1, 0.5)
		assert.InEpsilon(t, d.length, span(left, right), 0.2, "the body at %g, %g", d.x, d.y)
		assert.Equal(t, d.rings, decode.Rank(parts[i].Seen).Candidates[0].Rings, "the body at %g, %g", d.x, d.y)
	}
}

// TestWindows checks that windows cover a view and that a small body lies whole in one
// of them, wherever it is.
func TestWindows(t *testing.T) {
	for _, v := range []view{{width: 1000, height: 750}, {width: 333, height: 1000}, {width: 1000, height: 60}} {
		t.Run(fmt.Sprintf("%d×%d", v.width, v.height), func(t *testing.T) {
			windows := v.windows()
			for y := 0; y < v.height; y += 7 {
				for x := 0; x < v.width; x += 7 {
					assert.True(t, slices.ContainsFunc(windows, func(w image.Rectangle) bool {
						return (x-smallHalf >= w.Min.X || w.Min.X == 0) && (x+smallHalf <= w.Max.X || w.Max.X == v.width) &&
							(y-smallHalf >= w.Min.Y || w.Min.Y == 0) && (y+smallHalf <= w.Max.Y || w.Max.Y == v.height)
					}), "%d, %d", x, y)
				}
			}
		})
	}
}

// TestFindNoLettersInLarge checks that letters are left out as print where a photo has
// colours, though the window that holds them has none.
func TestFindNoLettersInLarge(t *testing.T) {
	p := image.NewRGBA(image.Rect(0, 0, 2400, 1800))
	draw.Draw(p, p.Bounds(), image.White, image.Point{}, draw.Src)
	drawn{x: 600, y: 450, length: 500, rings: drawnCodes[0].rings}.onto(p)
	regular, err := opentype.Parse(goregular.TTF)
	require.NoError(t, err)
	face, err := opentype.NewFace(regular, &opentype.FaceOptions{Size: 60, DPI: 72})
	require.NoError(t, err)
	defer face.Close()
	pen := font.Drawer{Dst: p, Src: image.Black, Face: face}
	for y := 1300; y < 1750; y += 96 {
		pen.Dot = fixed.P(1350, y)
		pen.DrawString("mills will fill hills HHIIH 1111")
	}
	photo, err := Open(t.Context(), asPNG(t, p))
	require.NoError(t, err)
	defer photo.Close()
	parts, err := Find(t.Context(), photo)
	require.NoError(t, err)
	require.Len(t, parts, 1)
	assert.InDelta(t, 600, centre(parts[0]).X, 25)
}

// TestAround checks that a box of a nearer view stays where it is in the photo.
func TestAround(t *testing.T) {
	v, near := view{scale: 0.25}, view{scale: 0.4}
	got := v.around(box{x: 100, y: 40, angle: 0.3, half: 20, rise: 8}, near, image.Pt(1200, 800)).scaled(1 / v.scale)
	want := box{x: 1450, y: 900, angle: 0.3, half: 50, rise: 20}
	assert.InDeltaSlice(t, []float64{want.x, want.y, want.angle, want.half, want.rise}, []float64{got.x, got.y, got.angle, got.half, got.rise}, 1e-9)
}
