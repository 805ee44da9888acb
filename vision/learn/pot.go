package main

import (
	"math/rand/v2"

	"ringwise/decode"
	"ringwise/vision/columns"
)

// tones are rough sRGB values of ring paints in photos, by which one paint is turned
// into another: the usual look first, then what it turns to on other bodies, with age
// and in other cameras. Common practice, no source.
var tones = map[decode.Colour][][3]float64{
	decode.Black:  {{40, 38, 37}, {58, 52, 48}, {36, 40, 54}},
	decode.Brown:  {{100, 62, 42}, {146, 66, 52}, {124, 58, 52}, {70, 44, 34}, {128, 88, 58}},
	decode.Red:    {{178, 46, 42}, {156, 26, 46}, {204, 62, 66}, {208, 64, 40}},
	decode.Orange: {{220, 108, 44}, {214, 86, 46}, {232, 138, 70}, {196, 100, 50}},
	decode.Yellow: {{224, 192, 58}, {204, 206, 64}, {180, 172, 56}, {232, 214, 110}},
	decode.Green:  {{48, 118, 70}, {24, 92, 58}, {40, 116, 104}, {92, 136, 66}},
	decode.Blue:   {{48, 84, 152}, {38, 58, 112}, {60, 120, 178}},
	decode.Violet: {{112, 72, 138}, {150, 104, 158}, {66, 40, 88}, {78, 70, 138}, {150, 118, 138}},
	decode.Grey:   {{130, 129, 127}, {104, 106, 112}, {158, 154, 146}},
	decode.White:  {{226, 224, 218}, {204, 204, 204}},
	decode.Pink:   {{228, 150, 164}},
	decode.Gold:   {{170, 130, 62}, {186, 122, 70}, {132, 114, 60}, {104, 78, 44}, {198, 162, 92}},
	decode.Silver: {{178, 180, 182}, {206, 207, 206}, {154, 156, 158}},
}

// mostTurn is the most by which an sRGB value may grow when one paint is turned
// into another: noise grows with it.
const mostTurn = 1.6

// metals is the share of the turned paints that are turned into metallic ones.
const metals = 0.03

// A pot is what becomes of one paint of a part: the class it is turned into, and the
// factors on its sRGB values.
type pot struct {
	class  columns.Class
	factor [3]float32
}

// newPot draws what becomes of a paint: another tone of it or, where paints are to be
// turned, most often another paint. What would grow too bright stays as it is.
func newPot(class columns.Class, turn bool, chance *rand.Rand) *pot {
	colour := decode.Colour(class - columns.Ring)
	spread := 0.16
	if metallic(class) {
		spread = 0.22
	}
	p := &pot{class, tinted(chance, 0.6, spread)}
	if metallic(class) {
		return p
	}
	other := colour
	if turn && chance.Float64() < 0.7 {
		other = turned(chance)
	} else if chance.Float64() < 0.6 {
		return p
	}
	by := ratio(toneOf(other, chance), tones[colour][0])
	if max(by[0], by[1], by[2]) < mostTurn {
		p.class = columns.Ring + int(other)
		for k := range by {
			p.factor[k] *= float32(by[k])
		}
	}
	return p
}

// turned draws a paint to turn another into.
func turned(chance *rand.Rand) decode.Colour {
	switch at := chance.Float64(); {
	case at < 0.02:
		return decode.Pink
	case at < 0.02+metals/3:
		return decode.Silver
	case at < 0.02+metals:
		return decode.Gold
	}
	return decode.Colour(chance.IntN(int(decode.White) + 1))
}

// toneOf draws a tone, the usual one half of the time.
func toneOf(c decode.Colour, chance *rand.Rand) [3]float64 {
	if chance.Float64() < 0.5 {
		return tones[c][0]
	}
	return tones[c][chance.IntN(len(tones[c]))]
}

func ratio(of, to [3]float64) (out [3]float64) {
	for k := range out {
		out[k] = of[k] / to[k]
	}
	return out
}

func metallic(c columns.Class) bool {
	return c == columns.Ring+int(decode.Gold) || c == columns.Ring+int(decode.Silver)
}
