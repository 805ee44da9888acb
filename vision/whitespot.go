package vision

import (
	"cmp"
	"errors"
	"fmt"
	"image"
	"math"
	"slices"

	"gocv.io/x/gocv"
)

// What a spot must be to be taken for white, in 8-bit sRGB values.
const (
	burntOut = 250 // from which a channel tells nothing any more
	tooDark  = 70  // below which the brightest channel may be anything in shadow
	uneven   = 30  // the most that a channel may vary over the middle half of the spot
)

// WithWhite is the light with a spot of a photo that a person says is white,
// such as paper: a place in pixels of the photo as displayed. What lies close
// round it counts, strays left out. It returns an error that says what to do if
// the spot lies outside the photo, is burnt out, dark or not of one colour.
func (l Light) WithWhite(photo *Photo, at Point) (Light, error) {
	x, y := int(math.Floor(at.X)), int(math.Floor(at.Y))
	frame := image.Rect(0, 0, photo.Pixels.Cols(), photo.Pixels.Rows())
	if !image.Pt(x, y).In(frame) {
		return l, fmt.Errorf("the spot %d, %d lies outside the photo of %d by %d pixels: point at one within", x, y, frame.Dx(), frame.Dy())
	}
	reach := max(2, max(frame.Dx(), frame.Dy())/250)
	pixels := spotPixels(photo.Pixels, image.Rect(x-reach, y-reach, x+reach+1, y+reach+1).Intersect(frame))
	slices.SortFunc(pixels, func(a, b [3]uint8) int {
		return cmp.Compare(int(a[0])+2*int(a[1])+int(a[2]), int(b[0])+2*int(b[1])+int(b[2]))
	})
	middle := pixels[len(pixels)/4 : len(pixels)-len(pixels)/4]
	var mean [3]float64
	low, high := middle[0], middle[0]
	for _, p := range middle {
		for k, v := range p {
			mean[k] += linear[v] / float64(len(middle))
			low[k], high[k] = min(low[k], v), max(high[k], v)
		}
	}
	brightest := max(high[0], high[1], high[2])
	switch {
	case brightest >= burntOut:
		return l, errors.New("the spot is burnt out, so its colour is lost: point at white in softer light, or take the photo darker")
	case brightest < tooDark:
		return l, errors.New("the spot is too dark to be white: point at white that is well lit")
	case max(high[0]-low[0], high[1]-low[1], high[2]-low[2]) > uneven:
		return l, errors.New("the spot is not of one colour: point at the middle of something white")
	}
	l.whites = append(slices.Clip(l.whites), toTint(mean))
	return l, nil
}

// spotPixels are the pixels of a part of a photo, red first.
func spotPixels(photo gocv.Mat, part image.Rectangle) [][3]uint8 {
	region := photo.Region(part)
	defer region.Close()
	own := region.Clone() // a region is not continuous
	defer own.Close()
	data := own.ToBytes()
	out := make([][3]uint8, len(data)/3)
	for i := range out {
		out[i] = [3]uint8{data[3*i+2], data[3*i+1], data[3*i]}
	}
	return out
}
