package network_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ringwise/decode"
	"ringwise/decode/network"
	"ringwise/decode/series"
)

func divide(t testing.TB, q network.DividerQuestion, parts []network.Part) network.Dividers {
	t.Helper()
	d, err := network.Divide(q, parts)
	require.NoError(t, err)
	return d
}

// Source: P. Horowitz and W. Hill, The Art of Electronics, 2nd edition,
// exercise 1.9, from memory: 10 kΩ above 10 kΩ at 30 V give 15 V without a load
// and 10 V into 10 kΩ; the load sees 5 kΩ.
func TestDividerOfAHandbook(t *testing.T) {
	stock := drawer(t, 2, "10K ±5 %")
	free := divide(t, network.DividerQuestion{InVolts: 30, OutVolts: 15, MostAmps: 0.01}, stock).Best[0]
	assert.InDelta(t, 15, free.OutVolts, 1e-9)
	assert.Equal(t, "5 kΩ", free.Output.String())
	assert.Zero(t, free.ErrorPercent)
	assert.Zero(t, free.LoadAmps)

	loaded := divide(t, network.DividerQuestion{InVolts: 30, OutVolts: 10, LoadOhms: 10e3, MostAmps: 0.01}, stock).Best[0]
	assert.InDelta(t, 10, loaded.OutVolts, 1e-9)
	assert.InDelta(t, 0.040, loaded.Upper.Watts, 1e-9) // 20 V at 10 kΩ
	assert.InDelta(t, 0.010, loaded.Lower.Watts, 1e-9)
	assert.InDelta(t, 0.002, loaded.Amps, 1e-12)
	assert.InDelta(t, 0.001, loaded.LoadAmps, 1e-12)
	assert.Equal(t, network.Yes, loaded.Answer)
}

// Worked by hand: 9.5/(10.5+9.5) and 10.5/(9.5+10.5) are 0.475 and 0.525.
func TestDividerCorners(t *testing.T) {
	d := divide(t, network.DividerQuestion{InVolts: 10, OutVolts: 5, MostAmps: 1}, drawer(t, 2, "10K ±5 %")).Best[0]
	require.Len(t, d.Corners, 4)
	ratios := []float64{0.5, 0.525, 0.475, 0.5} // upper low, lower low; low, high; high, low; high, high
	for i, want := range ratios {
		assert.InDelta(t, want, d.Corners[i].Ratio, 1e-12)
	}
	assert.InDelta(t, 4.75, d.LowVolts, 1e-12)
	assert.InDelta(t, 5.25, d.HighVolts, 1e-12)
	assert.InDelta(t, -5, d.LowPercent, 1e-9)
	// Most power where the part is highest of the voltage: 5.25² V² / 9.5 kΩ
	// for the upper (upper high is 10.5 kΩ, lower low 9.5 kΩ), or 5² / 9.5 kΩ.
	assert.InDelta(t, 5*5/9500.0, d.Upper.MostWatts, 1e-6)
	assert.InDelta(t, 5.25, d.Upper.MostVolts, 1e-12)
}

// The pair is the nearest of all: against nested loops over E12, with source,
// load and limits of current drawn at random.
func TestDivideFindsTheNearest(t *testing.T) {
	parts := ofSeries(t, series.E12, "100", "1M")
	rapid.Check(t, func(rt *rapid.T) {
		q := network.DividerQuestion{InVolts: rapid.Float64Range(1, 50).Draw(rt, "in"), MostAmps: 0.02}
		q.OutVolts = q.InVolts * rapid.Float64Range(0.02, 0.98).Draw(rt, "ratio")
		if rapid.Bool().Draw(rt, "with load") {
			q.LoadOhms = rapid.Float64Range(2.5e3, 1e6).Draw(rt, "load") // 20 mA at 50 V, so that the load alone never takes too much
			q.SourceOhms = rapid.Float64Range(0, 500).Draw(rt, "source")
			q.LeastAmps = 1e-5
		}
		best := math.Inf(1)
		for _, u := range parts {
			for _, l := range parts {
				upper, lower := u.Value.Ohms.InexactFloat64(), l.Value.Ohms.InexactFloat64()
				// Ohm's law at the extremes of ±10 %.
				below := func(k float64) float64 {
					if q.LoadOhms == 0 {
						return lower * k
					}
					return 1 / (1/(lower*k) + 1/q.LoadOhms)
				}
				if q.InVolts/(q.SourceOhms+upper*0.9+below(0.9)) > q.MostAmps || q.InVolts/(q.SourceOhms+upper*1.1+below(1.1)) < q.LeastAmps {
					continue
				}
				out := q.InVolts * below(1) / (q.SourceOhms + upper + below(1))
				best = min(best, math.Abs(out-q.OutVolts)/q.OutVolts*100)
			}
		}
		got, err := network.Divide(q, parts)
		if math.IsInf(best, 1) {
			assert.ErrorContains(rt, err, "no pair of the parts keeps within the limits")
			return
		}
		require.NoError(rt, err)
		assert.InDelta(rt, best, math.Abs(got.Best[0].ErrorPercent), 1e-9)
		for _, d := range got.Best {
			assert.Greater(rt, d.Ratio, 0.0)
			assert.Less(rt, d.Ratio, 1.0)
			assert.LessOrEqual(rt, d.LowVolts, d.OutVolts)
			assert.GreaterOrEqual(rt, d.HighVolts, d.OutVolts)
			assert.LessOrEqual(rt, d.Output.Ohms.InexactFloat64(), d.Lower.Part.Value.Ohms.InexactFloat64())
		}
	})
}

