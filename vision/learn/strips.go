package main

import (
	"fmt"
	"io"
	"math/rand/v2"

	"ringwise/vision/columns"
)

// ofStrips is the lesson of a network that tells what a strip's columns show.
func ofStrips(shape columns.Shape, taught, held []example) lesson[*columns.Net] {
	return lesson[*columns.Net]{
		fresh: func(chance *rand.Rand) *columns.Net { return columns.New(shape, chance) },
		read:  func(r io.Reader) (*columns.Net, error) { return columns.Read(shape, r) },
		learn: func(m *scratch, n *columns.Net, chance *rand.Rand, slope *columns.Net) float64 {
			s, truth := taught[chance.IntN(len(taught))].vary(chance)
			return learnFrom(m, n, s, truth, slope)
		},
		measure: func(n *columns.Net) string {
			right, rings := rightColumns(n, held)
			return fmt.Sprintf("columns right %.4f, ring columns right %.4f", right, rings)
		},
	}
}

// rightColumns is the share of columns, and of ring columns, whose likeliest class
// is the true one.
func rightColumns(net *columns.Net, held []example) (right, rings float64) {
	var m scratch
	n, ringColumns := 0.0, 0.0
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
		seen := through(&m, net, s).scores
		for c := range columns.Columns {
			scores := seen.Data[c*columns.Classes:][:columns.Classes]
			likeliest, truly := 0, 0
			for k := range scores {
				if scores[k] > scores[likeliest] {
					likeliest = k
				}
				if e.target[c][k] > e.target[c][truly] {
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
		}
	}
	return right / n, rings / ringColumns
}
