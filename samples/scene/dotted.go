package main

import (
	"math"

	"ringwise/decode"
	"ringwise/decode/series"
)

// dot is a round dab of paint on a body's side.
type dot struct {
	paint  rgb
	t      float64 // where its middle lies, fraction of the body's length
	radius float64 // mm
}

// dotCover is the share of the dot's paint at a point, 0 to 1.
func (b *brush) dotCover(t, turn float64) float64 {
	o := b.skin.dot
	along := (t - o.t) * b.part.length
	across := (turn - upper) * 2 * math.Pi * b.part.radius
	ragged := 1 + 0.35*(b.long.rough(5+math.Atan2(across, along), 3)-0.5)
	return 1 - smoothstep(0.92, 1.06, math.Hypot(along, across)/(o.radius*ragged))
}

// dottedResistor is an old composition resistor whose value its colours give
// without rings: the whole body is the first digit, one end the second, and a
// dot on the side the multiplier; the other end may be gold or silver for the
// tolerance. From memory of common practice before rings, no source.
func dottedResistor(d dice, p *part, l look) {
	p.shape = pickWeighted(d, []weighted[shape]{{cylinder, 85}, {straight, 15}})
	p.length = d.between(9, 22)
	p.radius = p.length / (2 * d.between(2.6, 4.6))
	p.leadRadius = d.between(0.36, 0.5)
	for {
		number := pick(d, twoDigits(series.E12))
		body, tip := decode.Colour(number/10), decode.Colour(number%10)
		multiplier := decode.Colour(d.IntN(6))
		marks := []mark{{tip, 0.06, 0.12 + 2*d.between(0.08, 0.2)}}
		if d.chance(0.4) {
			other := pick(d, []decode.Colour{decode.Gold, decode.Silver})
			marks = append(marks, mark{other, 0.94, 0.12 + 2*d.between(0.06, 0.14)})
		}
		p.coated(d, pick(d, ringPaints[body]), d.between(0.05, 0.6), marks...)
		p.skin.body = aged(p.skin.body, l.age)
		for i := range p.skin.rings {
			p.skin.rings[i].paint = aged(p.skin.rings[i].paint, l.age)
		}
		p.skin.dot = &dot{aged(fromHex(pick(d, ringPaints[multiplier])).varied(d, 3, 0.1, 3), l.age),
			d.between(0.48, 0.62), min(p.radius, p.length/8) * d.between(0.5, 0.9)}
		if p.skin.partsPainted() {
			break
		}
	}
	p.skin.edge, p.skin.soft = d.between(0.004, 0.016), d.between(0.004, 0.012) // brushed or dipped by hand
	p.skin.mottle = d.logBetween(0.03, 0.12)
	if d.chance(0.3 + 0.5*l.age) {
		p.skin.chips = d.between(0.01, 0.06) + 0.1*l.age
	}
	if d.chance(0.5) {
		p.skin.specks = d.logBetween(0.002, 0.02)
	}
}

// partsPainted says whether tips and dot stand out from the body.
func (s *skin) partsPainted() bool {
	for _, r := range s.rings {
		if s.body.difference(r.paint) < leastContrast {
			return false
		}
	}
	return s.body.difference(s.dot.paint) >= leastContrast
}
