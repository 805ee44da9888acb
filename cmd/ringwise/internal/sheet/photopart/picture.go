// Package photopart brings parts to a sheet with pictures of their own: from
// photos, and from the stock of confirmed parts.
package photopart

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"

	"golang.org/x/image/draw"

	"ringwise/cmd/ringwise/internal/sheet"
)

// All pictures have this size, in pixels: the bodies of most resistors are
// about three times as long as they are thick (common practice, no source).
const (
	width   = 480
	height  = 160
	quality = 88
)

// picture brings a crop to the size of all pictures, undistorted, on a ground
// of the crop's own rim. at are the places of the rings in reading order, as
// fractions of the crop's width; where they fall, the crop is turned round.
func picture(crop image.Image, at []float64) (*sheet.Picture, error) {
	from := crop.Bounds()
	scale := math.Min(float64(width)/float64(from.Dx()), float64(height)/float64(from.Dy()))
	w, h := max(1, int(math.Round(scale*float64(from.Dx())))), max(1, int(math.Round(scale*float64(from.Dy()))))
	whole := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(whole, whole.Rect, image.NewUniform(rim(crop)), image.Point{}, draw.Src)
	place := image.Rect(0, 0, w, h).Add(image.Pt((width-w)/2, (height-h)/2))
	draw.CatmullRom.Scale(whole, place, crop, from, draw.Src, nil)
	rings := make([]float64, len(at))
	for i, x := range at {
		rings[i] = (float64(place.Min.X) + x*float64(w)) / width
	}
	if fall(at) {
		for i := range rings {
			rings[i] = 1 - rings[i]
		}
		for i, k := 0, width*height-1; i < k; i, k = i+1, k-1 {
			for n := range 4 {
				whole.Pix[4*i+n], whole.Pix[4*k+n] = whole.Pix[4*k+n], whole.Pix[4*i+n]
			}
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, whole, &jpeg.Options{Quality: quality}); err != nil {
		return nil, err
	}
	return &sheet.Picture{JPEG: b.Bytes(), Width: width, Height: height, Rings: rings}, nil
}

// fall reports whether places run from right to left.
func fall(at []float64) bool { return len(at) > 1 && at[0] > at[len(at)-1] }

// rim is the mean colour along the upper and lower edge of a crop, which show
// the ground.
func rim(crop image.Image) color.Color {
	area := crop.Bounds()
	var sum [3]uint64
	count := uint64(0)
	for x := area.Min.X; x < area.Max.X; x++ {
		for _, y := range []int{area.Min.Y, area.Max.Y - 1} {
			r, g, b, _ := crop.At(x, y).RGBA()
			sum[0], sum[1], sum[2], count = sum[0]+uint64(r), sum[1]+uint64(g), sum[2]+uint64(b), count+1
		}
	}
	if count == 0 {
		return color.White
	}
	return color.RGBA64{uint16(sum[0] / count), uint16(sum[1] / count), uint16(sum[2] / count), 0xffff}
}
