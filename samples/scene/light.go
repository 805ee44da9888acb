package main

import (
	"fmt"
	"math"
	"strings"
)

// headroom is by how much the scene is darkened for POV-Ray, so that glints
// up to that many times as bright as white paper are not cut off.
const headroom = 4

// lighting is the light of a scene. White paper at its middle gets a
// brightness of about 1.
type lighting struct {
	kind       string // window, lamp, overcast, flash, two lamps
	kelvin     float64
	fillKelvin float64 // of the light that comes from the whole room
	lamps      []lamp
	dome       float64 // share of the light from overhead, without a shadow
	ambient    float64 // share that reaches everywhere
	room       float64 // brightness of the walls as they mirror in parts
}

// lamp is one source that throws shadows.
type lamp struct {
	from  vec     // direction and distance, mm
	size  float64 // side of the shining square, mm; 0 for a point
	power float64 // share of the light
}

// drawLighting draws a lamp of one of the usual kinds.
func drawLighting(d dice, kelvin [2]float64, kinds []weighted[string]) lighting {
	l := lighting{kind: pickWeighted(d, kinds), kelvin: math.Round(d.between(kelvin[0], kelvin[1]))}
	l.fillKelvin = l.kelvin
	if d.chance(0.3) {
		l.fillKelvin = math.Max(2700, math.Min(8000, l.kelvin*d.near(1, 0.12)))
	}
	l.room = d.between(0.2, 0.9)
	around := d.between(0, 2*math.Pi)
	from := func(elevation, distance float64) vec {
		flat := heading(around).times(distance * math.Cos(elevation))
		return vec{flat.x, distance * math.Sin(elevation), flat.z}
	}
	rad := math.Pi / 180
	switch l.kind {
	case "window":
		l.lamps = []lamp{{from(d.between(25, 60)*rad, 900), d.between(350, 800), d.between(0.45, 0.7)}}
	case "lamp":
		l.lamps = []lamp{{from(d.between(35, 80)*rad, d.between(280, 600)), d.between(0, 50), d.between(0.55, 0.85)}}
	case "flash":
		l.lamps = []lamp{{from(d.between(75, 88)*rad, d.between(150, 350)), d.between(0, 8), d.between(0.6, 0.9)}}
	case "two lamps":
		first := lamp{from(d.between(35, 70)*rad, 500), d.between(10, 120), d.between(0.3, 0.5)}
		around += d.between(1.2, 4)
		l.lamps = []lamp{first, {from(d.between(35, 70)*rad, 500), d.between(10, 120), d.between(0.15, 0.3)}}
	default: // overcast, softbox
		l.lamps = []lamp{{from(d.between(60, 88)*rad, 800), d.between(600, 1100), d.between(0.3, 0.5)}}
	}
	rest := 1.0
	for _, lamp := range l.lamps {
		rest -= lamp.power
	}
	l.dome = rest * d.between(0.4, 0.7)
	l.ambient = rest - l.dome
	return l
}

// pov is the lighting as POV-Ray text: sources that shine, and shining faces
// to be mirrored in varnish and metal. The floor is the ground's mean colour,
// whose light comes back from below.
func (l lighting) pov(floor rgb) string {
	var b strings.Builder
	main, fill := lampColour(l.kelvin), lampColour(l.fillKelvin)
	fmt.Fprintf(&b, "#default { finish { ambient 1 diffuse 0.9 } }\n")
	fmt.Fprintf(&b, "global_settings { ambient_light %s }\n", fill.times(l.ambient/headroom).pov())
	for _, lamp := range l.lamps {
		lift := 1 / lamp.from.unit().y // so that the power is what level ground gets
		fmt.Fprintf(&b, "light_source { %s %s %s }\n", povVec(lamp.from),
			main.times(lamp.power*math.Min(lift, 1.9)*1.05/headroom).pov(), areaPov(lamp.from, lamp.size))
		fmt.Fprint(&b, shiningFace(lamp.from, max(lamp.size, 14), main.times(lamp.face()/headroom)))
	}
	fmt.Fprintf(&b, "light_source { <40,420,-60> %s shadowless }\n", fill.times(l.dome/headroom).pov())
	bounced := main.through(floor).times(0.28 / headroom)
	fmt.Fprintf(&b, "light_source { <0,-400,0> %s shadowless }\n", bounced.pov())
	wall := fill.times(l.room / headroom)
	fmt.Fprintf(&b, "sky_sphere { pigment { gradient y color_map { [0 %s][0.25 %s][0.6 %s][1 %s] } } }\n",
		wall.times(0.25).pov(), wall.pov(), wall.times(0.6).pov(), wall.times(1.8).pov())
	return b.String()
}

