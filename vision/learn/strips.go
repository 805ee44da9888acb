package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"

	"ringwise/vision/columns"
)

// ofStrips is the lesson of a network that tells what a strip's columns show.
func ofStrips(shape columns.Shape, taught, held []example) lesson[*columns.Net] {
	rods := 0.12
	if shape.Outputs == columns.Covers {
		rods = 0.4 // it is to tell them
	}
	return lesson[*columns.Net]{
		fresh: func(chance *rand.Rand) *columns.Net { return columns.New(shape, chance) },
		read:  func(r io.Reader) (*columns.Net, error) { return columns.Read(shape, r) },
		learn: func(m *scratch, n *columns.Net, chance *rand.Rand, slope *columns.Net) float64 {
			s, truth := taught[chance.IntN(len(taught))].vary(chance, rods)
			return learnFrom(m, n, s, truth, slope)
		},
		measure: func(n *columns.Net) string {
			switch shape.Outputs {
			case columns.Sides:
				return fmt.Sprintf("edges off by %.4f", edgesOff(n, held))
			case columns.Covers:
				covered, bare := saidCovered(n, held)
				return fmt.Sprintf("said to be covered: %.3f of what is, %.4f of what is not", covered, bare)
			}
			right, rings := rightColumns(n, held)
			return fmt.Sprintf("columns right %.4f, ring columns right %.4f", right, rings)
		},
	}
}

// eachColumn hands over what a network says of each column of some strips that were
// held back, with the example.
func eachColumn(net *columns.Net, held []example, take func(e *example, column int, said []float32)) {
	var m scratch
	for i := 0; i < len(held); i += max(1, len(held)/300) {
		e := &held[i]
		s := &columns.Strip{Detail: e.detail}
		for r := range s.Pixels {
			for c := range s.Pixels[r] {
				for k := range 3 {
					s.Pixels[r][c][k] = float32(e.pixels[r][c][k])
				}
			}
		}
		m.giveBack()
		said := through(&m, net, s).said
		for c := range columns.Columns {
			take(e, c, said.Data[c*said.Cols:][:said.Cols])
		}
	}
}

// rightColumns is the share of columns, and of ring columns, whose likeliest class
// is the true one.
func rightColumns(net *columns.Net, held []example) (right, rings float64) {
	n, ringColumns := 0.0, 0.0
	eachColumn(net, held, func(e *example, column int, scores []float32) {
		truth := e.target.shares[column]
		likeliest, truly := 0, 0
		for k := range scores {
			if scores[k] > scores[likeliest] {
				likeliest = k
			}
			if truth[k] > truth[truly] {
				truly = k
			}
		}
		n++
		if likeliest == truly {
			right++
		}
		if truly >= columns.Ring {
			ringColumns++
			if likeliest == truly {
				rings++
			}
		}
	})
	return right / n, rings / ringColumns
}

// edgesOff is how far off a body's edges are on average, in half heights of the
// strip.
func edgesOff(net *columns.Net, held []example) float64 {
	n, off := 0.0, 0.0
	eachColumn(net, held, func(e *example, column int, said []float32) {
		if e.target.shares[column][columns.Outside] > 0 {
			return
		}
		for k, edge := range said {
			n++
			off += math.Abs(float64(columns.EdgeUnit*edge - e.target.edges[column][k]))
		}
	})
	return off / n
}

// saidCovered is for which share of the columns of bodies something is said to lie over
// them, of those where it does and of those where nothing does.
func saidCovered(net *columns.Net, held []example) (covered, bare float64) {
	var all, said [2]float64
	eachColumn(net, held, func(e *example, column int, odds []float32) {
		if e.target.shares[column][columns.Outside] > 0 {
			return
		}
		truly := 0
		if e.target.over[column] > 0.5 {
			truly = 1
		}
		all[truly]++
		if odds[0] > 0 {
			said[truly]++
		}
	})
	return said[1] / max(1, all[1]), said[0] / max(1, all[0])
}
