package main

import "fmt"

// ground is what the parts lie on.
type ground struct {
	name string
	text string // POV-Ray texture of the plane y = 0
	mean rgb    // about what it looks like from afar
}

// groundKinds draw each kind of ground, with its share in mixed scenes.
var groundKinds = []weighted[func(dice) ground]{
	{whitePaper, 25}, {lightWood, 18}, {cuttingMat, 17}, {darkWood, 8}, {worktop, 8}, {cloth, 6},
	{cardboard, 5}, {griddedPaper, 4.5}, {linedPaper, 3.5}, {colouredCard, 3}, {whiteSweep, 2},
}

// laid makes a ground from one POV-Ray pigment, surface and finish, turned
// and shifted by chance.
func laid(d dice, name string, mean rgb, pigment, surface string) ground {
	shift := vec{d.between(-500, 500), 0, d.between(-500, 500)}
	return ground{name, fmt.Sprintf("texture { pigment { %s } %s translate %s rotate y*%.2f }\n",
		pigment, surface, povVec(shift), d.between(0, 360)), mean}
}

// ruled draws lines every pitch mm across an axis over a pigment.
func ruled(pigment, axis string, pitch, width float64, ink rgb) string {
	at := width / pitch
	return fmt.Sprintf("gradient %s pigment_map { [0 %s][%.4f %s][%.4f %s scale %.6f][1 %s scale %.6f] } scale %.4f",
		axis, ink.pov(), at, ink.pov(), at, pigment, 1/pitch, pigment, 1/pitch, pitch)
}

func paperTone(d dice) rgb {
	return fromHex(pick(d, []string{"#f2f1ec", "#efeee8", "#f4f4f3", "#ece8dc", "#e9ecef"})).varied(d, 3, 0.2, 1.5)
}

func paperPigment(d dice, tone rgb) string {
	return fmt.Sprintf("bozo color_map { [0 %s][1 %s] } scale %.2f", tone.times(0.96).pov(), tone.times(1.02).pov(), d.between(1, 9))
}

func paperSurface(d dice) string {
	return fmt.Sprintf("normal { bumps %.3f scale %.3f } finish { diffuse 0.92 }", d.between(0.02, 0.16), d.between(0.15, 0.5))
}

func whitePaper(d dice) ground {
	tone := paperTone(d)
	return laid(d, "white paper", tone, paperPigment(d, tone), paperSurface(d))
}

func griddedPaper(d dice) ground {
	tone := paperTone(d)
	ink := tone.towards(fromHex(pick(d, []string{"#7fa8cf", "#9aa2a8", "#86b59a", "#c99a8a", "#a0a8d8"})), d.between(0.4, 0.9))
	pitch, width := pick(d, []float64{1, 2, 5, 5, 5, 6.35}), d.between(0.1, 0.3)
	pigment := ruled(ruled(paperPigment(d, tone), "x", pitch, width, ink), "z", pitch, width, ink)
	if pitch <= 2 {
		strong := ink.times(0.8)
		pigment = ruled(ruled(pigment, "x", 10, width*1.8, strong), "z", 10, width*1.8, strong)
	}
	return laid(d, "gridded paper", tone.times(0.95), pigment, paperSurface(d))
}

func linedPaper(d dice) ground {
	tone := paperTone(d)
	ink := tone.towards(fromHex(pick(d, []string{"#7f9fd0", "#8a9098", "#8ab0c0"})), d.between(0.5, 0.9))
	pigment := ruled(paperPigment(d, tone), "z", d.between(6, 9), d.between(0.15, 0.35), ink)
	if d.chance(0.5) {
		pigment = ruled(pigment, "x", 170, 0.4, tone.towards(fromHex("#c8505a"), 0.7))
	}
	return laid(d, "lined paper", tone.times(0.97), pigment, paperSurface(d))
}

func wood(d dice, name string, pale, dark rgb, shine float64) ground {
	size := d.between(3, 12)
	rings := fmt.Sprintf("wood turbulence %.3f octaves 3 omega 0.5 color_map { [0 %s][0.55 %s][0.85 %s][1 %s] } scale <%.2f,%.2f,%.2f> rotate x*%.2f translate y*%.1f rotate y*90",
		d.between(0.1, 0.4), pale.pov(), pale.towards(dark, 0.25).pov(), pale.towards(dark, d.between(0.4, 1)).pov(), pale.pov(),
		size, size, size*d.between(10, 20), d.between(0.5, 4), d.between(10, 60))
	long, thin := d.between(5, 18), d.between(0.15, 0.4)
	pore := pale.towards(dark.times(0.6), d.between(0.4, 0.9))
	grain := fmt.Sprintf("bozo pigment_map { [0 %s][0.42 %s scale <%.5f,1,%.5f>][1 %s scale <%.5f,1,%.5f>] } scale <%.3f,1,%.3f>",
		pore.pov(), rings, 1/long, 1/thin, rings, 1/long, 1/thin, long, thin)
	return laid(d, name, pale.towards(dark, 0.3), grain, "finish { diffuse 0.9 "+shineFinish(shine)+" }")
}

func shineFinish(shine float64) string {
	if shine <= 0 {
		return ""
	}
	return fmt.Sprintf("specular %.3f roughness 0.02 reflection { %.3f, %.3f falloff 3 }", shine, shine*0.1, shine*0.5)
}

func lightWood(d dice) ground {
	pale := fromHex(pick(d, []string{"#d9b98a", "#e0c69c", "#cfa872", "#dcc4a6"})).varied(d, 4, 0.1, 3)
	return wood(d, "light wood", pale, pale.through(rgb{0.72, 0.62, 0.5}), pick(d, []float64{0, 0, 0.15, 0.3}))
}

