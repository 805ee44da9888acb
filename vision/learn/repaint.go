package main

import (
	"math"
	"math/rand/v2"

	"ringwise/vision/columns"
)

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
