package main

import (
	"math"
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

// tinted draws factors on sRGB values that recolour something, most often none.
func tinted(chance *rand.Rand, share, spread float64) [3]float32 {
	out := [3]float32{1, 1, 1}
	if chance.Float64() >= share {
		return out
	}
	light := chance.NormFloat64() * spread * 0.7
	for k := range out {
		out[k] = float32(math.Exp((light + chance.NormFloat64()*spread) / 2.2))
	}
	return out
}

// repaint draws another coat for the body and its rings: the factors on the
// sRGB values of each column. Rings of one paint come from one pot, more or less; a
// paint turned into another is labelled so. What is thin takes on less of its coat.
func (e *example) repaint(chance *rand.Rand, thin *[columns.Columns]float32, truth *target) *[columns.Columns][3]float32 {
	out := new([columns.Columns][3]float32)
	body := tinted(chance, 0.45, 0.28)
	for c := range out {
		out[c] = body
	}
	turn := chance.Float64() < 0.5
	var pots [columns.Classes]*pot
	for _, ring := range e.target.rings() {
		if pots[ring.class] == nil {
			pots[ring.class] = newPot(ring.class, turn, chance)
		}
		p := pots[ring.class]
		factor := tinted(chance, 0.5, 0.05)
		for k := range factor {
			factor[k] *= p.factor[k]
		}
		for c := ring.start; c < ring.end; c++ {
			share := e.target.shares[c][ring.class]
			for k := range 3 {
				out[c][k] += share * (1 - thin[c]) * (factor[k] - body[k])
			}
			shown := p.class
			if thin[c] == 1 {
				shown = columns.Body
			}
			if shown != ring.class {
				truth.shares[c][ring.class] -= share
				truth.shares[c][shown] += share
			}
		}
	}
	return out
}

// A pot is what becomes of one paint of a part: the class it is turned into, and the
// factors on its sRGB values.
type pot struct {
	class  columns.Class
	factor [3]float32
}

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

// A stretch is the columns that show a ring.
type stretch struct {
	class      columns.Class
	start, end int
}

// rings are those of a strip.
func (t *target) rings() (out []stretch) {
	for c := 0; c < columns.Columns; c++ {
		s := stretch{ringClass(&t.shares[c]), c, c}
		if s.class == 0 {
			continue
		}
		for s.end < columns.Columns && t.shares[s.end][s.class] > 0 {
			s.end++
		}
		out = append(out, s)
		c = s.end - 1
	}
	return out
}

// ringClass is the ring that a column shows, 0 where it shows none.
func ringClass(shares *[columns.Classes]float32) columns.Class {
	for k := columns.Ring; k < columns.Classes; k++ {
		if shares[k] > 0 {
			return k
		}
	}
	return 0
}

// fromAxis is how far the middle of a row lies from the body's axis in a column, in
// half widths of the body.
func (e *example) fromAxis(row, column int) float64 {
	edges := &e.target.edges[column]
	middle := float64(edges[0]+edges[1]) / 2
	return (2*(float64(row)+0.5)/columns.Rows - 1 - middle) / math.Max(0.01, e.thick)
}

// inside is how much of a row is body in a column, where there is one.
func (e *example) inside(row, column int) float32 {
	d := math.Abs(e.fromAxis(row, column))
	return float32(math.Max(0, math.Min(1, (1.03-d)/0.08)))
}
