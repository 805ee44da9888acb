package vision

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"

	"gocv.io/x/gocv"
)

// CropMargin is how far a crop reaches beyond the body at each end, as a
// fraction of the body's length, and at each side, as a fraction of its width.
const CropMargin = 0.12

// mostCropSide is the longest side of a crop, in pixels.
const mostCropSide = 4096

// Crop returns the part turned straight and cut out of the photo it was found
// in: width pixels along the body, height across it, with CropMargin round the
// body and the left end of the outline at the left. The pixels are stretched to
// that size; CropAspect is the proportion that shows them undistorted. Beyond
// the photo's edge the crop repeats the edge. It returns an error for a side
// outside 1 to 4096 pixels, an empty photo or an outline without area.
func (p Part) Crop(photo *Photo, width, height int) (image.Image, error) {
	switch {
	case width < 1 || height < 1 || width > mostCropSide || height > mostCropSide:
		return nil, fmt.Errorf("a crop of %d × %d pixels cannot be made: use 1 to %d a side", width, height, mostCropSide)
	case photo.Pixels.Empty():
		return nil, errors.New("the photo has no pixels to crop from: open it again")
	}
	corners := [4]Point{
		p.At(-CropMargin, -CropMargin), p.At(1+CropMargin, -CropMargin),
		p.At(1+CropMargin, 1+CropMargin), p.At(-CropMargin, 1+CropMargin),
	}
	long, broad := span(corners[0], corners[1]), span(corners[0], corners[3])
	area := (corners[1].X-corners[0].X)*(corners[3].Y-corners[0].Y) - (corners[1].Y-corners[0].Y)*(corners[3].X-corners[0].X)
	if !(math.Abs(area) >= 1) || math.IsInf(area, 0) {
		return nil, errors.New("the outline has no area to crop: find the part again")
	}
	window := frame(corners, 2).Intersect(image.Rect(0, 0, photo.Pixels.Cols(), photo.Pixels.Rows()))
	if window.Empty() {
		return nil, errors.New("the outline lies outside the photo: find the part again")
	}

	// Where the photo is finer than the crop it is averaged first.
	near, scale := photo.Pixels.Region(window), image.Pt(window.Dx(), window.Dy())
	defer func() { near.Close() }()
	if shrunk := math.Max(float64(width)/long, float64(height)/broad); shrunk < 0.8 {
		scale = image.Pt(max(1, int(float64(scale.X)*shrunk)), max(1, int(float64(scale.Y)*shrunk)))
		small := gocv.NewMat()
		gocv.Resize(near, &small, scale, 0, 0, gocv.InterpolationArea)
		near.Close()
		near = small
	}

	place := func(c Point) gocv.Point2f { // from the photo to the middle of a pixel of near
		return gocv.Point2f{
			X: float32((c.X-float64(window.Min.X)+0.5)*float64(scale.X)/float64(window.Dx()) - 0.5),
			Y: float32((c.Y-float64(window.Min.Y)+0.5)*float64(scale.Y)/float64(window.Dy()) - 0.5),
		}
	}
	right, bottom := float32(width)-0.5, float32(height)-0.5
	from := gocv.NewPoint2fVectorFromPoints([]gocv.Point2f{place(corners[0]), place(corners[1]), place(corners[2]), place(corners[3])})
	defer from.Close()
	to := gocv.NewPoint2fVectorFromPoints([]gocv.Point2f{{X: -0.5, Y: -0.5}, {X: right, Y: -0.5}, {X: right, Y: bottom}, {X: -0.5, Y: bottom}})
	defer to.Close()
	straight := gocv.GetPerspectiveTransform2f(from, to)
	defer straight.Close()
	crop := gocv.NewMat()
	defer crop.Close()
	gocv.WarpPerspectiveWithParams(near, &crop, straight, image.Pt(width, height), gocv.InterpolationLinear, gocv.BorderReplicate, color.RGBA{})
	return crop.ToImage()
}

// CropAspect is the width over the height of a crop that is not stretched.
func (p Part) CropAspect() float64 {
	return span(p.At(0, 0.5), p.At(1, 0.5)) / span(p.At(0.5, 0), p.At(0.5, 1))
}

func span(a, b Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// frame is the rectangle of whole pixels round points, with a rim.
func frame(points [4]Point, rim int) image.Rectangle {
	low, high := points[0], points[0]
	for _, q := range points[1:] {
		low = Point{math.Min(low.X, q.X), math.Min(low.Y, q.Y)}
		high = Point{math.Max(high.X, q.X), math.Max(high.Y, q.Y)}
	}
	return image.Rect(int(low.X)-rim, int(low.Y)-rim, int(high.X)+rim+1, int(high.Y)+rim+1)
}
