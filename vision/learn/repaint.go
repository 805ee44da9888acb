package main

import (
	"math"
	"math/rand/v2"

	"ringwise/decode"
	"ringwise/vision/columns"
)

// dyes are rough sRGB values of ring paints, by which one paint is turned into
// another. Common practice, no source. Metallic paints are not turned.
var dyes = map[decode.Colour][3]float64{
	decode.Black:  {40, 38, 37},
	decode.Brown:  {100, 62, 42},
	decode.Red:    {178, 46, 42},
	decode.Orange: {220, 108, 44},
	decode.Yellow: {224, 192, 58},
	decode.Green:  {48, 118, 70},
	decode.Blue:   {48, 84, 152},
	decode.Violet: {112, 72, 138},
	decode.Grey:   {130, 129, 127},
	decode.White:  {226, 224, 218},
	decode.Pink:   {228, 150, 164},
}

// mostTurn is the most by which an sRGB value may grow when one paint is turned
// into another: noise grows with it.
const mostTurn = 1.6

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
	for _, ring := range e.rings() {
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
			if p.class != ring.class {
				truth.shares[c][ring.class] -= share
				truth.shares[c][p.class] += share
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
	if metallic(colour) {
		spread = 0.22
	}
	p := &pot{class, tinted(chance, 0.6, spread)}
	old, dyed := dyes[colour]
	if !turn || !dyed || chance.Float64() >= 0.7 {
		return p
	}
	other := decode.Colour(chance.IntN(int(decode.White) + 1))
	if chance.Float64() < 0.02 {
		other = decode.Pink
	}
	var by [3]float64
	most := 0.0
	for k := range by {
		by[k] = dyes[other][k] / old[k]
		most = max(most, by[k])
	}
	if most < mostTurn {
		p.class = columns.Ring + int(other)
		for k := range by {
			p.factor[k] *= float32(by[k])
		}
	}
	return p
}

func metallic(c decode.Colour) bool { return c == decode.Gold || c == decode.Silver }

// A stretch is the columns that show a ring.
type stretch struct {
	class      columns.Class
	start, end int
}

// rings are those of the strip.
func (e *example) rings() (out []stretch) {
	for c := 0; c < columns.Columns; c++ {
		s := stretch{ringClass(&e.target.shares[c]), c, c}
		if s.class == 0 {
			continue
		}
		for s.end < columns.Columns && e.target.shares[s.end][s.class] > 0 {
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