// 4.3 and 8.2 kΩ have 11.875 kΩ at 5 % less, through which 28.5 V drive 2.4 mA just.
func TestDividerTakesWhatJustKeepsWithinTheCurrent(t *testing.T) {
	stock := append(drawer(t, 1, "4K3 ±5 %"), drawer(t, 1, "8K2 ±5 %")...)
	q := network.DividerQuestion{InVolts: 28.5, OutVolts: 9.8, MostAmps: 0.0024}
	assert.Equal(t, "8.2 kΩ ±5 %", divide(t, q, stock).Best[0].Upper.Part.Value.String())
	q.MostAmps = 0.00239999
	_, err := network.Divide(q, stock)
	assert.ErrorContains(t, err, "no pair of the parts keeps within the limits")
	// And 13.125 kΩ at 5 % more, 2.4 mA at 31.5 V.
	q = network.DividerQuestion{InVolts: 31.5, OutVolts: 10.8, LeastAmps: 0.0024, MostAmps: 1}
	assert.NotEmpty(t, divide(t, q, stock).Best)
}

// A third, of E24: the six pairs of 2 to 1 in every decade (2.0 and 1.0, 2.2 and
// 1.1, 2.4 and 1.2, 3.0 and 1.5, 3.6 and 1.8, 15 and 7.5). 10 V ask for 10 kΩ at 1 mA.
func TestDividerIsOfUsualSizeAndNamedOnce(t *testing.T) {
	got := divide(t, network.DividerQuestion{InVolts: 10, OutVolts: 10.0 / 3, Best: 6}, ofSeries(t, series.E24, "1", "10M"))
	seen := map[string]bool{}
	for _, d := range got.Best {
		digits := d.Upper.Part.Value.Ohms.Shift(-d.Upper.Part.Value.Ohms.Exponent()).String()
		assert.Zero(t, d.ErrorPercent)
		assert.InDelta(t, 2, d.Upper.Part.Value.Ohms.Div(d.Lower.Part.Value.Ohms).InexactFloat64(), 1e-12)
		assert.False(t, seen[digits], "named twice: %s", digits)
		seen[digits] = true
	}
	assert.Equal(t, "3.6 kΩ", network.Exact(got.Best[0].Upper.Part.Value.Ohms).String(), "5.4 kΩ is nearer to 10 kΩ, in ratio, than 3.3 or 22.5 kΩ")
	require.Len(t, got.Notes, 1)
	assert.Contains(t, got.Notes[0], "12.5 mA is taken")
}

// Behind 1 kΩ a half is left only while what is below the tap is more than 1 kΩ, so
// the source sees more than 2 kΩ, and of 12 V gives less than 6 mA. With 600 Ω at the
// tap no more than 4.5 V is left, a quarter less; what is nearer than a fifth is shown.
// Worked by hand.
func TestDividerBehindASourceOutOfReach(t *testing.T) {
	parts := ofSeries(t, series.E24, "1", "10M")
	q := network.DividerQuestion{InVolts: 12, OutVolts: 6, SourceOhms: 1000, MostAmps: 1}
	for says, change := range map[string]network.DividerQuestion{
		"a source of 1 kΩ and a load of 100 Ω alone give less than that ratio: take a load of more than 1 kΩ, or a source of less than 100 Ω": {LoadOhms: 100},
		"a source of 1 kΩ and a load of 600 Ω alone give less than that ratio":                                                                {LoadOhms: 600},
		"behind a source of 1 kΩ no pair gives that ratio at 10 mA or more: allow less current, or take a source of less than 600 Ω":          {LeastAmps: 0.01},
	} {
		asked := q
		asked.LoadOhms, asked.LeastAmps = change.LoadOhms, change.LeastAmps
		_, err := network.Divide(asked, parts)
		assert.ErrorContains(t, err, says)
	}
	q.LoadOhms = 2000
	assert.InDelta(t, 0, divide(t, q, parts).Best[0].ErrorPercent, 1)
}

func TestDividerByRatio(t *testing.T) {
	got := divide(t, network.DividerQuestion{Ratio: 0.5}, drawer(t, 2, "10K ±5 %", "10 ±5 %"))
	assert.Equal(t, "10 kΩ ±5 %", got.Best[0].Upper.Part.Value.String(), "10 Ω is too little for a default")
	assert.Zero(t, got.Best[0].OutVolts)
	assert.Empty(t, got.Best[0].Upper.Within)
	assert.Contains(t, got.Notes[0], "1 kΩ or more")
}

