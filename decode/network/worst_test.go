package network_test

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"ringwise/decode/network"
)

// within draws the same circuit with each part somewhere in its tolerance, often at
// an end of it.
func within(rt *rapid.T, c network.Circuit) network.Circuit {
	if c.Join == network.Single {
		p := *c.Part
		share := rapid.OneOf(rapid.SampledFrom([]float64{0, 1}), rapid.Float64Range(0, 1)).Draw(rt, "place")
		low, high := p.Value.Low().Ohms, p.Value.High().Ohms
		p.Value = network.Exact(low.Add(high.Sub(low).Mul(decimal.NewFromFloat(share))))
		return network.Of(p)
	}
	branches := make([]network.Circuit, len(c.Branches))
	for i, b := range c.Branches {
		branches[i] = within(rt, b)
	}
	if c.Join == network.Series {
		return network.InSeries(branches...)
	}
	return network.InParallel(branches...)
}

// Wherever the parts lie in their tolerances, none gets more than the most that was
// told, by a voltage across the whole or by a power in it.
func TestNoPartGetsMoreThanTheMost(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := anyCircuit(rt, 6)
		real := within(rt, c)
		loads := c.Loads(10, 1)
		for i, got := range real.Loads(10, 1) {
			assert.LessOrEqual(rt, got.Volts, loads[i].MostVolts*(1+1e-9), c)
			assert.LessOrEqual(rt, got.Watts, loads[i].MostWatts*(1+1e-9), c)
		}
	})
	stock := drawer(t, 2, "1K0 ±20 %", "2K2 ±10 %", "470 ±5 %")
	found := combine(t, network.CombineQuestion{Target: value(t, "1K0"), MostParts: 4, Best: 50, Watts: 2}, stock)
	rapid.Check(t, func(rt *rapid.T) {
		c := rapid.SampledFrom(found.Counts[rapid.IntRange(1, 3).Draw(rt, "count")].Best).Draw(rt, "circuit")
		for i, got := range within(rt, c.Circuit).Loads(0, 1) {
			watts := 2 * got.PowerShare
			assert.LessOrEqual(rt, watts, c.Loads[i].MostWatts*(1+1e-9), c.Text)
			assert.LessOrEqual(rt, math.Sqrt(watts*got.Part.Value.Ohms.InexactFloat64()), c.Loads[i].MostVolts*(1+1e-9), c.Text)
			assert.LessOrEqual(rt, c.BearsWatts*got.PowerShare, got.Part.RatedWatts*(1+1e-9), c.Text)
		}
	})
}

// Worked by hand. Of two alike of ±5 % side by side one may have 5 % less: at 10 V
// 100 V²/2090 Ω. In series one of 5 % more beside one of 5 % less gets 10 V · 1.05/2,
// and one of 5 % less as much power as half of the voltage makes in it. A part alone
// gets all of the power in the whole, and with another in series 1.05/2 of it.
func TestTheMostThatAPartGets(t *testing.T) {
	p := part(t, "2K2 ±5 %")
	side, row := network.InParallel(p, p).Loads(10, 1)[0], network.InSeries(p, p).Loads(10, 1)[0]
	assert.InDelta(t, 10, side.MostVolts, 1e-9)
	assert.InDelta(t, 100/2090.0, side.MostWatts, 1e-9)
	assert.InDelta(t, 5.25, row.MostVolts, 1e-9)
	assert.InDelta(t, 25/2090.0, row.MostWatts, 1e-9)

	found := combine(t, network.CombineQuestion{Target: value(t, "2K2"), MostParts: 2, Watts: 0.2, Margin: 1}, drawer(t, 2, "2K2 ±5 %"))
	one, two := found.Counts[0].Best[0], found.Counts[1].Best[0]
	assert.InDelta(t, 0.2, one.Loads[0].MostWatts, 1e-9)
	assert.InDelta(t, 0.25, one.BearsWatts, 1e-9)
	assert.InDelta(t, 0.2*1.05/2, two.Loads[0].MostWatts, 1e-9)
	assert.InDelta(t, 0.25*2/1.05, two.BearsWatts, 1e-9)
}

// Two of 2.2 kΩ ±5 % bear 1/4 W each of 1/2 W, but one of them may get 1.05/2 of it,
// 0.2625 W; with the usual margin that is no matter. Across two of 1 MΩ at 500 V one may get
// 262.5 V. Worked by hand.
func TestCombineDoubtsWhatJustFits(t *testing.T) {
	for _, tt := range []struct {
		q    network.CombineQuestion
		part string
		says string
	}{
		{network.CombineQuestion{Target: value(t, "1K1"), Watts: 0.5, Margin: 1}, "2K2 ±5 %", "2.2 kΩ ±5 % may bear 0.263 W, and its rating is 0.25 W"},
		{network.CombineQuestion{Target: value(t, "1K1"), Watts: 0.25}, "2K2 ±5 %", ""},
		{network.CombineQuestion{Target: value(t, "2M"), Volts: 500}, "1M0 ±5 %", "263 V may lie across 1 MΩ ±5 %, which bears 250 V"},
		{network.CombineQuestion{Target: value(t, "2M"), Volts: 470}, "1M0 ±5 %", ""},
	} {
		tt.q.MostParts, tt.q.Best = 2, 1
		parts := drawer(t, 2, tt.part)
		parts[0].LimitVolts = 250
		best := combine(t, tt.q, parts).Counts[1].Best[0]
		if tt.says == "" {
			assert.Equal(t, network.Yes, best.Answer, best.Conditions)
			assert.Equal(t, network.Yes, best.Loads[0].Within)
			continue
		}
		assert.Equal(t, network.OnlyIf, best.Answer)
		assert.Equal(t, network.OnlyIf, best.Loads[0].Within)
		assert.Contains(t, best.Conditions[0], tt.says)
	}
}

// Of 4.7 kΩ ±20 % above 680 kΩ ±20 % with 4.7 kΩ as load and 50 Ω of source the upper
// bears most where it has what is beside it: 50 Ω and 544 kΩ beside 4.7 kΩ, 4709.7 Ω;
// then a quarter of 81 V²/4709.7 Ω. Worked by hand.
func TestDividerBearsMostBetweenTheEnds(t *testing.T) {
	q := network.DividerQuestion{InVolts: 9, OutVolts: 4.5, LoadOhms: 4700, SourceOhms: 50, MostAmps: 1}
	d := divide(t, q, append(drawer(t, 1, "4K7 ±20 %"), drawer(t, 1, "680K ±20 %")...)).Best[0]
	assert.Equal(t, "4.7 kΩ ±20 %", d.Upper.Part.Value.String())
	assert.InDelta(t, 81/4709.74/4, d.Upper.MostWatts, 1e-8)
}
