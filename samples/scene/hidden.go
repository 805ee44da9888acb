package main

import "math"

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
// a part, as shares of its outline's length.
func (s *scene) hiddenSpans(p *part, o outline) (spans [][2]float64) {
	const steps, least = 100, 0.2
	before := false
	for i := range steps {
		from, to := float64(i)/steps, float64(i+1)/steps
		over := s.hiddenAt(p, (from+to)/2) >= least
		switch {
		case over && before:
			spans[len(spans)-1][1] = s.shareOf(p, o, to)
		case over:
			spans = append(spans, [2]float64{s.shareOf(p, o, from), s.shareOf(p, o, to)})
		}
		before = over
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
