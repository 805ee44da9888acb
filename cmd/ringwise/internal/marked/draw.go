package marked

import (
	"image"
	"image/color"
	"math"

	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

// The inks: light marks in a dark hem show on any ground.
var (
	light = color.RGBA{0xff, 0xff, 0xff, 0xff}
	dark  = color.RGBA{0x14, 0x18, 0x20, 0xff}
)

// smallest is the long side, in pixels, to which smaller photos are enlarged
// so that letters can be read.
const smallest = 1200

// A sheet is the picture that is drawn on.
type sheet struct {
	mat   gocv.Mat
	scale float64 // pixels of the sheet in a pixel of the photo
	pen   float64 // width of a fine line in pixels of the sheet
	taken []plate // what labels should not cover: bodies and other labels
}

// Draw returns a copy of the photo with every part outlined and numbered and
// its rings lettered. Small photos are enlarged. The caller closes it.
func Draw(photo *vision.Photo, parts []photoread.Part) gocv.Mat {
	long := max(photo.Pixels.Cols(), photo.Pixels.Rows())
	s := &sheet{mat: gocv.NewMat(), scale: math.Max(1, math.Ceil(smallest/float64(long)))}
	s.scale = math.Min(s.scale, 8)
	gocv.Resize(photo.Pixels, &s.mat, image.Point{}, s.scale, s.scale, gocv.InterpolationCubic)
	s.pen = math.Max(1, pen(float64(s.mat.Cols()), float64(s.mat.Rows()), len(parts)))
	for _, part := range parts {
		s.outline(part)
		s.occupy(part.Part)
	}
	for _, part := range parts {
		s.rings(part)
	}
	for i, part := range parts {
		s.name(i+1, part)
	}
	return s.mat
}

// pen is the width of a fine line on a sheet: so that letters can be read with all of
// the sheet on a screen, but narrower where so many parts' labels would leave too
// little of the photo.
func pen(width, height float64, parts int) float64 {
	const (
		inLong  = 900  // fine lines in the longer side
		labels  = 3700 // what labels of a part cover, in squares of a fine line
		covered = 0.1  // most of the sheet that labels cover
	)
	return math.Min(math.Max(width, height)/inLong, math.Sqrt(covered*width*height/labels/float64(max(1, parts))))
}

// at is the place on the sheet along and across the part, as fractions of its
// length and width; off moves it off the body by so many pixels of the sheet,
// along the body and across it.
func (s *sheet) at(part vision.Part, along, across float64, off vector) vector {
	p := part.At(along, across)
	ahead, aside := axes(part)
	return vector{p.X, p.Y}.times(s.scale).plus(ahead.times(off.x)).plus(aside.times(off.y))
}

// axes are the directions along the part and across it, each of length 1.
func axes(part vision.Part) (ahead, aside vector) {
	along := func(a, b vision.Point) vector { return vector{b.X - a.X, b.Y - a.Y}.unit() }
	ahead = along(part.At(0, 0.5), part.At(1, 0.5))
	return ahead, vector{-ahead.y, ahead.x}
}

// outline draws round the body, a little off it so that the rings stay free:
// solid for sure, dashed for check, dotted for unreadable.
func (s *sheet) outline(part photoread.Part) {
	gap := 3 * s.pen
	corners := [4]vector{
		s.at(part.Part, 0, 0, vector{-gap, -gap}), s.at(part.Part, 1, 0, vector{gap, -gap}),
		s.at(part.Part, 1, 1, vector{gap, gap}), s.at(part.Part, 0, 1, vector{-gap, gap}),
	}
	dash, space := math.Inf(1), 0.0
	switch part.Verdict {
	case decode.Check:
		dash, space = 9*s.pen, 6*s.pen
	case decode.Unreadable:
		dash, space = s.pen, 5*s.pen
	}
	for i, from := range corners {
		s.dashes(from, corners[(i+1)%4], dash, space)
	}
}

// dashes draws a line in dashes with spaces between, beginning and ending with
// a dash.
func (s *sheet) dashes(from, to vector, dash, space float64) {
	whole := to.minus(from)
	length := whole.length()
	if length == 0 {
		return
	}
	if dash < length {
		// Stretched so that the last dash ends at the corner.
		n := math.Max(1, math.Round((length-dash)/(dash+space)))
		space = (length-dash)/n - dash
	}
	step := whole.unit()
	for at := 0.0; at < length-0.5; at += dash + space {
		s.line(from.plus(step.times(at)), from.plus(step.times(math.Min(at+dash, length))))
	}
}

// line draws a light line in a dark hem.
func (s *sheet) line(from, to vector) {
	s.stroke(from, to, dark, 3.5*s.pen)
	s.stroke(from, to, light, 1.5*s.pen)
}

func (s *sheet) stroke(from, to vector, ink color.RGBA, width float64) {
	gocv.Line(&s.mat, from.point(), to.point(), ink, max(1, int(math.Round(width))))
}