func TestDividerRespectsCountsAndLoads(t *testing.T) {
	_, err := network.Divide(network.DividerQuestion{Ratio: 0.5}, drawer(t, 1, "10K ±5 %"))
	assert.ErrorContains(t, err, "no pair")
	// 100 V over two of 1 kΩ is 2.5 W in each, over two of 27 kΩ 93 mW.
	got := divide(t, network.DividerQuestion{InVolts: 100, OutVolts: 50, MostAmps: 1}, drawer(t, 2, "1K0 ±5 %", "27K ±5 %"))
	require.Len(t, got.Best, 3)
	assert.Equal(t, "27 kΩ ±5 %", got.Best[0].Upper.Part.Value.String())
	assert.Equal(t, network.Yes, got.Best[0].Answer)
	assert.Equal(t, network.No, got.Best[len(got.Best)-1].Answer)
	assert.Contains(t, got.Best[0].Cautions, network.CautionMains)
	// Though 10 kΩ is nearer to the usual size, it bears 0.25 W only just not.
	got = divide(t, network.DividerQuestion{InVolts: 101, OutVolts: 50.5, MostAmps: 1}, drawer(t, 2, "10K ±5 %", "1M0 ±5 %"))
	assert.Equal(t, "1 MΩ ±5 %", got.Best[0].Upper.Part.Value.String())

	// 1 V from 1 kV: 999 V lie across one of 10 MΩ, whose limiting element voltage is unknown.
	got = divide(t, network.DividerQuestion{InVolts: 1000, OutVolts: 1, MostAmps: 1}, drawer(t, 1, "10M ±5 %", "10K ±5 %"))
	assert.Equal(t, network.OnlyIf, got.Best[0].Answer)
	assert.Contains(t, got.Best[0].Conditions, "the limiting element voltage of 10 MΩ ±5 %, which is unknown, is 999.1 V or more")

	fusible := drawer(t, 2, "1K0 ±5 %")
	fusible[0].Kind = decode.KindFusible
	_, err = network.Divide(network.DividerQuestion{Ratio: 0.5}, fusible)
	assert.ErrorContains(t, err, "there are no parts to choose from")
}

func TestDividerRefuses(t *testing.T) {
	stock := drawer(t, 2, "10K ±5 %")
	for says, q := range map[string]network.DividerQuestion{
		"needs an input and an output":  {},
		"needs an input and an":         {InVolts: 5},
		"ratio of 1 is out of reach":    {Ratio: 1},
		"ratio of 1.5 is out of reach":  {Ratio: 1.5},
		"12 V from 5 V is out of reach": {InVolts: 5, OutVolts: 12},
		"5 V from 5 V is out of reach":  {InVolts: 5, OutVolts: 5},
		"the ratio must be above zero":  {Ratio: -0.5},
		"the ratio must be above":       {Ratio: math.NaN()},
		"both given":                    {InVolts: 5, OutVolts: 3, Ratio: 0.5},
		"need the input voltage":        {Ratio: 0.5, MostAmps: 1},
		"least current of 2 A is above": {InVolts: 5, OutVolts: 3, LeastAmps: 2, MostAmps: 1},
		"load resistance must be above": {Ratio: 0.5, LoadOhms: -1},
		"best 99 are out of range":      {Ratio: 0.5, Best: 99},
		"a margin of 101 times":         {Ratio: 0.5, Margin: 101},
		"no pair of the parts keeps":    {InVolts: 5, OutVolts: 2.5, MostAmps: 1e-9},
		// 12 V and 125 mW are 10.42 mA; 3.3 V over 10 Ω are 330 mA, over 10.42 mA 316.8 Ω.
		"load alone takes 330 mA at 3.3 V, and 10.42 mA is the most that the source is to give: allow more current, or take a load of more than 316.8 Ω": {InVolts: 12, OutVolts: 3.3, LoadOhms: 10},
		"least current of 20 mA is above the 10.42 mA that are taken":                                                                                    {InVolts: 12, OutVolts: 3.3, LeastAmps: 0.02},
		"load of 10 Ω no pair gives that ratio with the 1 kΩ or more":                                                                                    {Ratio: 0.5, LoadOhms: 10},
		"source must see 10 kΩ to 11 kΩ":                                                                                                                 {InVolts: 11, OutVolts: 2.5, MostAmps: 1.1e-3, LeastAmps: 1e-3},
	} {
		_, err := network.Divide(q, stock)
		assert.ErrorContains(t, err, says)
	}
	_, err := network.Divide(network.DividerQuestion{Ratio: 0.5}, ofSeries(t, series.E192, "0.1", "100G"))
	assert.ErrorContains(t, err, "too many to search")
}

func BenchmarkDivideE96Over7Decades(b *testing.B) {
	stock := ofSeries(b, series.E96, "1", "9.99M")
	for b.Loop() {
		divide(b, network.DividerQuestion{InVolts: 12, OutVolts: 3.3, LoadOhms: 1e4}, stock)
	}
}
