package main

import "math"

// solid is what takes up room on the ground: a stretch with a thickness, and
// wires that may lie near others but not on solids.
type solid struct {
	a, b   vec
	radius float64
	wires  [][]vec
}

func (p *part) solid() solid {
	return solid{p.end(0), p.end(1), p.radius, [][]vec{p.leads[0], p.leads[1]}}
}

// fits says whether a solid can lie among others with the given clearance in
// mm. Where cross is false, wires may not cross either.
func (s solid) fits(others []solid, clearance float64, cross bool) bool {
	for _, o := range others {
		if gapBetween(s.a, s.b, o.a, o.b) < s.radius+o.radius+clearance {
			return false
		}
		if wireOnBody(s.wires, o) || wireOnBody(o.wires, s) {
			return false
		}
		if !cross && wiresCross(s.wires, o.wires) {
			return false
		}
	}
	return true
}

func wireOnBody(wires [][]vec, body solid) bool {
	for _, w := range wires {
		for i := 1; i < len(w); i++ {
			if gapBetween(w[i-1], w[i], body.a, body.b) < body.radius+0.35 {
				return true
			}
		}
	}
	return false
}

func wiresCross(a, b [][]vec) bool {
	for _, p := range a {
		for i := 1; i < len(p); i++ {
			for _, q := range b {
				for j := 1; j < len(q); j++ {
					if crossing(p[i-1], p[i], q[j-1], q[j]) {
						return true
					}
				}
			}
		}
	}
	return false
}

// selfCross says whether a part's leads touch its own body, as a hairpin may.
func (p *part) selfCross() bool {
	for _, w := range p.leads {
		for i := 2; i < len(w); i++ {
			if gapBetween(w[i-1], w[i], p.end(0), p.end(1)) < p.radius+p.leadRadius {
				return true
			}
		}
	}
	return false
}

// inFrame says whether the body shows whole, at least margin pixels from the
// photo's edge.
func (s *scene) inFrame(p *part, margin float64) bool {
	width, height := float64(s.cam.width)*s.enlarge(), float64(s.cam.height)*s.enlarge()
	for _, c := range s.outlineOf(p).polygon {
		if c[0] < margin || c[1] < margin || c[0] > width-margin || c[1] > height-margin {
			return false
		}
	}
	return true
}

// showsWhole says whether the body of a thing shows whole, at least five pixels
// from the photo's edge.
func (s *scene) showsWhole(t thing) bool {
	k := s.enlarge()
	x, y := s.cam.project(t.middle())
	margin := s.spanOf(t)/2 + 5
	return x*k > margin && y*k > margin && (float64(s.cam.width)-x)*k > margin && (float64(s.cam.height)-y)*k > margin
}

// spanOf is the longest side of a thing's body in pixels of the photo, as it
// shows across the view; 0 where it is not told.
func (s *scene) spanOf(t thing) float64 {
	side := s.cam.right.times(t.span / 2)
	left, _ := s.cam.project(t.middle().minus(side))
	right, _ := s.cam.project(t.middle().plus(side))
	return (right - left) * s.enlarge()
}

// leastBody is the length of the shortest bodies shown, in pixels of a photo
// of full size.
const leastBody = 40

// large says whether the body shows long enough to be read by eye.
func (s *scene) large(p *part) bool { return s.outlineOf(p).length >= leastBody*s.size }

// somewhere draws a place on the ground that shows in the photo.
func (s *scene) somewhere(d dice, height float64) vec {
	for {
		x, y := d.between(0.02, 0.98), d.between(0.02, 0.98)
		at, ok := s.cam.ground(x*float64(s.cam.width), y*float64(s.cam.height), height)
		if ok {
			return at
		}
	}
}

// scatter lays parts anywhere at any angle; those that find no room are left
// out.
func (s *scene) scatter(d dice, parts []*part, leadLength float64) {
	cross := d.chance(0.3)
	clearance := pickWeighted(d, []weighted[float64]{{0.15, 4}, {1, 56}, {2, 40}})
	for _, p := range parts {
		style := pickWeighted(d, leadStyles)
		for try := range 150 {
			if try%30 == 29 {
				style = "straight"
			}
			p.lay(d, s.somewhere(d, p.radius), d.between(0, 2*math.Pi), leadLength, style)
			if s.inFrame(p, 5) && s.large(p) && !p.selfCross() && p.solid().fits(s.taken, clearance, cross) {
				s.add(p)
				break
			}
		}
	}
}

// heap is how many parts lie against each other at most.
const heap = 4

// touch lays parts side by side so that their bodies touch; those beyond a
// heap are left out.
func (s *scene) touch(d dice, parts []*part, leadLength float64) {
	for i, p := range parts[:min(heap, len(parts))] {
		for range 150 {
			at, angle := s.somewhere(d, p.radius), d.between(0, 2*math.Pi)
			if i > 0 && len(s.parts) > 0 && d.chance(0.9) {
				beside := s.parts[len(s.parts)-1]
				across := vec{-beside.along.z, 0, beside.along.x}.times(d.sign())
				at = beside.middle.plus(across.times((p.radius + beside.radius) * d.between(1.0, 1.05)))
				at = at.plus(beside.along.times(d.near(0, 0.15) * p.length))
				angle = math.Atan2(beside.along.z, beside.along.x) + d.near(0, 0.03)
				if d.chance(0.5) {
					angle += math.Pi
				}
			}
			p.lay(d, at, angle, leadLength, "straight")
			if s.inFrame(p, 5) && s.large(p) && p.solid().fits(s.taken, -0.12, false) {
				s.add(p)
				break
			}
		}
	}
}

// row lays parts side by side at one pitch, as shops show them and bandoliers
// hold them. It reports the middle places and the direction of the row.
func (s *scene) row(d dice, parts []*part, leadLength, angle, pitch float64, style string) {
	across := vec{-math.Sin(angle), 0, math.Cos(angle)}
	offset := d.near(0, 0.5)
	for i, p := range parts {
		step := float64(i) - float64(len(parts)-1)/2
		at := across.times(step * pitch).plus(heading(angle).times(offset + d.near(0, 0.12)))
		turned := angle + d.near(0, 0.012)
		if style == "loose" && d.chance(0.5) {
			turned += math.Pi
		}
		p.lay(d, at, turned, leadLength, "straight")
		if s.inFrame(p, 3) && s.large(p) {
			s.add(p)
		}
	}
}

// cutAcross lays a part so that the photo's edge cuts its body.
func (s *scene) cutAcross(d dice, p *part, leadLength float64) {
	for range 60 {
		x, y := d.between(0.05, 0.95), d.between(0.05, 0.95)
		if d.chance(0.5) {
			x = pick(d, []float64{0, 1})
		} else {
			y = pick(d, []float64{0, 1})
		}
		at, ok := s.cam.ground(x*float64(s.cam.width), y*float64(s.cam.height), p.radius)
		if !ok {
			continue
		}
		p.lay(d, at, d.between(0, 2*math.Pi), leadLength, "straight")
		if p.solid().fits(s.taken, 0.5, false) {
			p.cut = true
			s.add(p)
			return
		}
	}
}

func (s *scene) add(p *part) {
	s.parts = append(s.parts, p)
	s.taken = append(s.taken, p.solid())
}
