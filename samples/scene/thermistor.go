package main

import (
	"fmt"
	"math"
	"strings"
)

// thermistor is a bead or a disc with two wires on one side. Common practice,
// no source.
func thermistor(d dice, l look) thing {
	if d.chance(0.5) {
		return beadThermistor(d, l)
	}
	return discThermistor(d, l)
}

// beadThermistor is a drop of resin or glass that runs out on its wires, which
// may be insulated.
func beadThermistor(d dice, l look) thing {
	r := d.between(1.1, 2.4)
	long, end := r*d.between(1, 2.2), r*d.between(0.3, 0.55) // to the middle of the thin end, and its radius
	middle := (long + end - r) / 2
	tone := fromHex(pick(d, []string{"#1c1c1e", "#26231f", "#2c4a38", "#3f6b4a", "#2f4f7c", "#4a2f22", "#a8642c"})).varied(d, 4, 0.1, 3)
	text := fmt.Sprintf("sphere_sweep { linear_spline 2, <0,0,0>,%.3f, <%.3f,%.3f,0>,%.3f tolerance 0.001 %s translate <%.3f,%.3f,0> }\n",
		r, long, (end-r)*d.between(0, 0.9), end, worn(d, tone, d.between(0.4, 1), l.age), -middle, r)
	p := pose{math.Pi / 2, r} // the wires leave level
	wire := d.between(0.12, 0.22)
	legs := p.pigtails(d, vec{0, middle - long, 0}, end*d.between(0.7, 1.2), d.between(10, 32), wire)
	text += wound(legs, wire, drawWire(d, l.age).pov())
	if d.chance(0.4) {
		coat := fromHex(pick(d, []string{"#1f1f20", "#c0282c", "#e0c030", "#e8e6e0", "#8a8c8c"})).varied(d, 4, 0.1, 3)
		for _, path := range legs {
			text += wound([][]vec{path[:len(path)-1]}, wire+d.between(0.15, 0.3), solidColour(coat, 0.5))
		}
	}
	return thing{kind: "thermistor", text: text, half: (long + r + end) / 2, radius: r * 1.1, span: long + r + end, high: r, wires: legs}
}

// discThermistor is a lacquered disc, at times with a printed code.
func discThermistor(d dice, l look) thing {
	r := d.between(2.4, 6)
	thick := d.between(1.5, 2.6)
	tone := fromHex(pick(d, []string{"#1e2022", "#2a2a28", "#24402f", "#35523a", "#5c6a3c", "#3c4a52", "#6a4a2c"})).varied(d, 4, 0.1, 3)
	var b strings.Builder
	coat := worn(d, tone, d.between(0.15, 0.8), l.age)
	fmt.Fprintf(&b, "superellipsoid { <1,%.2f> rotate x*90 scale <%.3f,%.3f,%.3f> %s }\n", d.between(0.25, 0.6), r, thick/2, r, coat)
	gap := min(r*1.3, pick(d, []float64{2.5, 5, 5, 7.5}))
	run := d.between(0, 3) // of lacquer down the wires
	for _, side := range []float64{-1, 1} {
		fmt.Fprintf(&b, "cone { <%.3f,0,%.3f>,%.3f,<%.3f,0,%.3f>,0.3 %s }\n", r*0.6, side*gap/2, thick*0.4, r+run, side*gap/2, coat)
	}
	if d.chance(0.5) {
		b.WriteString(printed(pick(d, []string{"5R", "10K", "47K", "20", "103", "4K7", "8R"}), r*d.between(0.7, 1.1), thick/2, "rgb 0.55"))
	}
	wire := d.between(0.26, 0.42)
	edgewise := pose{math.Pi / 2, thick / 2} // the wires leave level
	legs := edgewise.pigtails(d, vec{0, -r * 0.7, 0}, gap, d.between(8, 24)+r*0.3, wire)
	flat := pose{0, thick / 2}
	return thing{kind: "thermistor", text: flat.pov(b.String()) + wound(legs, wire, drawWire(d, l.age).pov()),
		half: r * 1.05, radius: r * 1.05, span: 2 * r, high: flat.height, wires: legs}
}
