package vision

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/draw"

	"gocv.io/x/gocv"
)

// decodeOnWhite decodes a picture with Go's decoders and lays it on white.
func decodeOnWhite(data []byte, h header) (gocv.Mat, error) {
	frame := image.Rect(0, 0, h.width, h.height)
	first, _, err := image.Decode(bytes.NewReader(data))
	if err == nil && !first.Bounds().In(frame) {
		err = errors.New("larger than its header says")
	}
	if err != nil {
		return gocv.Mat{}, fmt.Errorf("the %s is damaged or of a rare kind and could not be decoded (%v): open it in a picture viewer and save it as a plain JPEG or PNG", h.format, err)
	}
	return onWhite(first, frame), nil
}

// onWhite lays a picture on a white frame, a band of rows at a time.
func onWhite(picture image.Image, frame image.Rectangle) gocv.Mat {
	const bandRows = 64
	pixels := gocv.NewMatWithSize(frame.Dy(), frame.Dx(), gocv.MatTypeCV8UC3)
	to, err := pixels.DataPtrUint8()
	if err != nil {
		panic(err) // a new Mat is continuous
	}
	band := image.NewRGBA(image.Rect(0, 0, frame.Dx(), bandRows))
	for top := frame.Min.Y; top < frame.Max.Y; top += bandRows {
		band.Rect = image.Rect(0, top, frame.Dx(), min(top+bandRows, frame.Max.Y))
		draw.Draw(band, band.Rect, image.White, image.Point{}, draw.Src)
		draw.Draw(band, band.Rect, picture, band.Rect.Min, draw.Over)
		for from := band.Pix[:4*band.Rect.Dx()*band.Rect.Dy()]; len(from) > 0; from, to = from[4:], to[3:] {
			to[0], to[1], to[2] = from[2], from[1], from[0]
		}
	}
	return pixels
}
