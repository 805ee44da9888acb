package vision

import (
	"bytes"
	"image"
	_ "image/jpeg" // the second source for the size of a JPEG
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// FuzzReadHeader feeds any bytes to what Open does before a pixel is decoded:
// the walk through JPEG, PNG and WebP and the reading of EXIF, all in Go. It
// must say no or keep what Open relies on. Second source for a JPEG's size: the
// standard library.
func FuzzReadHeader(f *testing.F) {
	f.Add([]byte(nil))
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := readHeader(data)
		if err != nil {
			assert.NotEmpty(t, err.Error())
			return
		}
		assert.Contains(t, []string{"jpeg", "png", "webp", "tiff", "bmp", "gif"}, h.format)
		assert.GreaterOrEqual(t, min(h.width, h.height), MinSide)
		assert.LessOrEqual(t, max(h.width, h.height), MaxSide)
		assert.LessOrEqual(t, h.width*h.height, MaxPixels)
		assert.LessOrEqual(t, h.turn, orientation(8))
		if h.quick {
			assert.Contains(t, []string{"jpeg", "png", "webp"}, h.format)
		}
		if config, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil {
			assert.Equal(t, []int{config.Width, config.Height}, []int{h.width, h.height})
		}
		if h.format == "png" {
			again, err := readHeader(criticalChunks(data))
			require.NoError(t, err)
			assert.Equal(t, []int{h.width, h.height}, []int{again.width, again.height})
		}
		if h.format == "jpeg" || h.format == "png" {
			more, err := readHeader(slices.Concat(data, []byte("\xFF\xD8\xFFwhat comes after a picture")))
			assert.NoError(t, err)
			assert.Equal(t, h, more)
		}
	})
}
