package main

import (
	"math"
	"math/rand/v2"
)

// dice draws the chances of one photo. Two dice of the same seed and stream
// fall alike, on any machine.
type dice struct{ *rand.Rand }

func newDice(seed, stream uint64) dice {
	return dice{rand.New(rand.NewPCG(seed, stream))}
}

// between draws evenly from lo to hi.
func (d dice) between(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }

// logBetween draws evenly in the logarithm from lo to hi, both above zero.
func (d dice) logBetween(lo, hi float64) float64 {
	return lo * math.Pow(hi/lo, d.Float64())
}

// near draws from a normal spread cut off at 2.5 standard deviations.
func (d dice) near(mean, sd float64) float64 {
	return mean + sd*math.Max(-2.5, math.Min(2.5, d.NormFloat64()))
}

// chance is true with probability p.
func (d dice) chance(p float64) bool { return d.Float64() < p }

// sign is 1 or -1.
func (d dice) sign() float64 {
	if d.chance(0.5) {
		return -1
	}
	return 1
}

// pick draws one of the items evenly.
func pick[T any](d dice, items []T) T { return items[d.IntN(len(items))] }

// weighted is an item with its share among its fellows.
type weighted[T any] struct {
	item  T
	share float64
}

// pickWeighted draws one of the items by share.
func pickWeighted[T any](d dice, items []weighted[T]) T {
	total := 0.0
	for _, w := range items {
		total += w.share
	}
	at := d.Float64() * total
	for _, w := range items {
		if at -= w.share; at < 0 {
			return w.item
		}
	}
	return items[len(items)-1].item
}
