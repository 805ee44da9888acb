package score

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type answer struct {
	confidence float64
	right      bool
}

// The expected values follow by hand from the definition in M. P. Naeini,
// G. F. Cooper and M. Hauskrecht, "Obtaining well calibrated probabilities
// using Bayesian binning", AAAI 2015: the sum over bins of the bin's share of
// all answers times |share right - mean confidence|.
func TestExpectedError(t *testing.T) {
	for _, c := range []struct {
		name    string
		answers []answer
		want    float64
	}{
		{"nothing", nil, 0},
		{"certain and right", []answer{{1, true}, {1, true}}, 0},
		{"certain and wrong", []answer{{1, false}}, 1},
		{"zero and right", []answer{{0, true}}, 1},
		// 2/4 · |1 - 0.95| + 2/4 · |0.5 - 0.55|
		{"two bins", []answer{{0.95, true}, {0.95, true}, {0.55, true}, {0.55, false}}, 0.05},
		// one bin: |1/2 - (0.41 + 0.49)/2|
		{"one bin", []answer{{0.41, true}, {0.49, false}}, 0.05},
		// two bins, though the errors would cancel in one
		{"no cancelling", []answer{{0.39, true}, {0.61, false}}, 0.61},
	} {
		var k calibration
		for _, a := range c.answers {
			k.add(a.confidence, a.right)
		}
		assert.InDelta(t, c.want, k.expectedError(), 1e-12, c.name)
	}
}

// By hand: 0.1 belongs to the second step, 1 to the last.
func TestReliability(t *testing.T) {
	for _, c := range []struct {
		name    string
		answers []answer
		want    map[int]Bin // all other steps are empty
	}{
		{"nothing", nil, nil},
		{"the ends", []answer{{0, false}, {1, true}}, map[int]Bin{
			0: {0, 0.1, 0, Share{0, 1}}, 9: {0.9, 1, 1, Share{1, 1}}}},
		{"on a bound", []answer{{0.1, true}, {0.5, true}, {0.9, false}}, map[int]Bin{
			1: {0.1, 0.2, 0.1, Share{1, 1}}, 5: {0.5, 0.6, 0.5, Share{1, 1}}, 9: {0.9, 1, 0.9, Share{0, 1}}}},
		// (0.62 + 0.64 + 0.69) / 3
		{"three in one step", []answer{{0.62, true}, {0.64, false}, {0.69, true}}, map[int]Bin{
			6: {0.6, 0.7, 0.65, Share{2, 3}}}},
	} {
		var k calibration
		for _, a := range c.answers {
			k.add(a.confidence, a.right)
		}
		got := k.reliability()
		require.Len(t, got, 10, c.name)
		for i, bin := range got {
			want, some := c.want[i]
			if !some {
				assert.Zero(t, bin.Right, "%s, step %d", c.name, i)
				assert.Zero(t, bin.Mean, "%s, step %d", c.name, i)
				continue
			}
			assert.Equal(t, want.Right, bin.Right, "%s, step %d", c.name, i)
			assert.InDelta(t, want.Mean, bin.Mean, 1e-12, "%s, step %d", c.name, i)
			assert.InDelta(t, want.Low, bin.Low, 1e-12, "%s, step %d", c.name, i)
			assert.InDelta(t, want.High, bin.High, 1e-12, "%s, step %d", c.name, i)
		}
	}
}
