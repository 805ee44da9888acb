package main

import "math"

// What a photo of resistors without ring codes shows, by share: things, and
// axial parts.
var (
	uncodedThings = []weighted[func(dice, look) thing]{
		{photoresistor, 36}, {thermistor, 34}, {trimmer, 30},
	}
	uncodedParts = []weighted[string]{{"dotted resistor", 50}, {"printed resistor", 33}, {"blank body", 17}}
)

// uncoded is a photo of resistors whose value no rings give: they vary with
// light or heat or are set by hand, or their code is printed, or of body, tip
// and dot.
func uncoded(d dice, s *scene, size float64) {
	s.looseThings(d, size, 0.065, 0.14)
	l := look{age: math.Max(0, d.near(0.2, 0.3))}
	for range 8 + d.IntN(6) {
		if d.chance(0.56) {
			s.drop(d, pickWeighted(d, uncodedThings)(d, l), true)
			continue
		}
		before := len(s.parts)
		s.scatterOne(d, dressed(d, newLookalike(d, pickWeighted(d, uncodedParts), l), l))
		if len(s.parts) > before && d.chance(0.7) {
			s.parts[before].turnUp(d)
		}
	}
}

// turnUp turns a part that lies about its axis until its print or dot looks
// up, as a person lays it who wants it seen.
func (p *part) turnUp(d dice) { p.spin = -math.Pi/2 + d.near(0, 0.35) }
