package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringwise/vision/columns"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// noisy is a strip of random colours with a random truth.
func noisy(chance *rand.Rand) (*columns.Strip, *target) {
	s, t := &columns.Strip{Detail: 1}, new(target)
	for r := range s.Pixels {
		for c := range s.Pixels[r] {
			for k := range 3 {
				s.Pixels[r][c][k] = 255 * chance.Float32()
			}
		}
	}
	for c := range t.shares {
		t.shares[c][chance.IntN(columns.Classes)] = 1
		t.edges[c] = [columns.Sides]float32{chance.Float32() - 1, chance.Float32()}
		t.over[c] = chance.Float32()
	}
	return s, t
}

// TestSlopes checks the slopes of the loss against differences: the definition
// of a derivative.
func TestSlopes(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 1))
	for _, shape := range []columns.Shape{columns.Glancing, columns.Edging, columns.Covering} { // with a tower and without, for each loss
		n, slope := columns.New(shape, chance), columns.New(shape, nil)
		s, truth := noisy(chance)
		for c := range truth.shares { // edges are asked for on the body
			if c%3 > 0 {
				truth.shares[c][columns.Body] += truth.shares[c][columns.Outside]
				truth.shares[c][columns.Outside] = 0
			}
		}
		learnFrom(new(scratch), n, s, truth, slope)
		loss := func() float64 {
			l, _ := through(new(scratch), n, s).loss(new(scratch), shape, truth)
			return l
		}
		checkSlopes(t, n.Weights(), slope.Weights(), loss)
	}
}

// checkSlopes compares slopes with differences of the loss. Of each part of the
// weights it takes the one with the steepest slope, where rounding matters least.
func checkSlopes(t *testing.T, weights, slopes [][]float32, loss func() float64) {
	t.Helper()
	for i := range weights {
		steep := 0
		for j, g := range slopes[i] {
			if math.Abs(float64(g)) > math.Abs(float64(slopes[i][steep])) {
				steep = j
			}
		}
		const step = 2e-3
		w := &weights[i][steep]
		was := *w
		*w = was + step
		up := loss()
		*w = was - step
		down := loss()
		*w = was
		want := float64(slopes[i][steep])
		require.Greater(t, math.Abs(want), 1e-3, "part %d", i)
		assert.InDelta(t, want, (up-down)/(2*step), 0.05*math.Abs(want)+1e-4, "part %d", i)
	}
}

// TestLearns checks that steps down the slopes lower the loss.
func TestLearns(t *testing.T) {
	chance := rand.New(rand.NewPCG(2, 2))
	n := columns.New(columns.Glancing, chance)
	s, truth := noisy(chance)
	step := func(rate float32) float64 {
		slope := columns.New(n.Shape, nil)
		loss := learnFrom(new(scratch), n, s, truth, slope)
		for i, weights := range n.Weights() {
			for j := range weights {
				weights[j] -= rate * slope.Weights()[i][j]
			}
		}
		return loss
	}
	first := step(0)
	for range 6 {
		step(0.05)
	}
	assert.Less(t, step(0), first-0.1)
}

// TestSeesAsItLearns checks what OpenCV makes of the network against the way
// through it that learning takes.
func TestSeesAsItLearns(t *testing.T) {
	for seed := range uint64(3) {
		s, _ := noisy(rand.New(rand.NewPCG(6, seed)))
		said := through(new(scratch), columns.Taught(columns.Edging), s).said
		for at, edges := range columns.NewSeer(s).Edges() {
			for k, edge := range edges {
				require.InDelta(t, columns.EdgeUnit*said.Data[at*said.Cols+k], edge, 5e-3)
			}
		}
		said = through(new(scratch), columns.Taught(columns.Covering), s).said
		for at, covered := range columns.NewSeer(s).Covered() {
			require.InDelta(t, 1/(1+math.Exp(-float64(said.Data[at]))), covered, 5e-3)
		}
		for _, c := range []struct {
			shape columns.Shape
			seen  *columns.LogLikelihoods
		}{{columns.Glancing, columns.NewSeer(s).Glance()}, {columns.Reading, columns.NewSeer(s).Read()}} {
			said := through(new(scratch), columns.Taught(c.shape), s).said
			for at, logs := range c.seen {
				want := columns.LogSoftmax([columns.Classes]float32(said.Data[at*said.Cols:][:said.Cols]))
				for k := range want {
					require.InDelta(t, want[k], logs[k], 5e-3)
				}
			}
		}
	}
}
