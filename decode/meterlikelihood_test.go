package decode

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A density adds up to 1 over all values that could be measured: summed over
// ±14 units of the logarithm, finely in the middle. The share of broken parts is
// spread over a fixed range, not over all of it, and so left out of the sum.
func TestLikelihoodIsADensity(t *testing.T) {
	for _, tolerance := range []string{"0.1", "1", "5", "20"} {
		for _, s := range []Specimen{{}, {KindComposition, Old}, {KindMetalFilm, New}} {
			for _, inCircuit := range []bool{false, true} {
				r := Reading{Ohms: decimal.New(5600, 0), TolerancePercent: decimal.NewNullDecimal(decimal.RequireFromString(tolerance))}
				sum, nominal, step := 0.0, math.Log(5600), 0.01
				for x := -14.0; x < 14; x += step {
					step = 0.005
					if math.Abs(x) < 0.01 {
						step = 0.00002 // the narrowest tolerance is 0.002 wide
					}
					m := Measurement{Ohms: decimal.NewFromFloat(math.Exp(nominal + x)), AccuracyPercent: decimal.New(5, -1), InCircuit: inCircuit}
					sum += step * (likelihood(r, m, s) - shareBroken*anyValue)
				}
				assert.InDelta(t, 1-shareBroken, sum, 0.02, "±%s %% %+v in circuit: %t", tolerance, s, inCircuit)
			}
		}
	}
}

// Most of the spread lies within the tolerance, and the farther beyond it, the
// less likely.
func TestLikelihoodFalls(t *testing.T) {
	r := Reading{Ohms: decimal.New(1000, 0), TolerancePercent: decimal.NewNullDecimal(decimal.New(5, 0))}
	at := func(ohms int64, s Specimen) float64 {
		return likelihood(r, Measurement{Ohms: decimal.New(ohms, 0), AccuracyPercent: decimal.New(1, -1)}, s)
	}
	film, old := Specimen{Kind: KindCarbonFilm}, Specimen{KindComposition, Old}
	assert.Greater(t, at(1040, film), 10*at(1070, film))
	for _, pair := range [][2]int64{{1000, 1060}, {1060, 1100}, {1100, 1200}, {1200, 1500}, {940, 900}, {900, 700}} {
		require.Greater(t, at(pair[0], film), at(pair[1], film), "%v", pair)
	}
	assert.Greater(t, at(1250, old), 20*at(1250, film), "old composition parts rise")
	assert.Greater(t, at(1250, old), 20*at(750, old), "and do not fall")
}
