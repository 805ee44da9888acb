package network_test

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ringwise/decode/network"
)

// part makes a circuit of one part.
func part(t testing.TB, text string) network.Circuit {
	t.Helper()
	return network.Of(network.Part{Value: value(t, text), Count: 1})
}

// Sources, from memory: T. Kuphaldt, Lessons in Electric Circuits, volume I:
// chapter 5 (3, 10 and 5 kΩ in series, 18 kΩ; 10, 2 and 1 kΩ in parallel,
// 625 Ω) and chapter 7 (100 and 250 Ω in parallel, in series with 350 and
// 200 Ω in parallel, 198.70 Ω); P. Horowitz and W. Hill, The Art of
// Electronics, exercise 1.1 (5 and 10 kΩ: 15 kΩ and 3.33 kΩ).
func TestCircuitsOfHandbooks(t *testing.T) {
	for _, tt := range []struct {
		circuit network.Circuit
		want    float64
		within  float64
	}{
		{network.InSeries(part(t, "3k"), part(t, "10k"), part(t, "5k")), 18000, 1e-9},
		{network.InParallel(part(t, "10k"), part(t, "2k"), part(t, "1k")), 625, 1e-9},
		{network.InSeries(network.InParallel(part(t, "100"), part(t, "250")), network.InParallel(part(t, "350"), part(t, "200"))), 198.70, 0.005},
		{network.InSeries(part(t, "5k"), part(t, "10k")), 15000, 1e-9},
		{network.InParallel(part(t, "5k"), part(t, "10k")), 3333.33, 0.005},
	} {
		assert.InDelta(t, tt.want, tt.circuit.Ohms(), tt.within, tt.circuit)
	}
}

// Source: Lessons in Electric Circuits, volume I, chapter 7, from memory: at
// 24 V the four parts above carry 86.275, 34.510, 43.922 and 76.863 mA.
func TestLoadsOfAHandbook(t *testing.T) {
	loads := network.InSeries(network.InParallel(part(t, "100"), part(t, "250")), network.InParallel(part(t, "350"), part(t, "200"))).Loads(24, 1)
	for i, milliamps := range []float64{86.275, 34.510, 43.922, 76.863} {
		ohms := loads[i].Part.Value.Ohms.InexactFloat64()
		assert.InDelta(t, milliamps, loads[i].Volts/ohms*1000, 0.001)
		assert.InDelta(t, milliamps*milliamps*ohms*1e-6, loads[i].Watts, 3e-5, "the book rounds")
		assert.Equal(t, network.OnlyIf, loads[i].Within, "ratings unknown")
	}
}

// anyCircuit draws a circuit of up to so many parts, in floats and as it is.
func anyCircuit(rt *rapid.T, most int) network.Circuit {
	if most == 1 || rapid.IntRange(0, 3).Draw(rt, "leaf") == 0 {
		return network.Of(network.Part{Value: network.Value{
			Ohms:             decimal.New(rapid.Int64Range(10, 999).Draw(rt, "digits"), rapid.Int32Range(-2, 5).Draw(rt, "exponent")),
			TolerancePercent: decimal.NewNullDecimal(decimal.New(rapid.Int64Range(0, 30).Draw(rt, "tolerance"), 0)),
		}})
	}
	left := rapid.IntRange(1, most-1).Draw(rt, "left")
	a, b := anyCircuit(rt, left), anyCircuit(rt, most-left)
	if rapid.Bool().Draw(rt, "series") {
		return network.InSeries(a, b)
	}
	return network.InParallel(a, b)
}

// What holds for every circuit: a series is the sum of its branches and more
// than the largest, a parallel less than the smallest (its conductance the sum
// of theirs); the bounds enclose it; the shares of power sum to the whole; the
// expected spread is no wider than the worst case.
func TestLawsOfCircuits(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := anyCircuit(rt, 8)
		whole := c.Ohms()
		sum, conductance, smallest, largest := 0.0, 0.0, math.Inf(1), 0.0
		for _, b := range c.Branches {
			r := b.Ohms()
			sum, conductance, smallest, largest = sum+r, conductance+1/r, min(smallest, r), max(largest, r)
		}
		switch c.Join {
		case network.Series:
			assert.InEpsilon(rt, sum, whole, 1e-12)
			assert.Greater(rt, whole, largest)
		case network.Parallel:
			assert.InEpsilon(rt, conductance, 1/whole, 1e-12)
			assert.Less(rt, whole, smallest)
		}
		low, high := c.Bounds()
		assert.LessOrEqual(rt, low, whole*(1+1e-12))
		assert.GreaterOrEqual(rt, high, whole*(1-1e-12))
		shares, watts := 0.0, 0.0
		for _, load := range c.Loads(5, 1) {
			shares, watts = shares+load.PowerShare, watts+load.Watts
			assert.LessOrEqual(rt, load.VoltageShare, 1+1e-12)
		}
		assert.InDelta(rt, 1, shares, 1e-9)
		assert.InEpsilon(rt, 25/whole, watts, 1e-9)
		widest := max(whole-low, high-whole) / whole * 100
		assert.LessOrEqual(rt, c.ExpectedPercent(), widest*(1+1e-9)+1e-9)
	})
}

// Two equal parts of ±5 % in series: independent errors add by squares to
// 5 %/√2 (JCGM 100:2008, 5.1.2).
func TestExpectedSpread(t *testing.T) {
	assert.InDelta(t, 5/math.Sqrt2, network.InSeries(part(t, "1K0J"), part(t, "1K0J")).ExpectedPercent(), 1e-12)
	assert.InDelta(t, 5/math.Sqrt2, network.InParallel(part(t, "1K0J"), part(t, "1K0J")).ExpectedPercent(), 1e-12)
	assert.InDelta(t, 20, part(t, "1k").ExpectedPercent(), 1e-12, "unknown tolerance")
}

func TestJoinsAreFlat(t *testing.T) {
	c := network.InSeries(part(t, "1k"), network.InSeries(part(t, "2k"), part(t, "3k")), network.InParallel(part(t, "4k")))
	assert.Len(t, c.Branches, 4)
	assert.Equal(t, "1 kΩ in series with 2 kΩ in series with 3 kΩ in series with 4 kΩ", c.String())
	require.Len(t, c.Parts(), 4)
}
