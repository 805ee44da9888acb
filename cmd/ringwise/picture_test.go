package main

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
)

// ground is the colour of the plain pictures.
var ground = color.RGBA{0xd8, 0xd2, 0xc4, 0xff}

// plainPicture is a picture of nothing.
func plainPicture(width, height int) *image.RGBA {
	picture := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(picture, picture.Rect, image.NewUniform(ground), image.Point{}, draw.Src)
	return picture
}

// repaint copies a picture into another of the same size.
func repaint(to draw.Image, from image.Image) draw.Image {
	draw.Draw(to, to.Bounds(), from, from.Bounds().Min, draw.Src)
	return to
}

func asPNG(t *testing.T, picture image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, picture))
	return b.Bytes()
}

func asJPEG(t *testing.T, picture image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, picture, nil))
	return b.Bytes()
}

func asTIFF(t *testing.T, picture image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, tiff.Encode(&b, picture, nil))
	return b.Bytes()
}

func asBMP(t *testing.T, picture image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, bmp.Encode(&b, picture))
	return b.Bytes()
}

// asGIF is an animation of two pictures.
func asGIF(t *testing.T, width, height int) []byte {
	t.Helper()
	animation := &gif.GIF{}
	for _, c := range []color.Color{color.White, color.Black} {
		frame := image.NewPaletted(image.Rect(0, 0, width, height), color.Palette{c})
		animation.Image, animation.Delay = append(animation.Image, frame), append(animation.Delay, 10)
	}
	var b bytes.Buffer
	require.NoError(t, gif.EncodeAll(&b, animation))
	return b.Bytes()
}
