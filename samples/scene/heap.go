package main

import "math"

// heaped is a photo of parts emptied out of a bag: they lie on each other, and
// leads across bodies. What is hidden of a part so far that its rings cannot all be
// read is no part to measure by.
func heaped(d dice, s *scene, size float64) {
	frame := pickWeighted(d, []weighted[[2]int]{{[2]int{1600, 1200}, 15}, {[2]int{1280, 960}, 35}, {[2]int{1024, 768}, 50}})
	s.frame(d, frame, size, d.logBetween(70, 190), drawTilt(d)*0.6)
	s.ground = pickWeighted(d, groundKinds)(d)
	s.light = drawLighting(d, [2]float64{2800, 7500}, []weighted[string]{{"window", 40}, {"lamp", 25}, {"overcast", 25}, {"flash", 10}})
	s.phone(d)
	s.arrangement = "heap"
	l := look{age: math.Max(0, d.near(0.1, 0.2))}
	area := float64(s.cam.width*s.cam.height) / (s.pxPerMM * s.pxPerMM)
	var parts []*part
	for range int(max(6, min(24, area/d.between(60, 200)))) {
		parts = append(parts, dressed(d, newResistor(d, l), l))
	}
	s.approach(parts)
	s.emptyOut(d, parts, d.between(10, 24))
	for _, p := range s.parts {
		p.cut = !s.inFrame(p, 5) // higher up it shows farther out
		p.covered = s.covers(p)
	}
}

// emptyOut drops parts about the middle, each on what lies there already. Those that
// would not show whole are left out. Now and then most point the same way.
func (s *scene) emptyOut(d dice, parts []*part, leadLength float64) {
	spread := d.between(0.15, 0.3)
	way, turned := d.between(0, 2*math.Pi), 2.0
	if d.chance(0.3) {
		turned = 0.25
	}
	for _, p := range parts {
		for range 40 {
			x, y := d.near(0.5, spread), d.near(0.5, spread)
			at, ok := s.cam.ground(x*float64(s.cam.width), y*float64(s.cam.height), p.radius)
			if !ok {
				continue
			}
			angle := way + d.near(0, turned)
			if d.chance(0.5) {
				angle += math.Pi
			}
			p.lay(d, at, angle, leadLength, pickWeighted(d, []weighted[string]{{"straight", 60}, {"curved", 30}, {"kinked", 10}}))
			if s.inFrame(p, 5) && s.large(p) {
				s.settle(p)
				break
			}
		}
	}
}

// settle lets a part come to rest on those that lie there.
func (s *scene) settle(p *part) {
	const step = 0.2 // mm
	for _, lead := range p.leads {
		for i := range lead {
			lead[i].y = p.middle.y
		}
	}
	for s.inside(p.solid()) {
		p.raise(step)
	}
	s.add(p)
}

func (p *part) raise(height float64) {
	p.middle.y += height
	for _, lead := range p.leads {
		for i := range lead {
			lead[i].y += height
		}
	}
}

// inside says whether a solid would reach into those that lie there.
func (s *scene) inside(one solid) bool {
	for _, other := range s.taken {
		if apart(one.a, one.b, other.a, other.b) < one.radius+other.radius ||
			other.lies(one.wires) || one.lies(other.wires) {
			return true
		}
	}
	return false
}

// thinnest is the radius in mm that wires are taken to have.
const thinnest = 0.3

// lies says whether wires reach into the solid.
func (o solid) lies(wires [][]vec) bool {
	for _, w := range wires {
		for i := 1; i < len(w); i++ {
			if apart(w[i-1], w[i], o.a, o.b) < o.radius+thinnest {
				return true
			}
		}
	}
	return false
}

// covers says whether other parts hide an end of a part, or half of one of its rings,
// from the camera.
func (s *scene) covers(p *part) bool {
	const end = 0.06 // of the body's length
	stretches := [][2]float64{{0, end}, {1 - end, 1}}
	for _, m := range p.marks {
		stretches = append(stretches, [2]float64{m.centre - m.width/2, m.centre + m.width/2})
	}
	for _, stretch := range stretches {
		hidden := 0.0
		for _, share := range []float64{0.15, 0.5, 0.85} {
			hidden += s.hiddenAt(p, stretch[0]+share*(stretch[1]-stretch[0])) / 3
		}
		if hidden > 0.5 {
			return true
		}
	}
	return false
}

// hiddenSpans is where other parts hide a fifth or more of what would be seen across
// a part, as shares of its length.
func (s *scene) hiddenSpans(p *part) (spans [][2]float64) {
	const steps, least = 100, 0.2
	for i := range steps {
		from, to := float64(i)/steps, float64(i+1)/steps
		switch last := len(spans) - 1; {
		case s.hiddenAt(p, (from+to)/2) < least:
		case last >= 0 && spans[last][1] == from:
			spans[last][1] = to
		default:
			spans = append(spans, [2]float64{from, to})
		}
	}
	return spans
}

// hidden is how much of what would be seen of a part others hide from the camera.
func (s *scene) hidden(p *part) (share float64) {
	const steps = 40
	for i := range steps {
		share += s.hiddenAt(p, (float64(i)+0.5)/steps) / steps
	}
	return share
}

// hiddenAt is how much of what would be seen of a part at a share of its length other
// parts hide from the camera.
func (s *scene) hiddenAt(p *part, along float64) float64 {
	sight := s.cam.at.minus(p.middle)
	up := sight.minus(p.along.times(sight.dot(p.along))).unit()
	side := p.along.cross(up)
	middle := p.end(0).plus(p.along.times(along * p.length))
	const points = 9
	hidden := 0.0
	for i := range points {
		across := (2*float64(i)+1)/points - 1
		if s.hides(middle.plus(side.times(p.radius*across)).plus(up.times(p.radius*math.Sqrt(1-across*across))), p) {
			hidden += 1.0 / points
		}
	}
	return hidden
}

// hides says whether anything but a part itself stands between a place on it and the
// camera.
func (s *scene) hides(place vec, of *part) bool {
	for _, p := range s.parts {
		o := p.solid()
		if p == of {
			continue
		}
		if apart(place, s.cam.at, o.a, o.b) < o.radius {
			return true
		}
		for _, w := range o.wires {
			for i := 1; i < len(w); i++ {
				if apart(place, s.cam.at, w[i-1], w[i]) < p.leadRadius {
					return true
				}
			}
		}
	}
	return false
}
