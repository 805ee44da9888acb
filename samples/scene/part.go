package main

import (
	"math"

	"ringwise/decode"
)

// shape is the outline of a body of revolution.
type shape string

const (
	dogbone  shape = "dogbone"  // two bulged caps on a thinner middle
	straight shape = "straight" // even thickness, rounded ends
	cylinder shape = "cylinder" // even thickness, flat ends with a small bevel
	waisted  shape = "waisted"  // one smooth hollow from end to end
)

// part is an axial part with two leads: a resistor, or a thing like one.
type part struct {
	kind string // "resistor", or what it is instead
	meaning
	shape          shape
	watt           string
	length, radius float64 // mm, without leads and necks
	neck           float64 // mm of lacquer run out on each lead
	leadRadius     float64 // mm
	profile        []station
	spacing        string // "gap" (wide before the last ring) or "even"
	marks          []mark // where the rings sit, in reading order
	undecided      bool   // nothing tells the first ring from the last
	skin           skin
	wire           wire

	middle  vec // of the axis
	along   vec // unit vector from the first ring's end to the last's
	spin    float64
	leads   [2][]vec // middle lines from the body outwards, first ring's end first
	cut     bool     // the photo's edge cuts the body
	covered bool     // others hide some of its rings, or an end
}

// station is one step of an outline: distance along the axis from the first
// ring's end, and radius there, in mm.
type station struct{ along, radius float64 }

// mark is the place of a ring as fractions of the body's length.
type mark struct {
	colour        decode.Colour
	centre, width float64
}

// build is a size of resistor as the catalogues give it, in mm.
type build struct {
	watt           string
	length, radius [2]float64
	lead           float64
}

// builds are the common sizes; common practice, no source.
var builds = []weighted[build]{
	{build{"1/8", [2]float64{3.0, 3.9}, [2]float64{0.80, 0.98}, 0.22}, 12},
	{build{"1/4", [2]float64{5.6, 7.0}, [2]float64{1.05, 1.28}, 0.28}, 50},
	{build{"1/2", [2]float64{8.2, 10.2}, [2]float64{1.5, 1.78}, 0.33}, 20},
	{build{"1", [2]float64{10.5, 12.5}, [2]float64{2.1, 2.6}, 0.38}, 9},
	{build{"2", [2]float64{14, 16}, [2]float64{2.4, 3.0}, 0.4}, 6},
	{build{"3", [2]float64{15, 18}, [2]float64{2.8, 3.4}, 0.42}, 3},
}

// newResistor draws a resistor without placing it.
func newResistor(d dice, looks look) *part {
	rings := pickWeighted(d, []weighted[int]{{4, 50}, {5, 38}, {6, 6}, {3, 4}, {1, 2}})
	return resistorOf(d, looks, drawMeaning(d, rings))
}

// resistorOf draws the body for a given meaning.
func resistorOf(d dice, looks look, m meaning) *part {
	p := &part{kind: "resistor", meaning: m}
	p.shape = drawShape(d, len(m.Rings))
	p.size(d)
	p.placeRings(d)
	p.skin = drawSkin(d, p, looks, resistorBodies(len(m.Rings)))
	return p
}

func drawShape(d dice, rings int) shape {
	switch {
	case rings == 3:
		return pickWeighted(d, []weighted[shape]{{cylinder, 70}, {dogbone, 15}, {straight, 15}})
	case rings <= 4:
		return pickWeighted(d, []weighted[shape]{{dogbone, 58}, {straight, 17}, {cylinder, 13}, {waisted, 12}})
	}
	return pickWeighted(d, []weighted[shape]{{straight, 50}, {dogbone, 32}, {waisted, 13}, {cylinder, 5}})
}

// size draws the part's measures and its outline.
func (p *part) size(d dice) {
	b := pickWeighted(d, builds)
	p.watt = b.watt
	p.length = d.between(b.length[0], b.length[1])
	p.radius = d.between(b.radius[0], b.radius[1])
	p.leadRadius = b.lead * d.between(0.9, 1.15)
	p.outline(d)
}

// outline draws the profile for the part's shape.
func (p *part) outline(d dice) {
	if p.shape == cylinder {
		bevel := p.radius * d.between(0.04, 0.16)
		p.neck = 0
		p.profile = cylinderProfile(p.length, p.radius, bevel)
		return
	}
	p.neck = p.length * d.between(0.01, 0.10)
	round := p.radius * d.between(0.45, 1.0)
	middle := func(float64) float64 { return 1 }
	switch p.shape {
	case dogbone:
		slim := d.between(0.72, 0.93)
		capEnd, slope := d.between(0.17, 0.27), d.between(0.05, 0.12)
		middle = func(t float64) float64 {
			inside := min(t, 1-t)
			return 1 - (1-slim)*smoothstep(capEnd, capEnd+slope, inside)
		}
	case waisted:
		hollow := d.between(0.07, 0.2)
		middle = func(t float64) float64 { return 1 - hollow*(1-math.Pow(2*t-1, 2)) }
	case straight:
		belly := d.between(-0.01, 0.03)
		middle = func(t float64) float64 { return 1 - belly*math.Pow(2*t-1, 2) }
	}
	end := math.Max(p.leadRadius*1.5, p.radius*d.between(0.25, 0.5))
	p.profile = roundedProfile(p.length, p.radius, round, end, p.leadRadius, p.neck, middle)
}

