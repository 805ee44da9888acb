package main

import (
	"math"
)

// scene is one photo to be taken.
type scene struct {
	seed        uint64
	style       string  // one of styles
	batch       string  // of photos by one lamp, empty without
	arrangement string  // how the parts lie
	size        float64 // scale of the photo's sides
	cam         camera
	pxPerMM     float64 // at the middle, before enlarging
	ground      ground
	light       lighting
	lens        lens
	parts       []*part
	things      []thing
	taken       []solid
	tape        string // POV-Ray text of paper strips
}

// enlarge is by how much the saved photo is larger than the rendered one.
func (s *scene) enlarge() float64 { return s.lens.enlarged }

// styles are the kinds of scene, with what composes each.
var styles = map[string]func(dice, *scene, float64){
	"hobby": hobby, "clean": clean, "product": product, "negatives": negatives, "batch": batch,
	"uncoded": uncoded, "heap": heaped,
}

// mixture is what style "mixed" draws from.
var mixture = []weighted[string]{{"hobby", 66}, {"clean", 14}, {"product", 20}}

// compose draws the scene of a seed. The size scales the photo's sides.
func compose(seed uint64, style string, size float64) *scene {
	d := newDice(seed, 1)
	if style == "mixed" {
		style = pickWeighted(d, mixture)
	}
	s := &scene{seed: seed, style: style, size: size}
	s.lens = lens{enlarged: 1, saturation: 1, quality: 85, focus: 0.5}
	styles[style](d, s, size)
	return s
}

// frames are photo sizes in pixels.
var frames = []weighted[[2]int]{
	{[2]int{1600, 1200}, 12}, {[2]int{1280, 960}, 20}, {[2]int{1024, 768}, 24}, {[2]int{900, 1200}, 8},
	{[2]int{1280, 720}, 8}, {[2]int{800, 600}, 16}, {[2]int{2016, 1512}, 2}, {[2]int{960, 960}, 6}, {[2]int{640, 480}, 5},
}

// hobby is a photo at the bench, with all that goes wrong there.
func hobby(d dice, s *scene, size float64) {
	frame := pickWeighted(d, frames)
	s.frame(d, frame, size, min(drawBodyPx(d), float64(frame[0])*0.34), drawTilt(d))
	s.ground = pickWeighted(d, groundKinds)(d)
	s.light = drawLighting(d, [2]float64{2800, 7500}, []weighted[string]{
		{"window", 36}, {"lamp", 26}, {"overcast", 18}, {"flash", 8}, {"two lamps", 12}})
	if d.chance(0.35) {
		s.light.kelvin = math.Round(d.between(2800, 3900))
		s.light.fillKelvin = s.light.kelvin
	}
	s.phone(d)
	l := look{age: math.Max(0, d.near(0.15, 0.3))}
	s.fill(d, l)
	if d.chance(0.3) {
		s.strew(d, 1+d.IntN(4), l)
	}
	if d.chance(0.08) {
		s.cutAcross(d, dressed(d, newResistor(d, l), l), 15)
	}
}

// clean is a careful photo: in focus, level, by fair light.
func clean(d dice, s *scene, size float64) {
	frame := pickWeighted(d, frames[:4])
	s.frame(d, frame, size, d.logBetween(95, 300), d.between(0, 15)*math.Pi/180)
	s.ground = pickWeighted(d, groundKinds)(d)
	s.light = drawLighting(d, [2]float64{3500, 7500}, []weighted[string]{{"window", 50}, {"overcast", 40}, {"lamp", 10}})
	s.phone(d)
	s.lens.defocus, s.lens.depth, s.lens.motion = 0, 0, 0
	s.lens.softness = d.between(0.3, 0.7)
	s.lens.noise = min(s.lens.noise, 0.006)
	s.lens.ev = d.near(0.05, 0.2)
	s.lens.quality = 72 + d.IntN(24)
	s.lens.earlier = 0
	s.fill(d, look{age: math.Max(0, d.near(0.05, 0.15))})
}

// negatives is a photo without any resistor that rings give a value.
func negatives(d dice, s *scene, size float64) {
	s.looseThings(d, size, 0.05, 0.13)
	s.strew(d, 10+d.IntN(8), look{age: math.Max(0, d.near(0.1, 0.3))})
}

