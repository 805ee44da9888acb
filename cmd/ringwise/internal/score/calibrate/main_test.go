package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestFit draws readings whose chance of being right is known and checks that it
// is found again.
func TestFit(t *testing.T) {
	const slope, offset = 0.6, -0.8
	chance := rand.New(rand.NewPCG(1, 2))
	var read []outcome
	for range 20000 {
		x := 3 * chance.NormFloat64()
		right := chance.Float64() < 1/(1+math.Exp(-slope*x-offset))
		read = append(read, outcome{1 / (1 + math.Exp(-x)), right})
	}
	c, err := fit(read)
	require.NoError(t, err)
	assert.InDelta(t, slope, c.Slope, 0.03)
	assert.InDelta(t, offset, c.Offset, 0.06)
	assert.InDelta(t, 0.9, c.Share(c.Confidence(0.9)), 1e-9)
}

func TestFitRefuses(t *testing.T) {
	_, err := fit([]outcome{{0.9, true}, {0.4, false}})
	assert.ErrorContains(t, err, "too few")
	var backwards []outcome
	for i := range 100 {
		backwards = append(backwards, outcome{float64(i+1) / 102, i%10 > i/10})
	}
	_, err = fit(backwards)
	assert.ErrorContains(t, err, "less often")
}
