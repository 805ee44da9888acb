package main

import (
	"context"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"ringwise/decode"
	"ringwise/vision"
	"ringwise/vision/columns"
)

// What the truth file says, as far as it is used here.
type photo struct {
	File          string
	Width, Height float64
	Resistors     []struct {
		Bands []string
		Body  struct {
			Polygon [4][2]float64
		}
		RingSpans   [][2]float64 `json:"ring_spans"`
		HiddenSpans [][2]float64 `json:"hidden_spans"`
	}
	Distractors []struct {
		Kind   string
		Center [2]float64
		Length float64 `json:"length_px"`
		Hidden float64
		Body   *struct {
			Polygon [4][2]float64
		}
		HiddenSpans [][2]float64 `json:"hidden_spans"`
	}
}

func readTruth(path string) ([]photo, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var t struct{ Photos []photo }
	if err := json.Unmarshal(data, &t); err != nil {
		return nil, err
	}
	return t.Photos, nil
}

// A target is what a strip shows in truth.
type target struct {
	shares [columns.Columns][columns.Classes]float32 // of each class, by column
	edges  columns.Edges                             // of the body, where there is one
	over   columns.Covered                           // whether something lies over it, 1 or 0, between where it begins
}

// An example is a strip with what it shows. Its pixels are kept as bytes.
type example struct {
	pixels [columns.Rows][columns.Columns][3]uint8
	detail float64
	target target
	thick  float64 // the body's half width, in half heights of the strip
}

// A body is a labelled part as a straight stretch of the photo.
type body struct {
	x, y, ux, uy float64 // its middle and the direction of its axis
	half, rise   float64
	spans        [][2]float64
	hidden       [][2]float64 // where something lies over it
	colours      []decode.Colour
	bare         bool // whether it wears no rings
	round        bool // whether it has no axis
}

// examples cuts strips of each part of a photo, each a little beside the
// truth, and as many of places where there is no part. With covered, also of parts of
// which others hide a ring or an end: their rings are not told, only what lies over them.
func (p photo) examples(dir string, chance *rand.Rand, cuts int, covered bool) ([]example, error) {
	data, err := os.ReadFile(filepath.Join(dir, p.File))
	if err != nil {
		return nil, err
	}
	picture, err := vision.Open(context.Background(), data)
	if err != nil {
		return nil, err
	}
	defer picture.Close()

	var bodies []body
	for _, r := range p.Resistors {
		b := bodyOf(r.Body.Polygon)
		b.spans, b.hidden = r.RingSpans, r.HiddenSpans
		for _, name := range r.Bands {
			colour, err := decode.ParseColour(name)
			if err != nil {
				return nil, err
			}
			b.colours = append(b.colours, colour)
		}
		bodies = append(bodies, b)
	}
	if covered {
		bodies = append(bodies, p.covered()...)
	}
	var out []example
	add := func(b body, label *body) {
		if s, ok := picture.Straighten(b.outline()); ok {
			out = append(out, newExample(s, b, label))
		}
	}
	for i := range bodies {
		b := &bodies[i]
		for cut := range cuts {
			add(b.beside(chance, cut >= cuts-2), b)
		}
		if chance.Float64() < 0.5 {
			add(b.across(chance), nil)
		}
	}
	for i := range bodies {
		for range 4 {
			o := bodies[i].turned(2 * math.Pi * chance.Float64())
			o.x, o.y = chance.Float64()*p.Width, chance.Float64()*p.Height
			if p.clear(o, bodies) {
				add(o, nil)
				break
			}
		}
	}
	return out, nil
}

// mostHidden is the share of a body that others may hide for it to be learnt from.
const mostHidden = 0.4

// covered are the resistors of which others hide a ring or an end, but not much else.
func (p photo) covered() (out []body) {
	for _, d := range p.Distractors {
		if d.Kind == "covered resistor" && d.Body != nil && d.Hidden < mostHidden {
			b := bodyOf(d.Body.Polygon)
			b.hidden = d.HiddenSpans
			out = append(out, b)
		}
	}
	return out
}

// clear tells whether a place is far from all parts and other things.
func (p photo) clear(o body, bodies []body) bool {
	for _, b := range bodies {
		if math.Hypot(b.x-o.x, b.y-o.y) < b.half+o.half {
			return false
		}
	}
	for _, d := range p.Distractors {
		if math.Hypot(d.Center[0]-o.x, d.Center[1]-o.y) < math.Max(d.Length, 2*o.half)+o.half {
			return false
		}
	}
	return true
}

