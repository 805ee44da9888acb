package main

import (
	"fmt"
	"math"
	"strings"
)

// trimmer is a small block with three pins, set with a screwdriver: by a rotor
// on its top, or by a screw at its end. Common practice, no source.
func trimmer(d dice, l look) thing {
	if d.chance(0.25) {
		return screwTrimmer(d, l)
	}
	return rotorTrimmer(d, l)
}

var trimmerBodies = []string{"#2f5fa8", "#3a78b8", "#27508c", "#d8d6cc", "#26272a", "#7a4a2c", "#2f6a4c", "#c8a23c"}

// trimmerCodes are printed values: two digits and how many noughts follow.
var trimmerCodes = []string{"103", "502", "104", "201", "10K", "5K", "W104", "1K"}

// rotorTrimmer is a square block with a round rotor, slotted or crossed.
func rotorTrimmer(d dice, l look) thing {
	side, thick := d.between(6, 10), d.between(3.4, 5.2)
	tone := fromHex(pick(d, trimmerBodies)).varied(d, 4, 0.1, 3)
	var b strings.Builder
	fmt.Fprintf(&b, "superellipsoid { <%.2f,0.1> rotate x*90 scale <%.3f,%.3f,%.3f> %s }\n", d.between(0.06, 0.3), side/2, thick/2, side/2, worn(d, tone, d.between(0.2, 0.7), l.age))
	r := side * d.between(0.26, 0.4)
	b.WriteString(rotor(d, r, l.age, thick/2, d.between(0.2, 1)))
	if r < side*0.34 && d.chance(0.6) {
		fmt.Fprintf(&b, "union { %stranslate z*%.3f }\n", printed(pick(d, trimmerCodes), side*0.4, thick/2, inkOn(tone)), -side*0.42)
	}
	pin := d.between(2.5, 4.5)
	across := side * d.between(0.2, 0.32)
	at := [3][2]float64{{side * 0.25, -across}, {side * 0.25, across}, {side * -0.25 * pick(d, []float64{-1, 1}), 0}}
	p := pose{0, thick / 2}
	turned := pickWeighted(d, []weighted[string]{{"flat", 45}, {"on its pins", 43}, {"on its side", 12}})
	switch turned {
	case "on its pins":
		p.lean = math.Atan(pin / (at[0][0] + side/2))
	case "on its side":
		p.lean = math.Pi / 2
	}
	p.height = side/2*math.Sin(p.lean) + thick/2*math.Cos(p.lean)
	metal := drawWire(d, l.age).pov()
	for _, foot := range at {
		x, z := foot[0], foot[1]
		if turned == "flat" { // bent aside
			out := side / 2 * math.Copysign(1, x)
			fmt.Fprintf(&b, "box { <%.3f,%.3f,%.3f>,<%.3f,%.3f,%.3f> %s }\n", min(x, out+math.Copysign(pin, x)), -thick/2, z-0.4, max(x, out+math.Copysign(pin, x)), -thick/2+0.3, z+0.4, metal)
			continue
		}
		fmt.Fprintf(&b, "box { <%.3f,%.3f,%.3f>,<%.3f,%.3f,%.3f> %s }\n", x-0.15, -thick/2-pin, z-0.35, x+0.15, -thick/2, z+0.35, metal)
	}
	return thing{kind: "trimmer", text: p.pov(b.String()), half: side/2 + pin, radius: side * 0.6, span: side, high: p.height}
}

// rotor is a round knob upon a top, with a slot or a cross cut into it.
func rotor(d dice, r, age, top, rise float64) string {
	tone := fromHex(pick(d, []string{"#e8e4d8", "#d8d0bc", "#c8763a", "#2a2a2c", "#3a6fb0"})).varied(d, 4, 0.1, 3)
	coat := worn(d, tone, 0.4, age)
	if d.chance(0.4) {
		coat = metalTexture(pick(d, []rgb{steel, brass}))
	}
	cut := r * d.between(0.1, 0.18)
	slot := fmt.Sprintf("box { <%.3f,%.3f,%.3f>,<%.3f,%.3f,%.3f> %s }\n", -r*0.85, top+rise*0.3, -cut, r*0.85, top+rise+1, cut, solidColour(aged(rgb{0.03, 0.03, 0.03}, age), 0))
	slots := slot
	if d.chance(0.5) {
		slots += "object { " + slot + "rotate y*90 }\n"
	}
	return fmt.Sprintf("difference { cylinder { <0,%.3f,0>,<0,%.3f,0>,%.3f %s }\n%srotate y*%.1f }\n", top-0.5, top+rise, r, coat, slots, d.between(0, 180))
}

// screwTrimmer is a longer block with a brass screw at one end, its pins at
// its side.
func screwTrimmer(d dice, l look) thing {
	long, wide, thick := d.between(9, 19), d.between(6, 9), d.between(4.6, 5.4)
	tone := fromHex(pick(d, trimmerBodies)).varied(d, 4, 0.1, 3)
	var b strings.Builder
	fmt.Fprintf(&b, "superellipsoid { <0.08,0.08> scale <%.3f,%.3f,%.3f> %s }\n", long/2, thick/2, wide/2, worn(d, tone, d.between(0.2, 0.7), l.age))
	r := d.between(0.9, 1.3)
	fmt.Fprintf(&b, "difference { cylinder { <%.3f,0,0>,<%.3f,0,0>,%.3f } box { <%.3f,-0.25,-9>,<%.3f,0.25,9> rotate x*%.1f } %s translate z*%.3f }\n",
		long/2, long/2+1.3, r, long/2+0.7, long/2+2, d.between(-60, 60), metalTexture(brass), wide*0.2)
	if d.chance(0.8) {
		b.WriteString(printed(pick(d, trimmerCodes), long*d.between(0.35, 0.6), thick/2, inkOn(tone)))
	}
	metal := drawWire(d, l.age).pov()
	pin := d.between(3, 5)
	for _, x := range []float64{-0.3, pick(d, []float64{-0.1, 0.05}), 0.25} {
		fmt.Fprintf(&b, "cylinder { <%.3f,0,%.3f>,<%.3f,%.3f,%.3f>,0.28 %s }\n", x*long, -wide/2, x*long, d.between(-0.8, 0.4), -wide/2-pin, metal)
	}
	p := pose{0, thick / 2}
	return thing{kind: "trimmer", text: p.pov(b.String()), half: long/2 + 1.5, radius: wide*0.5 + pin*0.6, span: long, high: p.height}
}

// inkOn is the pigment of print that shows on a body.
func inkOn(body rgb) string {
	if body.luminance() > 0.3 {
		return "rgb 0.03"
	}
	return "rgb 0.7"
}