// face is the brightness of a lamp's shining face beside white paper that it
// lights with the given share, from the solid angle it fills; at most what
// keeps thin glints from sparkling.
func (l lamp) face() float64 {
	side := max(l.size, 14)
	angle := side * side / l.from.dot(l.from)
	return min(120, math.Pi*l.power/(0.85*angle))
}

// areaPov makes a source a square across its direction.
func areaPov(from vec, size float64) string {
	if size <= 0 {
		return ""
	}
	side := from.cross(vec{0, 1, 0.01}).unit()
	over := from.cross(side).unit()
	n := 3
	if size/from.length() > 0.15 {
		n = 4
	}
	return fmt.Sprintf("area_light %s, %s, %d, %d adaptive 0 jitter", povVec(side.times(size)), povVec(over.times(size)), n, n)
}

// shiningFace is a bright square with a window bar, seen in mirrors only.
func shiningFace(at vec, size float64, c rgb) string {
	side := at.cross(vec{0, 1, 0.01}).unit()
	over := at.cross(side).unit()
	var b strings.Builder
	for _, half := range []float64{-1, 1} {
		middle := at.plus(side.times(half * size * 0.26))
		a, e := side.times(size*0.23), over.times(size*0.5)
		fmt.Fprintf(&b, "polygon { 5, %s,%s,%s,%s,%s texture { pigment { rgb 1 } finish { ambient 0 diffuse 0 emission %s } } no_shadow no_image }\n",
			povVec(middle.minus(a).minus(e)), povVec(middle.plus(a).minus(e)), povVec(middle.plus(a).plus(e)),
			povVec(middle.minus(a).plus(e)), povVec(middle.minus(a).minus(e)), c.pov())
	}
	return b.String()
}

// lampColour is the colour of a glowing body of the given temperature, with
// a brightness of 1. The chromaticity follows the cubic fit of Kim et al.
// (2002) to the Planckian locus, 1667 to 25000 K, from memory; it then goes
// to the primaries of IEC 61966-2-1.
func lampColour(kelvin float64) rgb {
	t := 1000 / kelvin
	var x, y float64
	if kelvin < 4000 {
		x = ((-0.2661239*t-0.2343589)*t+0.8776956)*t + 0.179910
	} else {
		x = ((-3.0258469*t+2.1070379)*t+0.2226347)*t + 0.240390
	}
	switch {
	case kelvin < 2222:
		y = ((-1.1063814*x-1.34811020)*x+2.18555832)*x - 0.20219683
	case kelvin < 4000:
		y = ((-0.9549476*x-1.37418593)*x+2.09137015)*x - 0.16748867
	default:
		y = ((3.0817580*x-5.87338670)*x+3.75112997)*x - 0.37001483
	}
	bigX, bigZ := x/y, (1-x-y)/y
	c := rgb{
		3.2404542*bigX - 1.5371385 - 0.4985314*bigZ,
		-0.9692660*bigX + 1.8760108 + 0.0415560*bigZ,
		0.0556434*bigX - 0.2040259 + 1.0572252*bigZ,
	}
	for i := range c {
		c[i] = math.Max(0.01, c[i])
	}
	return c.times(1 / c.luminance())
}

// contactPov darkens the ground under and beside a body as it hides part of
// the room from there. The hidden share beside a cylinder on the ground is
// that of an endless one at height h, r/h of h²/(x²+h²), times that of a
// stretch seen from aside.
func (l lighting) contactPov(p *part) string {
	high := p.middle.y
	share := (l.dome + l.ambient) * 0.95 * p.radius / high
	half, wide := p.length/2, 5*p.radius
	pigment := fmt.Sprintf("function { %.3f*max(0,1.04/(1+z*z/%.5f)-0.04)*0.5*((%.4f-x)/sqrt(pow(%.4f-x,2)+z*z+%.5f)+(%.4f+x)/sqrt(pow(%.4f+x,2)+z*z+%.5f)) }",
		share, high*high, half, half, high*high*0.3, half, half, high*high*0.3)
	return fmt.Sprintf("polygon { 5, <%.3f,%.3f>,<%.3f,%.3f>,<%.3f,%.3f>,<%.3f,%.3f>,<%.3f,%.3f> rotate x*90 texture { pigment { %s color_map { [0 rgbt <0,0,0,1>][1 rgbt <0,0,0,0>] } } finish { ambient 0 diffuse 0 } } no_shadow no_reflection rotate y*%.3f translate <%.4f,0.004,%.4f> }\n",
		-half-wide, -wide, half+wide, -wide, half+wide, wide, -half-wide, wide, -half-wide, -wide, pigment,
		-math.Atan2(p.along.z, p.along.x)*180/math.Pi, p.middle.x, p.middle.z)
}
