package main

import "math"

// product is a picture as shops show one: one to three of a kind on white,
// small, and often saved more than once.
func product(d dice, s *scene, size float64) {
	side := pickWeighted(d, []weighted[float64]{{225, 28}, {d.between(200, 300), 27}, {d.between(300, 420), 22}, {d.between(420, 680), 23}})
	aspect := pickWeighted(d, []weighted[float64]{{1, 60}, {0.75, 25}, {0.6, 15}})
	k := 1.0
	if d.chance(0.16) {
		k = d.between(1.3, 2.4)
		s.lens.blocky = d.chance(0.3)
	}
	s.lens.enlarged = k
	width := int(math.Round(side * size / k))
	l := look{drawn: d.chance(0.06)}
	first := dressed(d, newResistor(d, l), l)
	count := pickWeighted(d, []weighted[int]{{1, 58}, {2, 12}, {3, 26}, {5, 4}})
	span := d.between(0.22, 0.72) // of the width, by the body
	if count == 5 {
		span = d.between(0.16, 0.22)
	}
	tilt := d.between(0, 18) * math.Pi / 180
	if d.chance(0.08) {
		tilt = d.between(25, 50) * math.Pi / 180
	}
	span = max(span, 1.1*leastBody/(side*math.Cos(tilt)))
	s.pxPerMM = float64(width) * span / first.length
	s.cam = lookDown(width, int(math.Round(float64(width)*aspect)), tilt, d.between(0.08, 0.3), s.pxPerMM)
	s.arrangement = "row"
	s.shopLight(d, l)
	parts := []*part{first}
	for range count - 1 {
		p := *first
		if d.chance(0.12) {
			other := resistorOf(d, l, drawMeaning(d, max(1, len(first.Rings))))
			other.length, other.radius = first.length, first.radius
			other.outline(d)
			p = *dressed(d, other, l)
		}
		p.skin.seed = d.Uint64()
		parts = append(parts, &p)
	}
	angle := pick(d, []float64{0, 0, 0.5, 0.7, -0.5, -0.75, math.Pi / 2}) + d.near(0, 0.04)
	if d.chance(0.35) {
		angle += math.Pi
	}
	s.row(d, parts, first.length*d.between(0.7, 2.5), angle, first.radius*d.between(3, 4.6), "shop")
	for len(s.parts) == 0 { // too large for the frame at this angle
		if s.last(d, first); len(s.parts) == 0 {
			s.dolly(0.8)
		}
	}
}

// shopLight draws the even light and the retouching of product pictures.
func (s *scene) shopLight(d dice, l look) {
	s.light = drawLighting(d, [2]float64{4500, 6500}, []weighted[string]{{"overcast", 60}, {"window", 25}, {"two lamps", 15}})
	s.ground = whiteSweep(d)
	if d.chance(0.5) || l.drawn {
		s.ground = cutOut(d)
	}
	s.lens.whiten = d.chance(0.8) || s.ground.name == "cut-out white"
	s.lens.balance = "auto"
	s.lens.balanceKelvin = s.light.kelvin * d.near(1, 0.03)
	s.lens.ev = d.between(-0.15, 0.45)
	if s.ground.name == "cut-out white" {
		s.lens.balanceKelvin = 6500
		s.light.kelvin, s.light.fillKelvin = 6500, 6500
		s.lens.ev = d.between(0, 0.12)
	}
	s.lens.softness = d.between(0.3, 0.9)
	s.lens.contrast = d.between(0.1, 0.5)
	s.lens.saturation = d.between(0.85, 1.35)
	if d.chance(0.6) {
		s.lens.sharpen = d.between(0.2, 1.3)
	}
	s.lens.noise = d.logBetween(0.0005, 0.005)
	s.lens.quality = 42 + d.IntN(46)
	if d.chance(0.45) {
		s.lens.earlier = 35 + d.IntN(45)
	}
}