func bodyOf(polygon [4][2]float64) body {
	mid := func(i, j int) (x, y float64) {
		return (polygon[i][0] + polygon[j][0]) / 2, (polygon[i][1] + polygon[j][1]) / 2
	}
	x0, y0 := mid(0, 3)
	x1, y1 := mid(1, 2)
	length := math.Hypot(x1-x0, y1-y0)
	side := func(i, j int) float64 {
		return math.Hypot(polygon[i][0]-polygon[j][0], polygon[i][1]-polygon[j][1])
	}
	return body{x: (x0 + x1) / 2, y: (y0 + y1) / 2, ux: (x1 - x0) / length, uy: (y1 - y0) / length,
		half: length / 2, rise: (side(0, 3) + side(1, 2)) / 4}
}

func (b body) outline() (out [4]vision.Point) {
	for i, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		along, across := c[0]*b.half, c[1]*b.rise
		out[i] = vision.Point{X: b.x + along*b.ux - across*b.uy, Y: b.y + along*b.uy + across*b.ux}
	}
	return out
}

func (b body) turned(angle float64) body {
	s, c := math.Sincos(angle)
	b.ux, b.uy = b.ux*c-b.uy*s, b.ux*s+b.uy*c
	return b
}

// beside is about the same body: off by what finding may be off, or by much.
func (b body) beside(chance *rand.Rand, much bool) body {
	near := func(spread float64) float64 { return chance.NormFloat64() * spread }
	o := b.turned(near(0.03))
	along, across := near(0.03)*b.half, near(0.07)*b.rise
	stretch, thicken := math.Exp(near(0.05)), math.Exp(near(0.08))
	if much {
		o = b.turned(near(0.08))
		along = (2*chance.Float64() - 1) * 0.7 * b.half
		stretch, thicken = math.Exp(near(0.3)), math.Exp(near(0.35))
		across = near(0.35) * b.rise
	}
	o.x += along*b.ux - across*b.uy
	o.y += along*b.uy + across*b.ux
	o.half *= stretch
	o.rise *= thicken
	return o
}

// across is a box that lies across the body, and may hold several bodies side by
// side: like rings, but not of one body.
func (b body) across(chance *rand.Rand) body {
	o := b.beside(chance, false).turned(math.Pi/2 + 0.5*(chance.Float64()-0.5))
	if chance.Float64() < 0.5 {
		o.half = b.half * math.Exp(1.2*chance.Float64())
		o.rise = o.half / (1.3 + 1.7*chance.Float64())
	}
	return o
}

// newExample labels a strip cut at one body with the truth of another.
func newExample(s *columns.Strip, at body, truth *body) example {
	e := example{detail: s.Detail}
	if truth != nil {
		e.thick = columns.Across(truth.rise / at.rise)
	}
	for r := range s.Pixels {
		for c, p := range s.Pixels[r] {
			for k, v := range p {
				e.pixels[r][c][k] = uint8(v + 0.5)
			}
		}
	}
	const parts = 4 // of a column, each labelled
	for c := range e.target.shares {
		if truth != nil {
			middle, half := at.edges(truth, columns.Along(float64(c)+0.5)*at.half)
			e.target.edges[c] = [columns.Sides]float32{float32(columns.Across((middle - half) / at.rise)), float32(columns.Across((middle + half) / at.rise))}
		}
		for i := range parts {
			class := columns.Outside
			if truth != nil {
				along := columns.Along(float64(c)+(float64(i)+0.5)/parts) * at.half
				x, y := at.x+along*at.ux-truth.x, at.y+along*at.uy-truth.y
				t := ((x*truth.ux+y*truth.uy)/truth.half + 1) / 2
				class = truth.class(t)
				if within(t, truth.hidden) >= 0 {
					e.target.over[c] += 1.0 / parts
				}
			}
			e.target.shares[c][class] += 1.0 / parts
		}
	}
	return e
}

// edges is where, across a box, the axis of another one lies so far along, and how
// far from it its edges do.
func (b body) edges(of *body, along float64) (middle, half float64) {
	cos, sin := of.ux*b.ux+of.uy*b.uy, of.uy*b.ux-of.ux*b.uy // of the turn between them
	x, y := of.x-b.x, of.y-b.y
	u, v := x*b.ux+y*b.uy, y*b.ux-x*b.uy
	return v + (along-u)*sin/cos, of.rise / math.Abs(cos)
}

// class is what a body shows at a share of its length.
func (b *body) class(t float64) columns.Class {
	if t < 0 || t > 1 {
		return columns.Outside
	}
	if i := within(t, b.spans); i >= 0 {
		return columns.Ring + int(b.colours[i])
	}
	return columns.Body
}

// within is the index of the span in which a share of a body's length lies, -1 for none.
func within(t float64, spans [][2]float64) int {
	return slices.IndexFunc(spans, func(s [2]float64) bool { return t >= s[0] && t < s[1] })
}
