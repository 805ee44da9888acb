package main

import (
	"fmt"
	"math"
	"strings"
)

// photoresistor is a round pale disc across whose face a track winds between
// the two dots where its wires come through; the face is under clear lacquer or
// behind glass in a metal rim. Common practice, no source.
func photoresistor(d dice, l look) thing {
	r := pickWeighted(d, []weighted[float64]{{2.5, 55}, {1.9, 10}, {3.4, 15}, {5, 20}}) * d.between(0.94, 1.06)
	thick := r * d.between(0.6, 0.85)
	if r > 3 {
		thick = r * d.between(0.3, 0.5)
	}
	lean := pickWeighted(d, []weighted[float64]{{d.between(0, 0.14), 45}, {d.between(0.35, 1.05), 43}, {math.Pi / 2, 12}})
	wire := d.between(0.2, 0.28)
	p := pose{lean, r*math.Sin(lean) + (thick/2+2*wire)*math.Cos(lean)} // on its wires

	face := fromHex(pick(d, []string{"#e8dcc0", "#efe6d2", "#d8c8a8", "#e8cdb0", "#d9d4c6", "#dcb890"})).varied(d, 4, 0.15, 3)
	track := fromHex(pick(d, []string{"#b0522a", "#a8402a", "#c8743c", "#8a3a24", "#9c5a34"})).varied(d, 4, 0.15, 3)
	rim := r * d.between(0.9, 1.2) // where flats cut the disc, none from r on
	var b strings.Builder
	fmt.Fprintf(&b, "intersection { cylinder { <0,%.3f,0>,<0,%.3f,0>,%.3f } box { <%.3f,-9,-9>,<%.3f,9,9> } %s }\n",
		-thick/2, thick/2, r, -rim, rim, worn(d, face, 1, l.age))
	fmt.Fprintf(&b, "union {%s scale <1,0.06,1> translate y*%.3f %s }\n",
		wirePov(winding(d, r), r*d.between(0.035, 0.06)), thick/2, worn(d, track, 1, l.age))
	gap := r * d.between(1.2, 1.45)
	for _, side := range []float64{-1, 1} {
		fmt.Fprintf(&b, "sphere { 0,%.3f scale <1,0.3,1> translate <0,%.3f,%.3f> %s }\n", r*d.between(0.09, 0.14), thick/2, side*gap/2, metalTexture(steel))
	}
	if d.chance(0.15) {
		fmt.Fprintf(&b, "torus { %.3f,%.3f translate y*%.3f %s } cylinder { <0,%.3f,0>,<0,%.3f,0>,%.3f open %s }\n",
			r, r*0.08, thick/2, metalTexture(steel), -thick/2, thick/2, r*1.03, metalTexture(steel))
	}
	legs := p.pigtails(d, vec{0, -thick / 2, 0}, gap, d.between(10, 28), wire)
	return thing{kind: "photoresistor", text: p.pov(b.String()) + wound(legs, wire, drawWire(d, l.age).pov()),
		half: r * 1.05, radius: r * 1.05, span: 2 * r, high: p.height, wires: legs}
}

// winding is the track on a face of the given radius: rows along x, joined at
// their ends in turn.
func winding(d dice, r float64) []vec {
	rows := 5 + d.IntN(4)
	depth := r * d.between(0.42, 0.52)
	var path []vec
	for i := range rows {
		z := depth * (2*float64(i)/float64(rows-1) - 1)
		reach := 0.8 * math.Sqrt(r*r-z*z)
		if i%2 == 0 {
			reach = -reach
		}
		path = append(path, vec{-reach, 0, z}, vec{reach, 0, z})
	}
	return path
}
