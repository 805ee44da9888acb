//go:build matprofile

package vision

import (
	"context"
	"encoding/binary"
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// Every picture that Open and Find make is closed again, whether the file is
// read, turned, refused, broken or given up half-way. gocv counts those that
// are not.
func TestEveryMatIsClosed(t *testing.T) {
	rgba := quarters(image.NewRGBA)
	jpg, png := asJPEG(t, rgba), asPNG(t, rgba)
	two := scene(900, 480,
		drawn{x: 230, y: 240, length: 160, angle: 20, rings: drawnCodes[0].rings},
		drawn{x: 660, y: 240, length: 160, angle: 110, rings: drawnCodes[1].rings})
	grain(two)
	parts := asJPEG(t, two)
	turned := func(value uint16) []byte {
		return withSegments(jpg, exifSegment(exifBlock(binary.LittleEndian, value)))
	}
	undecodable := pngFile(t, pngHeader(50, 50, 8, 2, 0), make([]byte, 151*20))
	cancelled, cancel := context.WithCancel(t.Context())
	cancel()
	cancelling := func() context.Context { return afterwards{t.Context(), new(int)} }

	for _, c := range []struct {
		name       string
		open, find context.Context
		data       []byte
		opens      bool
		finds      int
	}{
		{"two parts", t.Context(), t.Context(), parts, true, 2},
		{"no parts", t.Context(), t.Context(), png, true, 0},
		{"webp", t.Context(), t.Context(), encoded(t, rgba, ".webp", gocv.IMWriteWebpQuality, 80), true, 0},
		{"alpha", t.Context(), t.Context(), greyAlphaPNG(t), true, 0},
		{"gif", t.Context(), t.Context(), asGIF(t, image.NewPaletted(rgba.Bounds(), color.Palette{color.White, color.Black})), true, 0},
		{"mirrored", t.Context(), t.Context(), turned(2), true, 0},
		{"upside down", t.Context(), t.Context(), turned(3), true, 0},
		{"flipped", t.Context(), t.Context(), turned(4), true, 0},
		{"transposed", t.Context(), t.Context(), turned(5), true, 0},
		{"clockwise", t.Context(), t.Context(), turned(6), true, 0},
		{"transverse", t.Context(), t.Context(), turned(7), true, 0},
		{"counterclockwise", t.Context(), t.Context(), turned(8), true, 0},
		{"empty", t.Context(), nil, nil, false, 0},
		{"text", t.Context(), nil, []byte("two in the tin"), false, 0},
		{"cut short", t.Context(), nil, jpg[:len(jpg)/2], false, 0},
		{"undecodable", t.Context(), nil, undecodable, false, 0},
		{"broken gif", t.Context(), nil, asGIF(t, image.NewPaletted(rgba.Bounds(), color.Palette{color.White, color.Black}))[:40], false, 0},
		{"cancelled before", cancelled, nil, jpg, false, 0},
		{"cancelled while opening", cancelling(), nil, jpg, false, 0},
		{"cancelled before finding", t.Context(), cancelled, parts, true, 0},
		{"cancelled while finding", t.Context(), cancelling(), parts, true, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			before := gocv.MatProfile.Count()
			photo, err := Open(c.open, c.data)
			require.Equal(t, c.opens, err == nil, "%v", err)
			if c.opens {
				assert.Equal(t, before+1, gocv.MatProfile.Count(), "only the photo is open")
				found, _ := Find(c.find, photo)
				assert.Len(t, found, c.finds)
				require.NoError(t, photo.Close())
			}
			assert.Equal(t, before, gocv.MatProfile.Count())
		})
	}
}

// So is every one of a large photo that is looked at nearer by, wherever that is given
// up.
func TestEveryMatIsClosedNearerBy(t *testing.T) {
	photo := photographed(t, scene(2400, 1800, drawn{x: 600, y: 450, length: 60, rings: drawnCodes[0].rings}))
	before := gocv.MatProfile.Count()
	times := 0
	for done := false; !done; times++ {
		looks := -times
		parts, err := Find(afterwards{t.Context(), &looks}, photo)
		assert.Equal(t, before, gocv.MatProfile.Count(), "given up after %d looks at the context", times+1)
		if done = err == nil; done {
			assert.Len(t, parts, 1)
		} else {
			require.ErrorIs(t, err, context.Canceled)
		}
	}
	assert.Greater(t, times, 6, "also within a window")
}

// So is every one that a light is told with.
func TestLightClosesItsMats(t *testing.T) {
	body := drawn{x: 310, y: 245, length: 170, rings: drawnCodes[0].rings}
	before := gocv.MatProfile.Count()
	photo, err := Open(t.Context(), asJPEG(t, scene(640, 480, body)))
	require.NoError(t, err)
	light, err := Light{}.WithWhite(photo, Point{40, 40})
	require.NoError(t, err)
	_, err = light.WithWhite(photo, Point{-1, 0})
	require.Error(t, err)
	parts, err := FindUnder(t.Context(), photo, light)
	require.NoError(t, err)
	require.Len(t, parts, 1)
	_, err = light.WithPart(parts[0], confirmed(body.rings))
	require.NoError(t, err)
	require.NoError(t, photo.Close())
	assert.Equal(t, before, gocv.MatProfile.Count())
}