func cylinderProfile(length, radius, bevel float64) []station {
	var half []station
	for i := 0; i <= 6; i++ {
		a := float64(i) / 6 * math.Pi / 2
		half = append(half, station{bevel * (1 - math.Cos(a)), radius - bevel + bevel*math.Sin(a)})
	}
	half = append(half, station{bevel * 1.3, radius}, station{length * 0.3, radius})
	return mirrored(half, length)
}

// roundedProfile gives a body that starts on the lead, widens through a neck
// to the radius end, and rounds over the given distance to its full radius.
func roundedProfile(length, radius, round, end, lead, neck float64, middle func(float64) float64) []station {
	var half []station
	half = append(half, station{-neck, lead * 1.02})
	for _, t := range []float64{0.4, 0.75} {
		half = append(half, station{-neck * (1 - t), lead + (end-lead)*t*t})
	}
	const steps = 8
	for i := 0; i <= steps; i++ {
		a := float64(i) / steps * math.Pi / 2
		s := round * (1 - math.Cos(a))
		half = append(half, station{s, (end + (radius-end)*math.Sin(a)) * middle(s/length)})
	}
	for t := round/length + 0.02; t < 0.49; t += 0.025 {
		half = append(half, station{t * length, radius * middle(t)})
	}
	return mirrored(half, length)
}

// mirrored completes an outline from its first half.
func mirrored(half []station, length float64) []station {
	full := append([]station{}, half...)
	for i := len(half) - 1; i >= 0; i-- {
		full = append(full, station{length - half[i].along, half[i].radius})
	}
	return full
}

// placeRings draws the spacing and places the part's rings.
func (p *part) placeRings(d dice) {
	n := len(p.Rings)
	p.spacing = "even"
	if n == 1 {
		p.marks = []mark{{p.Rings[0], d.between(0.46, 0.54), d.between(0.07, 0.15)}}
		return
	}
	if d.chance(0.7) {
		p.spacing = "gap"
	}
	first, last, stretch := 0.0, 0.0, 1.0
	switch {
	case n == 3:
		pitch := d.between(0.13, 0.19)
		first = d.between(0.09, 0.17)
		last = first + 2*pitch
		if p.spacing == "even" {
			last = 1 - first - d.between(0, 0.12)
		}
	case p.spacing == "gap":
		stretch = d.between(1.35, 2.3)
		first, last = d.between(0.09, 0.2), 1-d.between(0.09, 0.24)
	default:
		stretch = d.between(0.97, 1.1)
		first = d.between(0.09, 0.2)
		last = 1 - first - d.near(0, 0.03)
	}
	if p.shape == cylinder && n > 3 && d.chance(0.5) {
		last -= d.between(0, 0.12)
	}
	steps := float64(n - 2)
	if n > 3 {
		steps += stretch
	} else {
		steps = 2
	}
	pitch := (last - first) / steps
	width := pitch * d.between(0.32, 0.66)
	width = min(width, 0.135)
	wideLast := 1.0
	if p.spacing == "gap" && n >= 5 && d.chance(0.3) || d.chance(0.06) {
		wideLast = d.between(1.25, 1.7)
	}
	p.marks = nil
	for i, c := range p.Rings {
		m := mark{c, first + float64(i)*pitch + d.near(0, 0.004), width * d.near(1, 0.04)}
		if i == n-1 {
			m.centre = last
			m.width *= wideLast
		}
		p.marks = append(p.marks, m)
	}
	if d.chance(0.005) && n == 4 {
		p.marks[0].width = min(p.marks[0].width*1.9, pitch*0.95)
		p.oddity = "double-width first ring: wire-wound"
	}
	p.undecided = p.spacing == "even" && wideLast == 1
}

func smoothstep(lo, hi, x float64) float64 {
	t := max(0, min(1, (x-lo)/(hi-lo)))
	return t * t * (3 - 2*t)
}

// end is the middle of the first ring's end face (0) or of the last's (1).
func (p *part) end(which int) vec {
	return p.middle.plus(p.along.times(p.length * (float64(which) - 0.5)))
}

// lay puts the body on the ground at a place, heading the given way, and
// gives it leads.
func (p *part) lay(d dice, at vec, angle float64, leadLength float64, style string) {
	p.middle = vec{at.x, p.radius, at.z}
	p.along = heading(angle)
	p.spin = d.between(0, 2*math.Pi)
	bend := d.sign()
	for which := range p.leads {
		out := p.along.times(float64(2*which - 1))
		from := p.end(which).minus(out.times(0.3 * p.length * 0.1))
		turn := bend
		if which == 0 {
			turn = -bend
		}
		p.leads[which] = leadPath(d, from, out, leadLength*d.between(0.85, 1.15), p.leadRadius, style, turn)
	}
}
