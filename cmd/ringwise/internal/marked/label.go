package marked

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

const font = gocv.FontHersheySimplex

// capHeight is the height of a capital of the font at scale 1, in pixels.
const capHeight = 21

// A label is a line of text on a dark plate.
type label struct {
	text string
	edge *color.RGBA // a stripe of this colour at the left, nil for none
	size float64     // height of a capital in pixels of the sheet
}

// plateSize is the width and height of the label's plate.
func (l label) plateSize() vector {
	text := gocv.GetTextSize(l.text, font, l.size/capHeight, l.weight())
	wide := float64(text.X) + l.size
	if l.edge != nil {
		wide += 0.6 * l.size
	}
	return vector{wide, 1.9 * l.size}
}

func (l label) weight() int { return max(1, int(math.Round(l.size/8))) }

// put draws the label on its plate.
func (s *sheet) put(l label, p plate) {
	s.taken = append(s.taken, p)
	corner, size := p.corner, p.size
	s.fill(corner, size, dark)
	left := corner.x + l.size/2
	if l.edge != nil {
		hem := math.Max(1, l.size/8)
		stripe := vector{0.6 * l.size, size.y}
		s.fill(corner, stripe, light)
		s.fill(corner.plus(vector{hem, hem}), stripe.minus(vector{2 * hem, 2 * hem}), *l.edge)
		left += stripe.x
	}
	base := image.Pt(int(left), int(corner.y+size.y/2+l.size/2))
	gocv.PutTextWithParams(&s.mat, l.text, base, font, l.size/capHeight, light, l.weight(), gocv.LineAA, false)
}

func (s *sheet) fill(corner, size vector, ink color.RGBA) {
	gocv.Rectangle(&s.mat, image.Rectangle{corner.point(), corner.plus(size).point()}, ink, -1)
}

// A flag is a label for a ring, at the end of a tick from the body's edge.
type flag struct {
	label     label
	foot, end vector
	plate     plate
}

// rings ticks the rings of the first candidate on the long edge of the body
// where their letters cover less, the upper one if it makes no difference.
func (s *sheet) rings(part photoread.Part) {
	best, ok := part.Best()
	if !ok {
		return
	}
	centres, ok := ringCentres(part.Seen, best)
	if !ok {
		return
	}
	var flags []flag
	least := math.Inf(1)
	for _, edge := range edges(part.Part) {
		tried := s.flags(part.Part, edge, best.Rings, centres)
		plates := make([]plate, len(tried))
		for i, f := range tried {
			plates[i] = f.plate
		}
		if clash := s.clash(plates); clash < least {
			flags, least = tried, clash
		}
	}
	for _, f := range flags {
		s.line(f.foot, f.end)
	}
	for _, f := range flags {
		s.put(f.label, f.plate)
	}
}

// flags are the labels of the rings on one edge, fanned out where they would
// overlap.
func (s *sheet) flags(part vision.Part, edge float64, rings []decode.Colour, centres []float64) []flag {
	ahead, aside := axes(part)
	side := 2*edge - 1
	flags := make([]flag, len(rings))
	places := make([]float64, len(rings)) // along the body, in pixels of the sheet
	length := s.at(part, 1, 0.5, vector{}).minus(s.at(part, 0, 0.5, vector{})).length()
	room := vector{}
	for i, ring := range rings {
		ink := paint.Of(ring)
		flags[i].label = label{ring.Letters(), &ink, 8 * s.pen}
		places[i] = centres[i] * length
		size := flags[i].label.plateSize()
		room = vector{math.Max(room.x, size.x), math.Max(room.y, size.y)}
	}
	ends := spread(places, clearance(room, ahead)+s.pen)
	rise := 12*s.pen + (math.Abs(aside.x)*room.x+math.Abs(aside.y)*room.y)/2
	for i := range flags {
		f := &flags[i]
		f.foot = s.at(part, centres[i], edge, vector{0, side * 3 * s.pen})
		f.end = s.at(part, 0, edge, vector{ends[i], side * rise})
		f.plate = s.plateAt(f.label, f.end)
	}
	return flags
}

// ringCentres returns where the candidate's rings lie along the body, in
// reading order; false if the sighting does not say.
func ringCentres(seen decode.Sighting, c decode.Candidate) (centres []float64, ok bool) {
	if c.Cut < 0 || c.Cut >= len(seen.Cuts) || len(c.Order) != len(c.Rings) {
		return nil, false
	}
	rings := seen.Cuts[c.Cut].Rings
	for _, i := range c.Order {
		if i < 0 || i >= len(rings) {
			return nil, false
		}
		centres = append(centres, rings[i].Centre)
	}
	return centres, true
}

// edges are the two long edges of the body, as fractions of its width, the
// upper one as the photo shows it first, or the right one of a body that
// stands upright.
func edges(part vision.Part) [2]float64 {
	_, aside := axes(part)
	if aside.y > 0.2 || (aside.y > -0.2 && aside.x < 0) {
		return [2]float64{0, 1}
	}
	return [2]float64{1, 0}
}

// clearance is how far apart, along the direction, plates of the size must
// stand so as not to overlap.
func clearance(size, along vector) float64 {
	return math.Min(size.x/math.Max(1e-6, math.Abs(along.x)), size.y/math.Max(1e-6, math.Abs(along.y)))
}

// name puts the part's number and value where they cover least: beside the
// body, below it rather than above, or beyond an end, and further off only
// where there is no room.
func (s *sheet) name(number int, part photoread.Part) {
	text := fmt.Sprint(number)
	if best, ok := part.Best(); ok {
		text += "  " + best.RKM()
	}
	switch part.Verdict {
	case decode.Check:
		text += " ?"
	case decode.Unreadable:
		text += "  --"
	}
	l := label{text, nil, 10 * s.pen}
	size := l.plateSize()
	ahead, aside := axes(part.Part)
	upper := edges(part.Part)[0]
	lower := 1 - upper

	var best plate
	least := math.Inf(1)
	for _, gap := range []float64{6 * s.pen, 40 * s.pen} {
		beside := gap + (math.Abs(aside.x)*size.x+math.Abs(aside.y)*size.y)/2
		beyond := gap + (math.Abs(ahead.x)*size.x+math.Abs(ahead.y)*size.y)/2
		for _, spot := range []vector{
			s.at(part.Part, 0.5, lower, vector{0, (2*lower - 1) * beside}),
			s.at(part.Part, 0, lower, vector{0, (2*lower - 1) * beside}),
			s.at(part.Part, 1, lower, vector{0, (2*lower - 1) * beside}),
			s.at(part.Part, 0.5, upper, vector{0, (2*upper - 1) * beside}),
			s.at(part.Part, 1, 0.5, vector{beyond, 0}),
			s.at(part.Part, 0, 0.5, vector{-beyond, 0}),
		} {
			tried := s.plateAt(l, spot)
			if clash := s.clash([]plate{tried}); clash < least {
				best, least = tried, clash
			}
		}
	}
	s.put(l, best)
}
