package network_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
	"ringwise/decode/network"
)

func spread(t testing.TB, q network.SpreadQuestion) network.Spread {
	t.Helper()
	s, err := network.SpreadOf(q)
	require.NoError(t, err)
	return s
}

// Worked by hand: 100 ppm/K over 65 K, from 20 to 85 °C, is 0.65 %;
// 4455 Ω × 0.9935 = 4426.0425 Ω and 4545 Ω × 1.0065 = 4574.5425 Ω.
func TestSpreadOfToleranceAndDrift(t *testing.T) {
	ppm := 100
	s := spread(t, network.SpreadQuestion{Value: value(t, "4K5F"), TempcoPPM: &ppm,
		Temperature: &network.TemperatureRange{LowC: -10, HighC: 85, ReferenceC: network.ReferenceTemperature}})
	assert.Equal(t, []string{"4.455 kΩ", "4.545 kΩ", "4.4260425 kΩ", "4.5745425 kΩ"},
		[]string{s.Low.String(), s.High.String(), s.WorstLow.String(), s.WorstHigh.String()})
	assert.InDelta(t, 0.65, s.DriftPercent, 1e-12)
	require.Len(t, s.Expected, 3)
	// √(1² + 0.65²) is 1.19269.
	assert.InDelta(t, 1.19269, s.Expected[2].Percent, 1e-5)
	assert.InDelta(t, 1.19269/3, s.Expected[1].SigmaPercent, 1e-5)
}

// The colder end counts if it is the farther one.
func TestDriftCountsTheFartherEnd(t *testing.T) {
	ppm := 50
	s := spread(t, network.SpreadQuestion{Value: value(t, "1K0J"), TempcoPPM: &ppm,
		Temperature: &network.TemperatureRange{LowC: -40, HighC: 30, ReferenceC: 20}})
	assert.InDelta(t, 0.3, s.DriftPercent, 1e-12) // 60 K
}

// Source: JCGM 100:2008 (GUM), 4.3.7, example 1, from memory: limits of ±0.40
// with every value between as likely give a standard uncertainty of 0.23.
func TestSigmaOfAUniformSpread(t *testing.T) {
	s := spread(t, network.SpreadQuestion{Value: value(t, "1k ±0.4 %")})
	assert.InDelta(t, 0.23, s.Expected[0].SigmaPercent, 0.005)
	assert.InDelta(t, 0.4, s.Expected[0].Percent, 1e-12, "never beyond the worst case")
	// 1.96 σ holds 95 % of a normal distribution (JCGM 100:2008, table G.1).
	assert.InDelta(t, 0.4/3*1.96, s.Expected[1].Percent, 1e-12)
	assert.Equal(t, "997.387 Ω", s.Expected[1].Low.String())
}

func TestSpreadSaysWhatItDoesNotKnow(t *testing.T) {
	s := spread(t, network.SpreadQuestion{Value: value(t, "5K6"), Temperature: &network.TemperatureRange{LowC: 0, HighC: 70, ReferenceC: 20}})
	assert.Equal(t, "4.48 kΩ", s.Low.String(), "±20 %")
	require.Len(t, s.Notes, 2)
	assert.Contains(t, s.Notes[0], "No tolerance")
	assert.Contains(t, s.Notes[1], "coefficient is unknown")
}

// The bounds of 5K6J are 5320 and 5880 Ω; the readings lie on and beside them.
func TestMeterAgainstTolerance(t *testing.T) {
	for _, tt := range []struct {
		shown, percent, ohms string
		want                 network.MeterVerdict
	}{
		{"5600", "0", "0", network.Inside},
		{"5320", "0", "0", network.Inside},
		{"5319.99", "0", "0", network.Outside},
		{"5880", "0", "0", network.Inside},
		{"5600", "5", "0", network.Inside}, // 5320 to 5880, just
		{"5600", "5", "0.01", network.Unclear},
		{"5880", "1", "0", network.Unclear},
		{"5900", "0.1", "0", network.Outside}, // 5894.1 at the least
		{"6200", "1", "30", network.Outside},
		{"0", "1", "0.2", network.Outside},
		{"3000", "1", "3000.2", network.Unclear}, // "3k" to three counts of its only digit
	} {
		s := spread(t, network.SpreadQuestion{Value: value(t, "5K6J"), Meter: &decode.Measurement{
			Ohms: decimal.RequireFromString(tt.shown), AccuracyPercent: decimal.RequireFromString(tt.percent), AccuracyOhms: decimal.RequireFromString(tt.ohms)}})
		assert.Equal(t, tt.want, s.Meter.Verdict, "%+v", tt)
	}
	s := spread(t, network.SpreadQuestion{Value: value(t, "5K6J"), Meter: &decode.Measurement{Ohms: decimal.New(5100, 0)}})
	require.NotNil(t, s.Meter.Nearest)
	assert.Equal(t, "5.1 kΩ", s.Meter.Nearest.String())
	assert.InDelta(t, -8.928571429, s.Meter.ErrorPercent, 1e-9)
	assert.Equal(t, []string{network.CautionMetering, network.CautionMains, network.CautionCharge}, s.Cautions)
}

// What lies in parallel only lowers a reading: 6.2 kΩ beside 56 kΩ read 5.58 kΩ,
// inside 5K6J, and 5.6 kΩ beside itself 2.8 kΩ. A reading above 5880 Ω is too high
// whatever lies beside the part.
func TestMeterInCircuit(t *testing.T) {
	for ohms, want := range map[int64]network.MeterVerdict{5580: network.Unclear, 2800: network.Unclear, 5880: network.Unclear, 5881: network.Outside} {
		m := spread(t, network.SpreadQuestion{Value: value(t, "5K6J"), Meter: &decode.Measurement{Ohms: decimal.New(ohms, 0), InCircuit: true}}).Meter
		assert.Equal(t, want, m.Verdict, ohms)
		assert.Nil(t, m.High, ohms)
		assert.Nil(t, m.Nearest, ohms)
		assert.Contains(t, m.Notes, decode.NoteInCircuit, ohms)
	}
}

func TestSpreadRefuses(t *testing.T) {
	ten, wild := 10, 200000
	v := value(t, "1K0J")
	for says, q := range map[string]network.SpreadQuestion{
		"must be above zero":            {},
		"is -5 Ω: it must be":           {Value: network.Exact(decimal.New(-5, 0))},
		"ends below its start":          {Value: v, TempcoPPM: &ten, Temperature: &network.TemperatureRange{LowC: 50, HighC: 20}},
		"-300 °C is out of range":       {Value: v, Temperature: &network.TemperatureRange{LowC: -300}},
		"200000 ppm/K is out of range":  {Value: v, TempcoPPM: &wild, Temperature: &network.TemperatureRange{HighC: 50}},
		"reading of -1 Ω is below zero": {Value: v, Meter: &decode.Measurement{Ohms: decimal.New(-1, 0)}},
		"accuracy must be 0 to 100":     {Value: v, Meter: &decode.Measurement{Ohms: decimal.New(1, 3), AccuracyPercent: decimal.New(101, 0)}},
	} {
		_, err := network.SpreadOf(q)
		assert.ErrorContains(t, err, says)
	}
}
