package main

import (
	"ringwise/decode"
	"ringwise/decode/series"
)

// lookalikes are axial parts that are no ring-coded resistors, with their
// share among the things strewn about.
var lookalikes = []weighted[string]{
	{"glass diode", 12}, {"diode", 14}, {"ringed diode", 5}, {"moulded choke", 18},
	{"ringed capacitor", 6}, {"tubular capacitor", 7}, {"printed resistor", 10}, {"blank body", 9}, {"fuse", 5},
}

// newLookalike draws an axial part of the given kind without placing it.
func newLookalike(d dice, kind string, l look) *part {
	p := &part{kind: kind, spacing: "even"}
	p.shape = straight
	p.size(d)
	build := map[string]func(dice, *part, look){
		"glass diode": glassDiode, "diode": blackDiode, "ringed diode": ringedDiode,
		"moulded choke": mouldedChoke, "ringed capacitor": ringedCapacitor,
		"tubular capacitor": tubularCapacitor, "printed resistor": printedResistor,
		"blank body": blankBody, "fuse": fuse, "dotted resistor": dottedResistor,
	}
	build[kind](d, p, l)
	p.outline(d)
	return p
}

// coated paints a plain body with single rings at given places.
func (p *part) coated(d dice, body string, gloss float64, marks ...mark) {
	p.skin = skin{seed: d.Uint64(), body: fromHex(body).varied(d, 4, 0.1, 3), bodyName: "",
		gloss: gloss, edge: 0.004, soft: 0.004, mottle: 0.02}
	p.marks = marks
	for _, m := range marks {
		p.skin.rings = append(p.skin.rings, ringCoat{
			paint: fromHex(pick(d, ringPaints[m.colour])).varied(d, 3, 0.1, 3), opacity: d.between(0.9, 1),
			metal: m.colour == decode.Silver && d.chance(0.5),
		})
	}
}

func glassDiode(d dice, p *part, _ look) {
	p.length, p.radius, p.leadRadius = d.between(3.4, 4.4), d.between(0.8, 1.05), d.between(0.22, 0.27)
	p.coated(d, pick(d, []string{"#b8562c", "#c8743c", "#a84a2a", "#b8a898", "#9c8c80"}), 1,
		mark{decode.Black, d.between(0.72, 0.82), d.between(0.12, 0.2)})
	p.skin.mottle = 0.25 // what shows through the glass
}

func blackDiode(d dice, p *part, _ look) {
	p.shape = cylinder
	p.length, p.radius, p.leadRadius = d.between(4.2, 9.5), d.between(1.2, 2.6), d.between(0.35, 0.6)
	p.coated(d, pick(d, []string{"#242425", "#2e2c2b", "#1c1d20"}), d.between(0.1, 0.5),
		mark{pick(d, []decode.Colour{decode.Silver, decode.White, decode.Grey}), d.between(0.78, 0.88), d.between(0.1, 0.18)})
}

func ringedDiode(d dice, p *part, _ look) {
	p.length, p.radius = d.between(3.6, 7), d.between(0.9, 1.3)
	marks := []mark{{decode.Colour(d.IntN(10)), d.between(0.1, 0.16), d.between(0.12, 0.18)}}
	for i := range 1 + d.IntN(3) {
		marks = append(marks, mark{decode.Colour(d.IntN(10)), 0.32 + 0.15*float64(i), 0.08})
	}
	p.coated(d, pick(d, []string{"#2a2a2c", "#b8a898", "#b8562c", "#d0c8b8"}), d.between(0.4, 1), marks...)
}

// chokeBodies and capacitorBodies are the lacquers of what wears rings but is
// no resistor; chosen by eye, common practice, no source.
var (
	chokeBodies = []weighted[bodyPaint]{
		{bodyPaint{name: "green", tones: []string{"#6fae7a", "#8fcfae", "#5f9e68", "#7fae6a"}}, 45},
		{bodyPaint{name: "turquoise", tones: []string{"#5fb8a0", "#4fb3ad", "#6fc4b4"}}, 35},
		{bodyPaint{name: "blue-grey", tones: []string{"#8aa0b0", "#7c94a6"}}, 10},
		{bodyPaint{name: "tan", tones: []string{"#c0a880", "#c9b08c"}}, 10},
	}
	capacitorBodies = []weighted[bodyPaint]{
		{bodyPaint{name: "pink", tones: []string{"#e0a79c", "#d99a90", "#e2b4a6"}}, 55},
		{bodyPaint{name: "tan", tones: []string{"#c9a77a", "#d3b58b", "#cdb592"}}, 45},
	}
)

