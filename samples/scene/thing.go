package main

import (
	"fmt"
	"math"
	"strings"
)

// thing is an object that is no axial part.
type thing struct {
	kind   string
	text   string  // POV-Ray objects about the origin, its length along x
	half   float64 // half its length, mm
	radius float64 // half its width, mm
	span   float64 // longest side of its body as the truth tells it, mm, 0 to leave that out
	high   float64 // height of its middle as the truth tells it, mm
	wires  [][]vec // middle lines of its leads about the origin, if they keep clear of others
	at     vec
	angle  float64
}

// thingKinds are the things strewn about, by share.
var thingKinds = []weighted[func(dice) thing]{
	{discCapacitor, 16}, {canCapacitor, 10}, {filmCapacitor, 9}, {screw, 12}, {pencil, 8},
	{cementBlock, 12}, {jumperWire, 10}, {washer, 8}, {coin, 7}, {transistor, 7}, {lightDiode, 5},
}

func (t thing) povTurn() float64 { return -t.angle * 180 / math.Pi }

func (t thing) solid() solid {
	reach := heading(t.angle).times(max(0, t.half-t.radius))
	s := solid{a: t.at.minus(reach), b: t.at.plus(reach), radius: t.radius}
	along, aside := heading(t.angle), heading(t.angle+math.Pi/2)
	for _, path := range t.wires {
		var lying []vec
		for _, at := range path {
			lying = append(lying, t.at.plus(along.times(at.x)).plus(aside.times(at.z)))
		}
		s.wires = append(s.wires, lying)
	}
	return s
}

// middle is the place of the thing's middle.
func (t thing) middle() vec { return t.at.plus(vec{0, t.high, 0}) }

const metalFinish = "finish { diffuse 0.35 specular 0.6 roughness 0.02 metallic reflection { 0.5 metallic } }"

func solidColour(c rgb, gloss float64) string {
	return fmt.Sprintf("texture { pigment { %s } finish { diffuse 0.88 specular %.2f roughness 0.02 reflection { 0, %.2f falloff 3 } } }", c.pov(), 0.5*gloss, 0.3*gloss)
}

func metalTexture(c rgb) string {
	return fmt.Sprintf("texture { pigment { %s } normal { bumps 0.1 scale 0.4 } %s }", c.pov(), metalFinish)
}

// worn is a paint or plastic as years and hands leave it: blotched, faded,
// and the less glossy the older it is.
func worn(d dice, tone rgb, gloss, age float64) string {
	tone = aged(tone, age)
	gloss *= 1 - 0.6*min(1, age)
	blotch := d.between(0.02, 0.06) + 0.1*age
	return fmt.Sprintf("texture { pigment { bozo turbulence 0.4 color_map { [0 %s][1 %s] } scale %.2f } normal { bumps %.3f scale 0.25 } finish { diffuse 0.88 specular %.2f roughness 0.02 reflection { 0, %.2f falloff 3 } } }",
		tone.times(1-blotch).pov(), tone.times(1+blotch).pov(), d.between(0.6, 2), 0.03+0.1*age, 0.5*gloss, 0.3*gloss)
}

var (
	steel = fromHex("#b4b6b8")
	brass = fromHex("#b89a54")
)

// legs are two parallel wires along x from a place.
func legs(x, gap, length, height float64) string {
	var b strings.Builder
	for _, z := range []float64{-gap / 2, gap / 2} {
		fmt.Fprintf(&b, "cylinder { <%.3f,%.3f,%.3f>,<%.3f,0.3,%.3f>,0.28 %s }\n", x, height, z, x+length, z*1.1, metalTexture(steel))
	}
	return b.String()
}

func discCapacitor(d dice) thing {
	r := d.between(2.2, 5.5)
	tone := fromHex(pick(d, []string{"#c8843c", "#b87a48", "#3f6fae", "#d0a860", "#7a8a4a", "#d8c49a"})).varied(d, 4, 0.1, 3)
	thick := d.between(0.3, 0.42)
	text := fmt.Sprintf("sphere { 0, 1 scale <%.3f,%.3f,%.3f> translate y*%.3f %s }\n", r, r*thick, r, r*thick, solidColour(tone, d.between(0.2, 0.9)))
	return thing{kind: "disc capacitor", text: text + legs(r*0.8, d.between(2.5, 5), d.between(5, 14), r*thick), half: r * 1.05, radius: r}
}

