package main

import "math"

// fill draws how many parts there are and lays them out.
func (s *scene) fill(d dice, l look) {
	area := float64(s.cam.width*s.cam.height) / (s.pxPerMM * s.pxPerMM)
	most := int(max(1, min(12, area/160)))
	count := 1 + d.IntN(most)
	if d.chance(0.25) {
		count = most
	}
	var parts []*part
	twin := d.chance(0.12) // many of one kind
	for i := range count {
		p := newResistor(d, l)
		if twin && i > 0 {
			copied := *parts[0]
			p = &copied
		}
		parts = append(parts, dressed(d, p, l))
	}
	s.approach(parts)
	leadLength := d.between(9, 28)
	s.arrange(d, parts, leadLength, pickWeighted(d, arrangements))
}

// approach moves the camera nearer until the shortest body is large enough
// however it lies.
func (s *scene) approach(parts []*part) {
	shortest := parts[0].length
	for _, p := range parts {
		shortest = min(shortest, p.length)
	}
	needed := 1.1 * leastBody * s.size / (shortest * math.Cos(s.cam.tilt))
	if s.pxPerMM < needed {
		s.dolly(needed / s.pxPerMM)
	}
}

// dolly moves the camera so that all looks k times as large.
func (s *scene) dolly(k float64) {
	s.pxPerMM *= k
	s.cam = lookDown(s.cam.width, s.cam.height, s.cam.tilt, s.cam.halfWidth, s.pxPerMM)
}

// arrangements are the ways parts lie on a bench.
var arrangements = []weighted[string]{{"scattered", 82}, {"touching", 4}, {"row", 8}, {"taped", 6}}

// arrange lays parts in one of the arrangements.
func (s *scene) arrange(d dice, parts []*part, leadLength float64, arrangement string) {
	s.arrangement = arrangement
	switch arrangement {
	case "scattered":
		s.scatter(d, parts, leadLength)
	case "touching":
		s.touch(d, parts, leadLength)
	case "row", "taped":
		s.bandolier(d, parts, leadLength)
	}
	for len(s.parts) == 0 { // nothing fitted: come back a little
		if s.last(d, parts[0]); len(s.parts) == 0 {
			s.dolly(0.8)
		}
	}
}

// last lays one part at the middle where no draw found room, as long as it
// may be in the frame.
func (s *scene) last(d dice, p *part) {
	s.arrangement = "scattered"
	for _, angle := range []float64{0, math.Pi / 2, math.Pi / 4} {
		p.lay(d, vec{}, angle+d.near(0, 0.05), 9, "straight")
		if s.inFrame(p, 3) {
			s.add(p)
			return
		}
	}
}

// dressed gives a part the metal of its leads.
func dressed(d dice, p *part, l look) *part {
	p.wire = drawWire(d, l.age)
	return p
}

// bandolier lays parts in a row, taped or loose.
func (s *scene) bandolier(d dice, parts []*part, leadLength float64) {
	thick := 0.0
	for _, p := range parts {
		thick = max(thick, 2*p.radius)
	}
	pitch := thick + pick(d, []float64{0.6, 1.5, 2.5, 4})
	angle := d.between(0, 2*math.Pi)
	style := "loose"
	if s.arrangement == "taped" {
		style = "taped"
		leadLength = 20
		s.tape = tapes(d, parts, angle, pitch, leadLength)
	}
	s.row(d, parts, leadLength, angle, pitch, style)
}

// strew lays look-alikes and other things between the parts.
func (s *scene) strew(d dice, count int, l look) {
	for range count {
		if d.chance(0.6) {
			s.scatterOne(d, dressed(d, newLookalike(d, pickWeighted(d, lookalikes), l), l))
			continue
		}
		s.drop(d, pickWeighted(d, thingKinds)(d), false)
	}
}

// drop lays a thing where it finds room, if whole so that its body shows whole.
func (s *scene) drop(d dice, t thing, whole bool) {
	for range 60 {
		t.at, t.angle = s.somewhere(d, 0), d.between(0, 2*math.Pi)
		if t.solid().fits(s.taken, 1, true) && (!whole || s.showsWhole(t)) {
			s.things = append(s.things, t)
			s.taken = append(s.taken, t.solid())
			return
		}
	}
}

func (s *scene) scatterOne(d dice, p *part) {
	for range 80 {
		p.lay(d, s.somewhere(d, p.radius), d.between(0, 2*math.Pi), d.between(8, 24), pickWeighted(d, leadStyles))
		if s.inFrame(p, 4) && !p.selfCross() && p.solid().fits(s.taken, 1, false) {
			s.add(p)
			return
		}
	}
}
