package main

import (
	"fmt"
	"math"

	"ringwise/decode"

	"github.com/lucasb-eyer/go-colorful"
)

// rgb is a colour in linear light with the primaries and white of sRGB.
type rgb [3]float64

func fromHex(hex string) rgb {
	c, err := colorful.Hex(hex)
	if err != nil {
		panic(fmt.Sprintf("paint table: %q is no #rrggbb colour", hex))
	}
	r, g, b := c.LinearRgb()
	return rgb{r, g, b}
}

func (c rgb) times(k float64) rgb { return rgb{c[0] * k, c[1] * k, c[2] * k} }

func (c rgb) through(filter rgb) rgb {
	return rgb{c[0] * filter[0], c[1] * filter[1], c[2] * filter[2]}
}

// towards mixes c with another colour; share 0 is c, 1 the other.
func (c rgb) towards(other rgb, share float64) rgb {
	var m rgb
	for i := range m {
		m[i] = c[i] + (other[i]-c[i])*share
	}
	return m
}

func (c rgb) luminance() float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }

func (c rgb) pov() string { return fmt.Sprintf("rgb <%.5f,%.5f,%.5f>", c[0], c[1], c[2]) }

// difference is the CIEDE2000 colour difference on the usual scale of 100.
func (c rgb) difference(other rgb) float64 {
	a := colorful.LinearRgb(c[0], c[1], c[2])
	b := colorful.LinearRgb(other[0], other[1], other[2])
	return 100 * a.DistanceCIEDE2000(b)
}

// varied shifts a paint as batches of paint differ: hue by degrees, chroma by
// a factor, lightness in units of L*; each a standard deviation.
func (c rgb) varied(d dice, hue, chroma, lightness float64) rgb {
	h, ch, l := colorful.LinearRgb(c[0], c[1], c[2]).Hcl()
	h = math.Mod(h+d.near(0, hue)+360, 360)
	ch *= math.Max(0, 1+d.near(0, chroma))
	l = math.Max(0.05, l+d.near(0, lightness/100))
	r, g, b := colorful.Hcl(h, ch, l).Clamped().LinearRgb()
	return rgb{r, g, b}
}

// ringPaints holds what enamel of each ring colour looks like on parts from
// different works, in sRGB by daylight. Chosen by eye for this generator,
// common practice, no source. Gold and silver here are the ground tones of
// bronze and aluminium paint, without the glitter.
var ringPaints = map[decode.Colour][]string{
	decode.Black:  {"#1c1b1a", "#262321", "#14161a", "#2b2724", "#1a1d22"},
	decode.Brown:  {"#5c3421", "#6b3a24", "#4a2a1c", "#7a4529", "#5a2a22", "#6d4330", "#744033"},
	decode.Red:    {"#b3202a", "#c4262a", "#a11d21", "#cf3a2b", "#d1342c", "#b8323a"},
	decode.Orange: {"#e0662a", "#d9571e", "#ee7b2c", "#e2702f", "#c95a22", "#e88a4a"},
	decode.Yellow: {"#e6c22b", "#f0d03a", "#d9b62a", "#e8d254", "#cdb92f", "#dcc81e"},
	decode.Green:  {"#2f7a43", "#1f6b3c", "#3f8a45", "#2c6e55", "#4d8b3a", "#16603a"},
	decode.Blue:   {"#2b4f9e", "#24408a", "#3263b8", "#1f5aa0", "#2f4c80", "#3d6fb0"},
	decode.Violet: {"#6a3f8c", "#7b4a94", "#59407f", "#87559b", "#75507d", "#8a5d8a", "#4f3568"},
	decode.Grey:   {"#7f8284", "#8c8c89", "#6f7375", "#9a9b98", "#858b90"},
	decode.White:  {"#e9e8e1", "#f2f1ee", "#dcdad2", "#ecebe8"},
	decode.Pink:   {"#e49ab0", "#d98aa3", "#e8a8b4"},
	decode.Gold:   {"#b08a3a", "#9a6a35", "#857238", "#5e4526", "#a8813c", "#c4a052", "#7a5c2c", "#6f5f35"},
	decode.Silver: {"#b4b6b8", "#c9cacb", "#9b9d9f", "#d2d2cf", "#a9a8a2"},
}

// drawnPaints are the pure colours of drawn pictures, which no enamel has.
var drawnPaints = map[decode.Colour]string{
	decode.Black: "#000000", decode.Brown: "#8b4513", decode.Red: "#ff0000",
	decode.Orange: "#ff9900", decode.Yellow: "#ffff00", decode.Green: "#00cc00",
	decode.Blue: "#0000ff", decode.Violet: "#cc00ff", decode.Grey: "#808080",
	decode.White: "#ffffff", decode.Pink: "#ff99cc", decode.Gold: "#d4af37",
	decode.Silver: "#c0c0c0",
}

// bodyPaint is a lacquer that bodies wear.
type bodyPaint struct {
	name  string
	tones []string // sRGB by daylight, chosen by eye, common practice, no source
	two   float64  // share among parts with two digits
	three float64  // share among parts with three digits
}

var bodyPaints = []bodyPaint{
	{"tan", []string{"#c9a77a", "#d3b58b", "#bf9a6b", "#b89a72"}, 20, 3},
	{"beige", []string{"#d9c3a0", "#cdb592", "#dccba8", "#c8ae8e"}, 18, 3},
	{"golden brown", []string{"#b07a3c", "#a66f35", "#bb8748"}, 6, 1},
	{"cream", []string{"#e8dcbc", "#eadfc8", "#e0d2a8"}, 7, 2},
	{"white", []string{"#e6e4dd", "#dcd9d0", "#eeece8"}, 3, 2},
	{"grey", []string{"#8d9093", "#a5a7a6", "#74787a", "#9aa09e"}, 5, 5},
	{"pink", []string{"#e0a79c", "#d99a90", "#d8a08a", "#e2b4a6"}, 5, 2},
	{"orange", []string{"#d97b3f", "#c96a35", "#d98f55"}, 2, 1},
	{"olive", []string{"#7f8a4a", "#8c9358", "#6e7a45", "#98a268"}, 4, 2},
	{"mint", []string{"#b5d9b8", "#a4cfae", "#8fd08a", "#c0dcc4"}, 4, 5},
	{"turquoise", []string{"#4fb3ad", "#3fa39c", "#5fb0a0", "#3c9490"}, 2, 10},
	{"grey-green", []string{"#7d9488", "#6f8a80", "#8a9c8a"}, 2, 3},
	{"light blue", []string{"#8fc1de", "#7db4d8", "#6fb0e0", "#9ccae0", "#78b8cc"}, 3, 38},
	{"strong blue", []string{"#2e6fb5", "#2a5fa3", "#3480c8", "#35a0e8"}, 2, 15},
	{"dark brown", []string{"#4a2f22", "#583827", "#3d2820", "#67442e"}, 7, 2},
	{"maroon", []string{"#6a2a2b", "#77322e", "#5a2628"}, 2, 1},
	{"charcoal", []string{"#3a3b3d", "#2e3033", "#46464a"}, 2, 2},
}