func canCapacitor(d dice) thing {
	r, l := d.between(2.5, 5), d.between(7, 14)
	tone := fromHex(pick(d, []string{"#22262e", "#2c3f78", "#6a3f2c", "#3a6a4a"})).varied(d, 4, 0.1, 3)
	stripe := fromHex(pick(d, []string{"#c8ccc8", "#d8c878", "#8a9098"}))
	text := fmt.Sprintf("cylinder { <%.3f,0,0>,<%.3f,0,0>,%.3f texture { pigment { gradient y color_map { [0 %s][0.8 %s][0.8 %s][1 %s] } scale %.3f translate -y*%.3f rotate x*%.1f } finish { diffuse 0.85 specular 0.4 roughness 0.02 } } translate y*%.3f }\n",
		-l/2, l/2, r, tone.pov(), tone.pov(), stripe.pov(), stripe.pov(), 2*r, r, d.between(-80, 80), r)
	text += fmt.Sprintf("cylinder { <%.3f,%.3f,0>,<%.3f,%.3f,0>,%.3f %s }\n", -l/2-0.05, r, -l/2+0.1, r, r*0.85, metalTexture(steel))
	return thing{kind: "can capacitor", text: text + legs(l/2, r*0.9, d.between(5, 12), r), half: l / 2, radius: r}
}

func filmCapacitor(d dice) thing {
	l, w, h := d.between(7, 18), d.between(6, 10), d.between(3, 6)
	tone := fromHex(pick(d, []string{"#b83a34", "#c8b040", "#3a68a8", "#d8d4cc", "#a85a34"})).varied(d, 4, 0.1, 3)
	text := fmt.Sprintf("superellipsoid { <0.15,0.15> scale <%.3f,%.3f,%.3f> translate y*%.3f %s }\n", l/2, h/2, w/2, h/2, solidColour(tone, 0.5))
	return thing{kind: "film capacitor", text: text + legs(l/2, w*0.6, 6, h/2), half: l / 2 * 1.05, radius: w / 2}
}

func screw(d dice) thing {
	r, l := d.between(1.2, 2.2), d.between(7, 20)
	tone := pick(d, []rgb{steel, brass, fromHex("#3a3a3c")})
	var b strings.Builder
	head := r * d.between(1.7, 2.1)
	fmt.Fprintf(&b, "union { cone { <0,0,0>,%.3f,<%.3f,0,0>,%.3f } cylinder { <0,0,0>,<%.3f,0,0>,%.3f }\n", r*0.8, l, r*0.7, l*0.2, r)
	for x := l * 0.2; x < l; x += r * 0.42 {
		fmt.Fprintf(&b, "torus { %.3f,%.3f rotate z*90 rotate y*6 translate x*%.3f }\n", r*0.85, r*0.17, x)
	}
	fmt.Fprintf(&b, "cylinder { <%.3f,0,0>,<0,0,0>,%.3f } cone { <%.3f,0,0>,%.3f,<%.3f,0,0>,%.3f }\n", -r*0.5, head, -r*0.5, head, -r*1.0, head*0.6)
	fmt.Fprintf(&b, "%s translate <%.3f,%.3f,0> }\n", metalTexture(tone), -l/2, head)
	return thing{kind: "screw", text: b.String(), half: l/2 + r, radius: head}
}

func pencil(d dice) thing {
	r, l := d.between(3.2, 3.8), d.between(60, 140)
	tone := fromHex(pick(d, []string{"#d8a830", "#b83038", "#2c5a98", "#2f7a4a", "#3a3a3c", "#c87a38"})).varied(d, 5, 0.1, 3)
	text := fmt.Sprintf("prism { linear_sweep 0,%.3f,7 <%.3f,0>,<%.3f,%.3f>,<%.3f,%.3f>,<%.3f,0>,<%.3f,%.3f>,<%.3f,%.3f>,<%.3f,0> rotate z*-90 translate <%.3f,%.3f,0> %s }\n",
		l, r, r/2, r*0.866, -r/2, r*0.866, -r, -r/2, -r*0.866, r/2, -r*0.866, r, -l/2, r*0.87, solidColour(tone, 0.7))
	text += fmt.Sprintf("cone { <%.3f,%.3f,0>,%.3f,<%.3f,%.3f,0>,0.5 %s }\n", l/2, r*0.87, r*0.92, l/2+14, r*0.87, solidColour(fromHex("#d8b890"), 0))
	for i, tone := range []rgb{brass, fromHex("#c8706a")} {
		from := -l/2 - 9*float64(i)
		texture := metalTexture(tone)
		if i == 1 {
			texture = solidColour(tone, 0.1)
		}
		text += fmt.Sprintf("cylinder { <%.3f,%.3f,0>,<%.3f,%.3f,0>,%.3f %s }\n", from-9, r*0.9, from, r*0.9, r*0.98, texture)
	}
	return thing{kind: "pencil", text: text, half: l/2 + 16, radius: r}
}