func darkWood(d dice) ground {
	pale := fromHex(pick(d, []string{"#6b4630", "#5a3a28", "#7c5236", "#4d3a30"})).varied(d, 4, 0.1, 3)
	return wood(d, "dark wood", pale, pale.through(rgb{0.55, 0.48, 0.42}), pick(d, []float64{0, 0.15, 0.4}))
}

// mats are the tones of cutting mats, by share: greens, blue, greys, and
// seldom violet, magenta or brown.
var mats = []weighted[string]{
	{"#2f6b52", 4}, {"#3f7d68", 3}, {"#2d5f8a", 3}, {"#54585f", 2.5}, {"#25282b", 1.5},
	{"#7a4a78", 1}, {"#a03a6e", 1}, {"#6a4a36", 1},
}

func cuttingMat(d dice) ground {
	base := fromHex(pickWeighted(d, mats)).varied(d, 5, 0.15, 4)
	ink := base.towards(fromHex(pick(d, []string{"#e8ecea", "#d9d26a", "#c8d8d0"})), d.between(0.35, 0.9))
	pigment := fmt.Sprintf("bozo color_map { [0 %s][1 %s] } scale 2", base.times(0.93).pov(), base.times(1.06).pov())
	if d.chance(0.3) {
		faint := base.towards(ink, 0.6)
		pigment = ruled(ruled(pigment, "x", 5, 0.12, faint), "z", 5, 0.12, faint)
	}
	width := d.between(0.2, 0.4)
	pigment = ruled(ruled(pigment, "x", 10, width, ink), "z", 10, width, ink)
	if d.chance(0.3) {
		pigment = ruled(pigment, "x+z", 60, 0.3, ink)
	}
	return laid(d, "cutting mat", base, pigment, fmt.Sprintf("normal { bumps %.2f scale 0.2 } finish { diffuse 0.9 specular %.2f roughness 0.08 }",
		d.between(0.05, 0.25), d.between(0.02, 0.2)))
}

func cloth(d dice) ground {
	base := fromHex(pick(d, []string{"#c9bfae", "#3b5a86", "#7c8c74", "#9a4a44", "#e4e0d8", "#4a4a4e", "#b7a06a"})).varied(d, 8, 0.2, 5)
	thread := d.between(0.35, 1)
	weave := fmt.Sprintf("function { 0.5+0.25*(sin(6.2832*x)*cos(6.2832*z)+sin(6.2832*z+1.5*sin(6.2832*x))) } color_map { [0 %s][0.5 %s][1 %s] } scale %.3f",
		base.times(0.66).pov(), base.pov(), base.times(1.2).pov(), thread)
	if d.chance(0.35) {
		stripe := base.towards(fromHex(pick(d, []string{"#a03a3a", "#34507c", "#3c6a4c", "#e8e4da"})), 0.6)
		weave = ruled(ruled(weave, "x", 24, d.between(4, 11), stripe), "z", 24, d.between(4, 11), stripe)
	}
	return laid(d, "cloth", base, weave, fmt.Sprintf("normal { bumps 0.25 scale %.2f } finish { diffuse 0.9 }", thread))
}

func cardboard(d dice) ground {
	base := fromHex(pick(d, []string{"#b98f62", "#c49c70", "#a98058", "#b39a7c"})).varied(d, 3, 0.1, 3)
	fibres := fmt.Sprintf("bozo turbulence 0.5 octaves 3 color_map { [0 %s][0.5 %s][1 %s] } scale <2.5,1,0.5>",
		base.times(0.9).pov(), base.pov(), base.times(1.1).pov())
	flutes := ruled(fibres, "x", d.between(4, 8), 1.2, base.times(d.between(0.8, 0.97)))
	return laid(d, "cardboard", base, flutes, "normal { bumps 0.12 scale 0.4 } finish { diffuse 0.9 }")
}

func worktop(d dice) ground {
	base := fromHex(pick(d, []string{"#d8d2c6", "#6c6a68", "#a89a86", "#3a3836", "#b9bcbd"})).varied(d, 5, 0.2, 4)
	stone := fmt.Sprintf("granite color_map { [0 %s][0.35 %s][0.5 %s][0.65 %s][1 %s] } scale %.2f",
		base.times(0.5).pov(), base.times(0.8).pov(), base.pov(), base.times(1.15).pov(), base.towards(rgb{0.9, 0.9, 0.9}, 0.4).pov(),
		d.between(3, 14))
	return laid(d, "kitchen worktop", base, stone, "finish { diffuse 0.88 "+shineFinish(d.between(0.05, 0.35))+" }")
}

func colouredCard(d dice) ground {
	tone := fromHex(pick(d, []string{"#d98a9a", "#8fb8d8", "#e6c860", "#9cc08a", "#c05a48", "#a89ac8", "#d8d8d4"})).varied(d, 10, 0.2, 5)
	return laid(d, "coloured card", tone, paperPigment(d, tone), paperSurface(d))
}

func whiteSweep(d dice) ground {
	tone := rgb{0.93, 0.93, 0.93}
	return laid(d, "white sweep", tone, tone.pov(), "finish { diffuse 0.95 }")
}

// cutOut is a pure white ground on which nothing throws a shadow, like a
// picture whose ground was cut away.
func cutOut(dice) ground {
	return ground{"cut-out white", "texture { pigment { rgb 1 } finish { diffuse 0 ambient 0 emission 0.24 } }", rgb{0.9, 0.9, 0.9}}
}