// mouldedChoke is short and fat. Its rings are legal for a resistor but count
// microhenries; a wide silver ring may go before them. Common practice, no
// source.
func mouldedChoke(d dice, p *part, l look) {
	p.shape = pickWeighted(d, []weighted[shape]{{straight, 75}, {cylinder, 13}, {dogbone, 12}})
	number := pick(d, twoDigits(series.E12))
	p.Rings = []decode.Colour{decode.Colour(number / 10), decode.Colour(number % 10),
		pickWeighted(d, []weighted[decode.Colour]{{decode.Silver, 4}, {decode.Gold, 18}, {decode.Black, 26}, {decode.Brown, 28}, {decode.Red, 20}, {decode.Orange, 4}}),
		pickWeighted(d, []weighted[decode.Colour]{{decode.Gold, 35}, {decode.Silver, 45}, {decode.Black, 12}, {decode.White, 8}})}
	wide := d.chance(0.4)
	if wide {
		p.Rings = append([]decode.Colour{decode.Silver}, p.Rings...)
	}
	p.length = d.between(4.5, 11)
	p.radius = p.length / (2 * d.between(1.5, 2.2))
	p.placeRings(d)
	for i := range p.marks { // clear of the rounded ends
		p.marks[i].centre = 0.5 + 0.8*(p.marks[i].centre-0.5)
		p.marks[i].width *= 0.8
	}
	if wide {
		p.marks[0].width *= 1.7
		p.marks[0].centre -= 0.02
	}
	p.skin = drawSkin(d, p, l, chokeBodies)
}

func ringedCapacitor(d dice, p *part, l look) {
	p.shape = pick(d, []shape{straight, dogbone})
	p.meaning = drawMeaning(d, 5)
	p.length, p.radius = d.between(6, 14), d.between(1.2, 2)
	p.placeRings(d)
	p.marks[0].width *= 1.8
	p.skin = drawSkin(d, p, l, capacitorBodies)
}

func tubularCapacitor(d dice, p *part, _ look) {
	p.shape = pick(d, []shape{cylinder, straight})
	p.length, p.radius, p.leadRadius = d.between(10, 24), d.between(2.5, 5), d.between(0.3, 0.45)
	body := pick(d, []string{"#2a3f7a", "#20242c", "#c8a83a", "#b8682c", "#d8d0c0", "#6a3a2a"})
	p.coated(d, body, d.between(0.4, 0.9))
	stripe := fromHex(pick(d, []string{"#c8ccd0", "#20242c", "#e0dccc"}))
	p.skin.sleeve = &stripe
	p.skin.print, p.skin.printInk = pick(d, []string{"47", "100", "22", "470", "16V"}), stripe
}

func printedResistor(d dice, p *part, _ look) {
	p.shape = pick(d, []shape{cylinder, straight, dogbone})
	p.length, p.radius, p.leadRadius = d.between(6, 20), d.between(1.3, 4), d.between(0.3, 0.45)
	body := pick(d, []string{"#7a4a34", "#5c6a48", "#6a6c6e", "#2f5f8a", "#c8b090", "#d8d4c8", "#8a2f2a"})
	p.coated(d, body, d.between(0, 0.5))
	p.skin.print = pick(d, []string{"4K7", "R22", "100R", "2K2J", "5W10R", "470K", "0R33", "33R", "1K5"})
	p.skin.printInk = fromHex("#e8e4d8")
	if p.skin.body.luminance() > 0.3 {
		p.skin.printInk = fromHex("#202020")
	}
}

func blankBody(d dice, p *part, l look) {
	p.shape = drawShape(d, 4)
	p.size(d)
	p.marks = nil
	p.skin = drawSkin(d, p, l, resistorBodies(4))
}

func fuse(d dice, p *part, _ look) {
	p.shape = cylinder
	p.length, p.radius, p.leadRadius = d.between(15, 22), d.between(2.4, 3.1), 0.4
	p.coated(d, pick(d, []string{"#c8d0d0", "#e4e0d8", "#b8c4c4"}), 1,
		mark{decode.Silver, 0.13, 0.26}, mark{decode.Silver, 0.87, 0.26})
	for i := range p.skin.rings {
		p.skin.rings[i].metal = true
	}
}
