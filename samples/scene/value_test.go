package main

import (
	"testing"

	"ringwise/decode"
	"ringwise/decode/series"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every drawn value is legal, and its number of ohms follows from its rings
// by plain arithmetic on the digits of IEC 60062, done here in floats.
func TestDrawnValuesAreLegal(t *testing.T) {
	powers := map[decode.Colour]float64{
		decode.Pink: 1e-3, decode.Silver: 1e-2, decode.Gold: 1e-1, decode.Black: 1, decode.Brown: 10,
		decode.Red: 1e2, decode.Orange: 1e3, decode.Yellow: 1e4, decode.Green: 1e5, decode.Blue: 1e6,
		decode.Violet: 1e7, decode.Grey: 1e8, decode.White: 1e9,
	}
	d := newDice(3, 3)
	for _, count := range []int{1, 3, 4, 5, 6} {
		for range 800 {
			m := drawMeaning(d, count)
			require.Len(t, m.Rings, count)
			if count == 1 {
				assert.True(t, m.Ohms.IsZero())
				assert.False(t, m.TolerancePercent.Valid)
				continue
			}
			digits := 2
			if count >= 5 && !m.FailureRate.Valid {
				digits = 3
			}
			value := 0.0
			for _, c := range m.Rings[:digits] {
				value = 10*value + float64(c)
			}
			value *= powers[m.Rings[digits]]
			assert.InEpsilon(t, value, m.Ohms.InexactFloat64(), 1e-9, "%v", m.Rings)
			assert.True(t, m.TolerancePercent.Valid)
			assert.Equal(t, count == 6, m.TempcoPPM != nil)
		}
	}
}

// 4K7 ±5 % is yellow, violet, red, gold; read from the other end gold would
// lead, which stands for no digit. Brown black black red brown turned round is
// brown red black black brown, 120 Ω ±1 %.
func TestReverse(t *testing.T) {
	for _, c := range []struct {
		rings []decode.Colour
		want  [][]string
	}{
		{[]decode.Colour{decode.Yellow, decode.Violet, decode.Red, decode.Gold}, nil},
		{[]decode.Colour{decode.Brown, decode.Black, decode.Black, decode.Red, decode.Brown}, [][]string{{"brown", "red", "black", "black", "brown"}}},
		// 137 Ω and 107 kΩ are both in E96 (IEC 60063).
		{[]decode.Colour{decode.Brown, decode.Orange, decode.Violet, decode.Black, decode.Brown}, [][]string{{"brown", "black", "violet", "orange", "brown"}}},
		// 140 kΩ ±2 % turned round is 2.3 MΩ ±1 %, but 230 is in neither E96 nor E24.
		{[]decode.Colour{decode.Brown, decode.Yellow, decode.Black, decode.Orange, decode.Red}, nil},
		{[]decode.Colour{decode.Black}, nil},
	} {
		p := &part{meaning: meaning{Reading: decode.Reading{Rings: c.rings}}}
		assert.Equal(t, c.want, p.reverse(), "%v", c.rings)
	}
}

// Rare values stay as rare as the spread in the package's description says;
// common practice, no source.
func TestRareValuesAreRare(t *testing.T) {
	const draws = 20000
	d := newDice(5, 5)
	for _, c := range []struct {
		count, digits int
		tolerances    map[decode.Colour]float64
	}{
		{4, 2, map[decode.Colour]float64{decode.Gold: 0.80, decode.Silver: 0.11, decode.Brown: 0.04, decode.Red: 0.04}},
		{5, 3, map[decode.Colour]float64{decode.Brown: 0.76, decode.Red: 0.12, decode.Green: 0.05, decode.Blue: 0.03, decode.Violet: 0.03, decode.Gold: 0.01}},
	} {
		last, small, odd, unusual := map[decode.Colour]int{}, 0, 0, map[string]int{}
		for range draws {
			m := drawMeaning(d, c.count)
			unusual[m.oddity]++
			if m.FailureRate.Valid {
				continue
			}
			last[m.Rings[c.count-1]]++
			if at := m.Rings[c.digits]; at == decode.Gold || at == decode.Silver {
				small++
			}
			if !series.Contains(series.E24, m.Ohms) && (c.digits == 2 || !series.Contains(series.E96, m.Ohms)) {
				odd++
			}
		}
		for colour, share := range c.tolerances {
			assert.InDelta(t, share, float64(last[colour])/draws, 0.012, "%d rings, last %v", c.count, colour)
		}
		assert.Less(t, float64(small)/draws, 0.08, "%d rings: gold and silver multipliers", c.count)
		assert.Less(t, float64(odd)/draws, 0.02, "%d rings: values outside E24 and E96", c.count)
		assert.NotZero(t, odd)
		for _, what := range []string{"failure-rate ring", "high-voltage lacquer without metal"} {
			assert.LessOrEqual(t, float64(unusual[what])/draws, 0.01, "%d rings: %s", c.count, what)
		}
	}
}