// looseThings is a phone's photo of things strewn about, none of which gives it
// its scale: a quarter-watt body would take the given shares of its width.
func (s *scene) looseThings(d dice, size, least, most float64) {
	frame := pickWeighted(d, frames)
	s.frame(d, frame, size, d.logBetween(least, most)*float64(frame[0]), drawTilt(d))
	s.ground = pickWeighted(d, groundKinds)(d)
	s.light = drawLighting(d, [2]float64{2800, 7500}, []weighted[string]{{"window", 40}, {"lamp", 25}, {"overcast", 25}, {"flash", 10}})
	s.phone(d)
	s.arrangement = "scattered"
}

// drawBodyPx is the length of a quarter-watt body in pixels: mostly that of a
// photo of a few parts, sometimes of many from afar or of one close by.
func drawBodyPx(d dice) float64 {
	reach := pickWeighted(d, []weighted[[2]float64]{{[2]float64{52, 80}, 14}, {[2]float64{80, 250}, 74}, {[2]float64{250, 400}, 12}})
	return d.logBetween(reach[0], reach[1])
}

// drawTilt is mostly nearly level, sometimes a three-quarter view.
func drawTilt(d dice) float64 {
	reach := pickWeighted(d, []weighted[[2]float64]{{[2]float64{0, 14}, 66}, {[2]float64{14, 25}, 26}, {[2]float64{25, 50}, 8}})
	return d.between(reach[0], reach[1]) * math.Pi / 180
}

// frame sets the camera up so that a quarter-watt body of 6.3 mm spans the
// given number of pixels in a photo of the frame's size.
func (s *scene) frame(d dice, frame [2]int, size, bodyPx, tilt float64) {
	width := int(math.Round(float64(frame[0]) * size))
	height := int(math.Round(float64(frame[1]) * size))
	s.pxPerMM = bodyPx * size / 6.3
	s.cam = lookDown(width, height, tilt, d.between(0.22, 0.52), s.pxPerMM)
}

// phone draws what a pocket camera does to the picture.
func (s *scene) phone(d dice) {
	l := &s.lens
	l.balance = pickWeighted(d, []weighted[string]{{"auto", 80}, {"preset", 15}, {"none", 5}})
	switch l.balance {
	case "auto":
		l.balanceKelvin = math.Pow(s.light.kelvin, 0.92) * math.Pow(5600, 0.08) * d.near(1, 0.035)
	case "preset":
		l.balanceKelvin = pick(d, []float64{3200, 4200, 5200, 6000})
		if l.balanceKelvin/s.light.kelvin > 1.25 || s.light.kelvin/l.balanceKelvin > 1.25 {
			l.balanceKelvin = s.light.kelvin * d.near(1, 0.1)
		}
	default:
		l.balanceKelvin = 5500
	}
	l.balanceKelvin = max(2300, min(9500, l.balanceKelvin))
	l.tint = d.near(0, 0.02)
	l.ev = d.near(0.05, 0.25)
	l.softness = d.between(0.35, 0.85)
	switch {
	case d.chance(0.1):
		l.defocus = d.logBetween(0.8, 3.2)
	case d.chance(0.3):
		l.defocus = d.between(0, 0.6)
	}
	if s.cam.tilt > 0.35 && d.chance(0.6) {
		l.depth, l.focus = d.between(1, 4), d.between(0.35, 0.65)
	}
	if d.chance(0.09) {
		l.motion, l.motionAngle = d.logBetween(2, 9), d.between(0, math.Pi)
	}
	l.noise = d.logBetween(0.0015, 0.018)
	l.smear = d.between(0.6, 1.6)
	if d.chance(0.5) {
		l.vignette = d.between(0, 0.4)
	}
	l.contrast = d.between(0, 0.4)
	l.saturation = d.between(0.88, 1.22)
	if d.chance(0.55) {
		l.sharpen = d.between(0.2, 1)
	}
	l.quality = pickWeighted(d, []weighted[int]{{30 + d.IntN(20), 12}, {50 + d.IntN(22), 28}, {72 + d.IntN(23), 60}})
	if d.chance(0.2) {
		l.earlier = 45 + d.IntN(40)
	}
}
