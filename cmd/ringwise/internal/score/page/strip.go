package page

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"slices"

	"github.com/lucasb-eyer/go-colorful"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/score"
	"ringwise/cmd/ringwise/internal/score/diagram"
	"ringwise/vision"
)

// The measures of a strip's picture, in pixels.
const (
	stripWidth     = 400
	leastHeight    = 50
	mostHeight     = 220
	surroundHeight = 300 // of a picture of the surroundings, as wide as high
	jpegQuality    = 85
)

// draw cuts a body out of its photo and draws it with rings that lie along it.
func draw(photo *vision.Photo, body vision.Part, title string, rings []diagram.Ring) (string, error) {
	height := min(max(int(math.Round(stripWidth/body.CropAspect())), leastHeight), mostHeight)
	crop, err := body.Crop(photo, stripWidth, height)
	if err != nil {
		return "", err
	}
	data, err := asJPEG(crop)
	if err != nil {
		return "", err
	}
	for i := range rings {
		rings[i].From, rings[i].To = inCrop(rings[i].From), inCrop(rings[i].To)
	}
	return diagram.Strip{Title: title, JPEG: data, Width: stripWidth, Height: height, Rings: rings, Profile: profile(crop)}.Draw(), nil
}

// inCrop turns a share of the body's length into one of the crop's.
func inCrop(along float64) float64 {
	return (along + vision.CropMargin) / (1 + 2*vision.CropMargin)
}

// profile is the middle half of a crop's body along its axis: in every second
// column the medians of L*, a* and b*.
func profile(crop image.Image) diagram.Profile {
	frame := crop.Bounds()
	top := frame.Min.Y + int(inCrop(0.25)*float64(frame.Dy()))
	bottom := frame.Min.Y + int(inCrop(0.75)*float64(frame.Dy()))
	var p diagram.Profile
	for x := frame.Min.X; x < frame.Max.X; x += 2 {
		var l, a, b []float64
		for y := top; y <= bottom; y += 2 {
			c, _ := colorful.MakeColor(crop.At(x, y))
			cl, ca, cb := c.Lab()
			l, a, b = append(l, 100*cl), append(a, 100*ca), append(b, 100*cb)
		}
		p.L, p.A, p.B = append(p.L, median(l)), append(p.A, median(a)), append(p.B, median(b))
	}
	return p
}

func median(values []float64) float64 {
	slices.Sort(values)
	return values[len(values)/2]
}

func asJPEG(picture image.Image) ([]byte, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: jpegQuality})
	return b.Bytes(), err
}

// trueBody is the true outline of a part as the straightened strip has it,
// false if the truth has none. The end with the first ring is the left one, if
// the truth says which it is.
func trueBody(body score.Body) (vision.Part, bool) {
	if len(body.Polygon) != 4 {
		return vision.Part{}, false
	}
	var o [4]vision.Point
	for i, c := range body.Polygon {
		o[i] = vision.Point{X: c[0], Y: c[1]}
	}
	if span(o[0], o[1])+span(o[2], o[3]) < span(o[1], o[2])+span(o[3], o[0]) {
		o = [4]vision.Point{o[1], o[2], o[3], o[0]}
	}
	if area(o) < 0 { // seen from behind
		o = [4]vision.Point{o[3], o[2], o[1], o[0]}
	}
	part := vision.Part{Outline: o}
	if body.Axis != nil && against(part, *body.Axis) {
		part = turned(part)
	}
	return part, area(o) >= 1
}

// surroundings is what lies round a part whose outline is not known.
func surroundings(body score.Body) vision.Part {
	c, r := *body.Centre, body.Length*0.6
	return vision.Part{Outline: [4]vision.Point{
		{X: c[0] - r, Y: c[1] - r}, {X: c[0] + r, Y: c[1] - r}, {X: c[0] + r, Y: c[1] + r}, {X: c[0] - r, Y: c[1] + r},
	}}
}

// runsBackwards tells whether a reported part must be turned half round for the
// true first ring to be on its left or, where that is not known, for its first
// candidate to be read from left to right.
func runsBackwards(part photoread.Part, truth score.Body) bool {
	if truth.Axis != nil {
		return against(part.Part, *truth.Axis)
	}
	if len(part.Candidates) == 0 {
		return false
	}
	order := part.Candidates[0].Order
	return len(order) > 1 && order[0] > order[len(order)-1]
}

// against tells whether the part's strip runs against the axis, in degrees
// from rightwards to downwards.
func against(part vision.Part, degrees float64) bool {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	left, right := part.At(0, 0.5), part.At(1, 0.5)
	return (right.X-left.X)*cos+(right.Y-left.Y)*sin < 0
}

// turned is the part with its strip turned half round.
func turned(part vision.Part) vision.Part {
	o := part.Outline
	part.Outline = [4]vision.Point{o[2], o[3], o[0], o[1]}
	return part
}

// area is that of an outline, below 0 if it is seen from behind.
func area(o [4]vision.Point) float64 {
	sum := 0.0
	for i, p := range o {
		q := o[(i+1)%4]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}

func span(a, b vision.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }
