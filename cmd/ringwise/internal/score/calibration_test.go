package score

import (
	"testing"

	"github.com/stretchr/testify/assert"
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
