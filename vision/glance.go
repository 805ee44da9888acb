package vision

import (
	"math"

	"ringwise/vision/columns"
)

// A glance is what the network sees in a strip at first sight: the likeliest
// row of outside, body and rings.
type glance struct {
	left, right int     // the columns of the wide strip between which the body lies
	rings       int     // how many it has
	gain        float64 // how much likelier than that there is nothing, as a logarithm
}

// Prices of a glance's steps, as logarithms.
const (
	enterPrice = 4.0 // of going from outside into a body, and out of it
	bandPrice  = 6.0 // of a ring
)

// glance finds the likeliest row by dynamic programming, column by column.
func (t *told) glance() glance {
	const (
		body   = 0
		rings  = columns.Classes - columns.Ring
		before = rings + 1
		after  = rings + 2
		states = rings + 3
	)
	class := func(state int) columns.Class {
		switch {
		case state == body:
			return columns.Body
		case state <= rings:
			return columns.Ring + state - 1
		}
		return columns.Outside
	}
	var from [columns.Columns][states]int8
	var best [states]float64
	for s := range best {
		best[s] = math.Inf(-1)
	}
	best[before] = 0
	empty := 0.0
	for c := range columns.Columns {
		emit := func(k columns.Class) float64 { return t.sums[k][c+1] - t.sums[k][c] }
		empty += emit(columns.Outside)
		next := best
		for s := range from[c] {
			from[c][s] = int8(s)
		}
		step := func(a, b int, price float64) {
			if v := best[a] - price; v > next[b] {
				next[b], from[c][b] = v, int8(a)
			}
		}
		step(before, body, enterPrice)
		step(body, after, enterPrice)
		for r := 1; r <= rings; r++ {
			step(body, r, bandPrice)
			step(r, body, 0)
			step(before, r, enterPrice+bandPrice)
			step(r, after, enterPrice)
		}
		for s := range next {
			next[s] += emit(class(s))
		}
		best = next
	}
	state := before
	for s, v := range best {
		if v > best[state] {
			state = s
		}
	}
	g := glance{left: columns.Columns, gain: best[state] - empty}
	for c := columns.Columns - 1; c >= 0; c-- {
		if state <= rings {
			g.left = c
			g.right = max(g.right, c+1)
		}
		earlier := int(from[c][state])
		if state != earlier && state >= 1 && state <= rings {
			g.rings++
		}
		state = earlier
	}
	return g
}
