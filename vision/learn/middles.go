package main

import (
	"math"

	"ringwise/vision/bodies"

	"gonum.org/v1/gonum/blas/blas32"
)

// What is asked of each cell.
const (
	smallest    = 1.4 // half length in cells of the smallest body that is looked for
	middleReach = 0.3 // how far from a body's middle a cell still counts, in half widths
	sizesFrom   = 0.5 // how much it must count to be asked for the body's place and size
)

// loss is the loss over what was said: for the middles that of Law and Deng
// (CornerNet, 2018), for places and sizes the mean distance. Its slope comes with
// it.
func (v *view) loss(m *scratch, s *scene) (loss float64, slope blas32.General) {
	slope = m.matrix(v.said.Rows, v.said.Cols)
	ringed, bare := v.aim(s, false), v.aim(s, true)
	asked := ringed.asked() + bare.asked()
	return ringed.loss(v, bodies.Middle, asked, slope) + bare.loss(v, bodies.Bare, asked, slope), slope
}

// An aim is what the cells should say of bodies of one sort.
type aim struct {
	near    []float64 // how nearly each cell is the middle of a body
	whose   []*body
	ignored []bool
	middles float64
}

// aim is what the cells should say of bodies with rings, or without.
func (v *view) aim(s *scene, bare bool) aim {
	a := aim{make([]float64, v.places()), make([]*body, v.places()), make([]bool, v.places()), 0}
	for i := range s.bodies {
		b := &s.bodies[i]
		if b.bare != bare {
			continue
		}
		x, y := b.x/bodies.Cell, b.y/bodies.Cell
		reach := math.Max(middleReach*b.rise/bodies.Cell, 0.75)
		nearest, least := -1, math.Inf(1)
		for r := max(0, int(y-3*reach)-1); r < min(v.rows, int(y+3*reach)+2); r++ {
			for c := max(0, int(x-3*reach)-1); c < min(v.columns, int(x+3*reach)+2); c++ {
				j := r*v.columns + c
				dx, dy := float64(c)+0.5-x, float64(r)+0.5-y
				far := dx*dx + dy*dy
				if b.half < smallest*bodies.Cell {
					a.ignored[j] = true
					continue
				}
				if n := math.Exp(-far / (2 * reach * reach)); n > a.near[j] {
					a.near[j], a.whose[j] = n, b
				}
				if far < least && math.Abs(dx) <= 0.5 && math.Abs(dy) <= 0.5 {
					nearest, least = j, far
				}
			}
		}
		if nearest >= 0 {
			a.near[nearest], a.whose[nearest] = 1, b
			a.middles++
		}
	}
	return a
}

// asked is how much is asked of places and sizes.
func (a *aim) asked() (sum float64) {
	for j, n := range a.near {
		if n > sizesFrom && !a.ignored[j] {
			sum += n
		}
	}
	return sum
}

// loss is the loss over what was said by an output of middles, and of places and
// sizes, out of all that is asked of these. It adds to the slope.
func (a *aim) loss(v *view, by int, asked float64, slope blas32.General) (loss float64) {
	middles := math.Max(1, a.middles)
	for j, n := range a.near {
		if a.ignored[j] {
			continue
		}
		said, d := v.said.Data[j*bodies.Outputs:][:bodies.Outputs], slope.Data[j*bodies.Outputs:][:bodies.Outputs]
		l, g := middleLoss(float64(said[by]), n)
		loss += l / middles
		d[by] = float32(g / middles)
		if n <= sizesFrom {
			continue
		}
		truth := wanted(a.whose[j], j%v.columns, j/v.columns)
		for k := bodies.Right; k <= bodies.Rise; k++ {
			if a.whose[j].round && (k == bodies.Cosine || k == bodies.Sine) {
				continue
			}
			weight := n / asked
			if k <= bodies.Down {
				weight *= 0.5
			}
			l, g := distanceLoss(float64(said[k]) - truth[k])
			loss += weight * l
			d[k] += float32(weight * g)
		}
	}
	return loss
}

// wanted is what a cell should say of a body.
func wanted(b *body, column, row int) (out [bodies.Outputs]float64) {
	out[bodies.Right] = b.x/bodies.Cell - float64(column) - 0.5
	out[bodies.Down] = b.y/bodies.Cell - float64(row) - 0.5
	out[bodies.Cosine] = b.ux*b.ux - b.uy*b.uy
	out[bodies.Sine] = 2 * b.ux * b.uy
	out[bodies.Half] = math.Log(b.half / bodies.Cell)
	out[bodies.Rise] = math.Log(b.rise / bodies.Cell)
	return out
}

// middleLoss is the loss of the log odds of a cell that is so nearly a middle, and
// its slope.
func middleLoss(odds, near float64) (loss, slope float64) {
	p := 1 / (1 + math.Exp(-odds))
	p = math.Min(math.Max(p, 1e-6), 1-1e-6)
	q := 1 - p
	if near == 1 {
		return -q * q * math.Log(p), 2*p*q*q*math.Log(p) - q*q*q
	}
	w := math.Pow(1-near, 4)
	return -w * p * p * math.Log(q), w * (p*p*p - 2*p*p*q*math.Log(q))
}

// distanceLoss is the distance from what is wanted, rounded off near it, and its
// slope.
func distanceLoss(off float64) (loss, slope float64) {
	const round = 0.1
	if math.Abs(off) < round {
		return off*off/(2*round) + round/2, off / round
	}
	return math.Abs(off), math.Copysign(1, off)
}
