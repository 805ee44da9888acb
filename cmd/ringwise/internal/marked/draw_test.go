package marked

import (
	"context"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

// plain is a photo of one colour, and a part in its middle.
func plain(ground color.RGBA) (*vision.Photo, photoread.Part) {
	mat := gocv.NewMatWithSizeFromScalar(gocv.NewScalar(float64(ground.B), float64(ground.G), float64(ground.R), 0), 900, 1200, gocv.MatTypeCV8UC3)
	return &vision.Photo{Pixels: mat}, photoread.Part{
		Part: vision.Part{
			Outline: [4]vision.Point{{X: 500, Y: 400}, {X: 700, Y: 400}, {X: 700, Y: 470}, {X: 500, Y: 470}},
			Seen:    decode.Sighting{Cuts: []decode.Cut{{Rings: []decode.SeenRing{{Centre: 0.2}, {Centre: 0.4}, {Centre: 0.8}}}}},
		},
		Ranking: decode.Ranking{Verdict: decode.Sure, Candidates: []decode.Candidate{{
			Reading: decode.Reading{Rings: []decode.Colour{decode.Red, decode.Green, decode.Blue}}, Order: []int{0, 1, 2}}}},
	}
}

// changed are the pixels of a sheet that differ from the plain ground.
func changed(t *testing.T, sheet gocv.Mat, ground color.RGBA) (count int, bounds image.Rectangle, body int) {
	t.Helper()
	for y := range sheet.Rows() {
		for x := range sheet.Cols() {
			v := sheet.GetVecbAt(y, x)
			if v[0] == ground.B && v[1] == ground.G && v[2] == ground.R {
				continue
			}
			count++
			bounds = bounds.Union(image.Rect(x, y, x+1, y+1))
			if x >= 500 && x < 700 && y >= 400 && y < 470 {
				body++
			}
		}
	}
	return count, bounds, body
}

func TestDrawLeavesTheBodyFree(t *testing.T) {
	for name, ground := range map[string]color.RGBA{
		"white": {255, 255, 255, 255}, "black": {0, 0, 0, 255}, "green": {20, 120, 60, 255},
	} {
		photo, part := plain(ground)
		sheet := Draw(photo, []photoread.Part{part})
		count, bounds, body := changed(t, sheet, ground)
		assert.Greater(t, count, 1000, name)
		assert.Zero(t, body, "%s: the rings must stay in sight", name)
		assert.True(t, image.Rect(495, 395, 705, 475).In(bounds), "%s: drawn round the body", name)
		assert.True(t, bounds.In(image.Rect(400, 300, 800, 560)), "%s: drawn near the body, in %v", name, bounds)
		sheet.Close()
		require.NoError(t, photo.Close())
	}
}

// The line of the outline must differ by verdict in more than colour: solid
// has most ink, dotted least.
func TestOutlineTellsTheVerdict(t *testing.T) {
	ground := color.RGBA{255, 255, 255, 255}
	ink := map[decode.Verdict]int{}
	for _, verdict := range []decode.Verdict{decode.Sure, decode.Check, decode.Unreadable} {
		photo, part := plain(ground)
		part.Verdict = verdict
		s := sheet{mat: photo.Pixels, scale: 1, pen: 1}
		s.outline(part)
		ink[verdict], _, _ = changed(t, s.mat, ground)
		require.NoError(t, photo.Close())
	}
	assert.Greater(t, ink[decode.Sure], ink[decode.Check])
	assert.Greater(t, ink[decode.Check], ink[decode.Unreadable])
	assert.Positive(t, ink[decode.Unreadable])
}

func TestDrawEnlargesSmallPhotos(t *testing.T) {
	for _, c := range []struct{ long, want int }{{225, 1350}, {60, 480}, {1199, 2398}, {1200, 1200}, {4000, 4000}} {
		photo := &vision.Photo{Pixels: gocv.NewMatWithSize(40, c.long, gocv.MatTypeCV8UC3)}
		sheet := Draw(photo, nil)
		assert.Equal(t, c.want, sheet.Cols(), "%d px", c.long)
		sheet.Close()
		require.NoError(t, photo.Close())
	}
}

// A part at the edge, one of no size and a candidate whose order names no ring
// must not stop the drawing.
func TestDrawOddParts(t *testing.T) {
	photo, part := plain(color.RGBA{255, 255, 255, 255})
	defer photo.Close()
	edge := part
	edge.Outline = [4]vision.Point{{X: -20, Y: -20}, {X: 90, Y: -20}, {X: 90, Y: 20}, {X: -20, Y: 20}}
	point := part
	point.Outline = [4]vision.Point{}
	order := part
	order.Candidates = []decode.Candidate{{Reading: decode.Reading{Rings: []decode.Colour{decode.Red}}, Order: []int{7}}}
	cut := part
	cut.Candidates = []decode.Candidate{{Reading: decode.Reading{Rings: []decode.Colour{decode.Red}}, Cut: 3, Order: []int{0}}}
	blind := part
	blind.Candidates, blind.Verdict = nil, decode.Unreadable
	sheet := Draw(photo, []photoread.Part{edge, point, order, cut, blind})
	defer sheet.Close()
	assert.Equal(t, 1200, sheet.Cols())
}

func TestWriteMakesTheFolder(t *testing.T) {
	photo, part := plain(color.RGBA{200, 180, 150, 255})
	defer photo.Close()
	for _, name := range []string{"a.jpg", "b.png", "c.WEBP", "d.jpeg"} {
		path := filepath.Join(t.TempDir(), "new", "folder", name)
		require.NoError(t, Write(path, photo, []photoread.Part{part}))
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		again, err := vision.Open(context.Background(), data)
		require.NoError(t, err, name)
		assert.Equal(t, 1200, again.Pixels.Cols())
		require.NoError(t, again.Close())
	}
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	assert.Error(t, Write(filepath.Join(file, "a.jpg"), photo, nil))
}

func TestSpread(t *testing.T) {
	assert.Equal(t, []float64{0, 10, 30}, spread([]float64{0, 10, 30}, 10), "room enough")
	assert.Equal(t, []float64{-10, 0, 10}, spread([]float64{-1, 0, 1}, 10), "fanned out about their middle")
	assert.Equal(t, []float64{10, 0, -10}, spread([]float64{1, 0, -1}, 10), "read from the right")
	assert.Empty(t, spread(nil, 10))
}

// TestPen checks that lines and letters are as broad as a look at the whole sheet wants
// while there is room for labels, and that those of a heap leave most of it free.
func TestPen(t *testing.T) {
	assert.InDelta(t, 4000.0/900, pen(4000, 3000, 0), 1e-9)
	assert.InDelta(t, 4000.0/900, pen(4000, 3000, 12), 1e-9)
	assert.InDelta(t, 4000.0/900, pen(3000, 4000, 12), 1e-9)
	heap := pen(4000, 3000, 120)
	assert.Less(t, heap, 4000.0/900/2)
	assert.Greater(t, 10*heap, 14.0, "the height of a capital in pixels")
}