func cementBlock(d dice) thing {
	l, w := d.between(14, 25), d.between(5.5, 9)
	tone := fromHex(pick(d, []string{"#dcd8d0", "#e8e6e0", "#c8c8c4"})).varied(d, 4, 0.2, 3)
	text := fmt.Sprintf("superellipsoid { <0.08,0.08> scale <%.3f,%.3f,%.3f> translate y*%.3f texture { pigment { granite color_map { [0 %s][1 %s] } scale 3 } normal { bumps 0.2 scale 0.3 } } }\n",
		l/2, w/2, w/2, w/2, tone.times(0.94).pov(), tone.pov())
	words := pick(d, []string{"5W 10RJ", "7W 4R7", "5W 0R22", "10W 100R"})
	text += printed(words, l*0.8, w, "rgb 0.03")
	for _, side := range []float64{-1, 1} {
		text += fmt.Sprintf("cylinder { <%.3f,%.3f,0>,<%.3f,%.3f,0>,0.4 %s }\n", side*l/2, w/2, side*(l/2+d.between(8, 20)), w/2, metalTexture(steel))
	}
	return thing{kind: "cement block", text: text, half: l / 2, radius: w / 2}
}

// printed is flat lettering of the given length along x on a top at a height,
// in ink of the given pigment.
func printed(words string, length, height float64, ink string) string {
	dot := length / float64(4*len(words))
	var b strings.Builder
	b.WriteString("union { ")
	for i, letter := range words {
		for row, dots := range glyphs[letter] {
			for column, c := range dots {
				if c == '#' {
					x, z := -length/2+dot*float64(4*i+column), dot*(2.5-float64(row))
					fmt.Fprintf(&b, "box { <%.3f,%.3f,%.3f>,<%.3f,%.3f,%.3f> } ", x, height-0.05, z-dot, x+dot, height+0.01, z)
				}
			}
		}
	}
	fmt.Fprintf(&b, "pigment { %s } }\n", ink)
	return b.String()
}

func jumperWire(d dice) thing {
	l := d.between(20, 60)
	tone := fromHex(pick(d, []string{"#c0282c", "#1f1f20", "#e0c030", "#2f7a43", "#2b4f9e", "#e8e6e0", "#e0662a"})).varied(d, 4, 0.1, 3)
	path := []vec{{-l / 2, 0.7, 0}}
	angle := 0.0
	for range 10 {
		angle += d.near(0, 0.22)
		path = append(path, path[len(path)-1].plus(heading(angle).times(l/10)))
	}
	text := fmt.Sprintf("union { %s %s }\n", wirePov(path, 0.7), solidColour(tone, 0.5))
	out := path[10].minus(path[9]).unit()
	text += fmt.Sprintf("cylinder { %s,%s,0.32 %s } cylinder { %s,%s,0.32 %s }\n", povVec(path[10]), povVec(path[10].plus(out.times(6))), metalTexture(steel),
		povVec(path[0].minus(vec{6, 0, 0})), povVec(path[0]), metalTexture(steel))
	return thing{kind: "jumper wire", text: text, half: l / 2, radius: 6}
}

func washer(d dice) thing {
	r := d.between(3, 6)
	text := fmt.Sprintf("difference { cylinder { 0,<0,0.9,0>,%.3f } cylinder { <0,-1,0>,<0,2,0>,%.3f } %s }\n", r, r*d.between(0.45, 0.6), metalTexture(pick(d, []rgb{steel, brass})))
	return thing{kind: "washer", text: text, half: r, radius: r}
}

func coin(d dice) thing {
	r := d.between(8, 12)
	tone := metalTexture(pick(d, []rgb{fromHex("#a86a44"), steel, brass}))
	text := fmt.Sprintf("union { cylinder { 0,<0,1.5,0>,%.3f } torus { %.3f,0.35 translate y*1.5 } torus { %.3f,0.2 translate y*1.5 } sphere { 0,1 scale <%.2f,0.3,%.2f> translate y*1.5 } %s }\n", r, r-0.4, r*0.7, r*0.35, r*0.28, tone)
	return thing{kind: "coin", text: text, half: r, radius: r}
}

func transistor(d dice) thing {
	text := fmt.Sprintf("difference { cylinder { <-2.3,0,0>,<2.3,0,0>,2.3 } box { <-3,-3,-3>,<3,-1.4,3> } translate y*1.4 %s }\n", solidColour(fromHex("#1f2022"), 0.3))
	for _, z := range []float64{-1.27, 0, 1.27} {
		text += fmt.Sprintf("cylinder { <2.3,1,%.3f>,<%.3f,0.4,%.3f>,0.25 %s }\n", z, d.between(9, 15), z*1.6, metalTexture(steel))
	}
	return thing{kind: "transistor", text: text, half: 2.4, radius: 2.4}
}

func lightDiode(d dice) thing {
	tone := fromHex(pick(d, []string{"#c02028", "#2f9a4a", "#d8b828", "#d8dcdc"})).varied(d, 4, 0.1, 3)
	text := fmt.Sprintf("union { cylinder { <-2,2.5,0>,<3,2.5,0>,2.5 } sphere { <-2,2.5,0>,2.5 } cylinder { <2.4,2.5,0>,<3.2,2.5,0>,2.9 } %s }\n", solidColour(tone, 1))
	return thing{kind: "light-emitting diode", text: text + legs(3, 2.5, d.between(8, 20), 2.5), half: 4, radius: 2.9}
}
