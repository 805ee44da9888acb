package main

import "math"

// heaped is a photo of parts emptied out of a bag: they lie on each other, and
// leads across bodies. A part hidden so far that its rings cannot all be read is none
// to measure by.
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
			other.pierced(one.wires) || one.pierced(other.wires) {
			return true
		}
	}
	return false
}

// wireRadius is the radius in mm that wires are taken to have.
const wireRadius = 0.3

// pierced says whether wires reach into the solid.
func (o solid) pierced(wires [][]vec) bool {
	for _, w := range wires {
		for i := 1; i < len(w); i++ {
			if apart(w[i-1], w[i], o.a, o.b) < o.radius+wireRadius {
				return true
			}
		}
	}
	return false
}
