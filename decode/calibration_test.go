package decode

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCalibration(t *testing.T) {
	c := Calibration{Slope: 2, Offset: -1}
	// Log odds of 0.9 are ln 9; twice that less 1, as odds, is 81/e.
	assert.InDelta(t, 81/math.E/(1+81/math.E), c.Confidence(0.9), 1e-12)
	assert.Equal(t, 0.0, c.Confidence(0))
	assert.Equal(t, 1.0, c.Confidence(1))
	for _, p := range []float64{1e-6, 0.1, 0.5, 0.97, 0.99999} {
		assert.InDelta(t, p, c.Share(c.Confidence(p)), 1e-9)
	}
	assert.Equal(t, 0.0, c.Share(0))
	assert.Equal(t, 1.0, c.Share(1))
	assert.NotEmpty(t, CurrentCalibration().Made)
}

func TestCalibrateKeepsOrderAndSum(t *testing.T) {
	for _, shares := range [][]float64{{0.5, 0.3, 0.2}, {0.21, 0.2, 0.19}, {0.999, 0.0004}, {1}, {0.4, 0.4}, {}} {
		var all []Candidate
		for _, s := range shares {
			all = append(all, Candidate{Confidence: s})
		}
		calibrate(all)
		sum, last := 0.0, 1.0
		for _, c := range all {
			assert.LessOrEqual(t, c.Confidence, last)
			sum, last = sum+c.Confidence, c.Confidence
		}
		assert.LessOrEqual(t, sum, 1+1e-9, "%v", shares)
	}
}
