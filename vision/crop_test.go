package vision

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// Plane geometry: a body drawn by OpenCV as three blocks of colour at some
// angle shows, once straightened, the blocks side by side at the places that
// its outline gives them, with the ground around.
func TestCropStraightens(t *testing.T) {
	ground := color.RGBA{230, 228, 220, 255}
	blocks := [3]color.RGBA{{200, 40, 40, 255}, {40, 160, 60, 255}, {50, 60, 200, 255}}
	for _, degrees := range []float64{0, 30, 90, 180, 225, 301} {
		photo := &Photo{gocv.NewMatWithSizeFromScalar(gocv.NewScalar(220, 228, 230, 0), 300, 400, gocv.MatTypeCV8UC3)}
		s, c := math.Sincos(degrees * math.Pi / 180)
		corner := func(along, across float64) Point { // of a body 120 × 40 about (200, 150)
			u, v := 120*(along-0.5), 40*(across-0.5)
			return Point{200 + c*u - s*v, 150 + s*u + c*v}
		}
		part := Part{Outline: [4]Point{corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)}}
		for i, block := range blocks {
			from, to := float64(i)/3, float64(i+1)/3
			area := gocv.NewPointsVectorFromPoints([][]image.Point{{
				whole(corner(from, 0)), whole(corner(to, 0)), whole(corner(to, 1)), whole(corner(from, 1)),
			}})
			gocv.FillPoly(&photo.Pixels, area, block)
			area.Close()
		}
		for _, size := range []image.Point{{124, 50}, {62, 20}, {620, 200}} {
			crop, err := part.Crop(photo, size.X, size.Y)
			require.NoError(t, err)
			assert.Equal(t, image.Rectangle{Max: size}, crop.Bounds())
			at := func(along, across float64) color.Color {
				span := 1 + 2*CropMargin
				return crop.At(int((along+CropMargin)/span*float64(size.X)), int((across+CropMargin)/span*float64(size.Y)))
			}
			for i, block := range blocks {
				for _, across := range []float64{0.2, 0.5, 0.8} {
					closeTo(t, block, at((float64(i)+0.5)/3, across), "%v° %v block %d", degrees, size, i)
				}
			}
			closeTo(t, ground, at(-0.09, 0.5), "%v° %v left of the body", degrees, size)
			closeTo(t, ground, at(1.09, 0.5), "%v° %v right of the body", degrees, size)
		}
		assert.InDelta(t, 3, part.CropAspect(), 1e-9)
		require.NoError(t, photo.Close())
	}
}

func whole(p Point) image.Point { return image.Pt(int(math.Round(p.X)), int(math.Round(p.Y))) }

func closeTo(t *testing.T, want, got color.Color, format string, args ...any) {
	t.Helper()
	r, g, b, _ := want.RGBA()
	u, v, w, _ := got.RGBA()
	for _, pair := range [3][2]uint32{{r, u}, {g, v}, {b, w}} {
		assert.InDelta(t, pair[0]>>8, pair[1]>>8, 12, append([]any{format}, args...)...)
	}
}

// A body at the photo's edge is cropped whole; what cannot be cropped is an
// error.
func TestCropBounds(t *testing.T) {
	photo := &Photo{gocv.NewMatWithSizeFromScalar(gocv.NewScalar(10, 20, 30, 0), 60, 80, gocv.MatTypeCV8UC3)}
	defer photo.Close()
	atEdge := Part{Outline: [4]Point{{-20, -5}, {40, -5}, {40, 15}, {-20, 15}}}
	crop, err := atEdge.Crop(photo, 90, 30)
	require.NoError(t, err)
	closeTo(t, color.RGBA{30, 20, 10, 255}, crop.At(0, 0), "beyond the edge")

	flat := Part{Outline: [4]Point{{10, 10}, {50, 10}, {50, 10}, {10, 10}}}
	nowhere := Part{Outline: [4]Point{{math.NaN(), 10}, {50, 10}, {50, 20}, {10, 20}}}
	away := Part{Outline: [4]Point{{500, 500}, {560, 500}, {560, 520}, {500, 520}}}
	for _, c := range []struct {
		part          Part
		width, height int
		want          string
	}{
		{atEdge, 0, 30, "0 × 30"}, {atEdge, 90, 5000, "90 × 5000"},
		{flat, 90, 30, "no area"}, {nowhere, 90, 30, "no area"}, {away, 90, 30, "outside the photo"},
	} {
		_, err := c.part.Crop(photo, c.width, c.height)
		assert.ErrorContains(t, err, c.want)
	}
	empty := &Photo{gocv.NewMat()}
	defer empty.Close()
	_, err = atEdge.Crop(empty, 90, 30)
	assert.ErrorContains(t, err, "no pixels")
}
