package photoread

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"testing"

	"github.com/stretchr/testify/require"
)

// blank is a photo of nothing.
func blank(t *testing.T, width, height int) Source {
	t.Helper()
	picture := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(picture, picture.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, picture, nil))
	return Stream("blank.jpg", &b)
}
