package network_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ringwise/decode"
	"ringwise/decode/network"
)

// Source: SI brochure, 9th edition, for units and prefixes; the rest is common
// practice, no source.
func TestParseQuantity(t *testing.T) {
	for _, tt := range []struct {
		text, unit string
		want       float64
	}{
		{"12 V", network.Volt, 12}, {"12", network.Volt, 12}, {"12V", network.Volt, 12}, {" 3.3  V ", network.Volt, 3.3},
		{"3,3 V", network.Volt, 3.3}, {"0,125 V", network.Volt, 0.125}, {"1,0000 V", network.Volt, 1}, {"250 mV", network.Volt, 0.25}, {"1.2kV", network.Volt, 1200}, {"1 KV", network.Volt, 1200 / 1.2},
		{"12 volts", network.Volt, 12}, {"5 mA", network.Ampere, 0.005}, {"500 µA", network.Ampere, 0.0005}, {"500 μA", network.Ampere, 0.0005},
		{"500uA", network.Ampere, 0.0005}, {"20 milliamps", network.Ampere, 0.02}, {"2 amperes", network.Ampere, 2}, {"5m", network.Ampere, 0.005},
		{"1/4 W", network.Watt, 0.25}, {"1/4", network.Watt, 0.25}, {"1/8W", network.Watt, 0.125}, {"0,25 W", network.Watt, 0.25},
		{"250mW", network.Watt, 0.25}, {"1/2 watt", network.Watt, 0.5}, {"2 watts", network.Watt, 2}, {".5 W", network.Watt, 0.5},
		{"12v", network.Volt, 12}, {"5 mv", network.Volt, 0.005}, {"5ma", network.Ampere, 0.005}, {"2 a", network.Ampere, 2}, {"1/4w", network.Watt, 0.25}, {"1kw", network.Watt, 1000}, {"500 µa", network.Ampere, 0.0005},
		{"1/1000 W", network.Watt, 0.001}, {"1/1000W", network.Watt, 0.001},
	} {
		got, err := network.ParseQuantity(tt.text, tt.unit)
		require.NoError(t, err, "%q", tt.text)
		assert.InEpsilon(t, tt.want, got, 1e-12, "%q", tt.text)
		if strings.ContainsAny(strings.ToLower(tt.text), "vaw") {
			assert.Equal(t, tt.unit, network.UnitOf(tt.text), "%q", tt.text)
		}
	}
	for _, text := range []string{"", "12", "1/4", "5m", "470R", "4.7 kohms", "1k"} {
		assert.Empty(t, network.UnitOf(text), "%q", text)
	}
	for _, text := range []string{
		"", "V", "-5 V", "−5 V", "0", "0 V", "1e400", "1e5", "five volts", "12 A", "12 W", "12 a", "12 w", "5 kg", "1.2.3", "1/0 V", "0/4", "Inf", "NaN", "5 V V",
		"99999999999 V", "1 QV", "12 kilovoltages", "5 hectovolt", strings.Repeat("9", 1000), "\xff", "5\x00V", "1/4/4 V", "1/4.5 V", "1/4 5 V", "1,000 V", "10,000", "1,500V",
	} {
		_, err := network.ParseQuantity(text, network.Volt)
		require.Error(t, err, "%q", text)
		assert.Contains(t, err.Error(), "write it such as 12 V")
		assert.Less(t, len(err.Error()), 300)
	}
}

func TestFormatQuantity(t *testing.T) {
	for want, amount := range map[string]float64{
		"0 V": 0, "12 V": 12, "5.357 mV": 0.00535714, "1.235 kV": 1234.567, "999.9 V": 999.94, "1 kV": 999.96, "10 µV": 1e-5, "-3.3 V": -3.3,
		"no finite number of V": math.Inf(1),
	} {
		assert.Equal(t, want, network.FormatQuantity(amount, network.Volt))
	}
	assert.Equal(t, "0.25 W", network.FormatRating(0.25))
	assert.Equal(t, "10000 W", network.FormatRating(1e4))
}

// What is written is read again, to four figures.
func TestQuantityRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		amount := math.Exp(rapid.Float64Range(math.Log(1e-12), math.Log(1e8)).Draw(rt, "log"))
		unit := rapid.SampledFrom([]string{network.Volt, network.Ampere, network.Watt}).Draw(rt, "unit")
		text := network.FormatQuantity(amount, unit)
		again, err := network.ParseQuantity(text, unit)
		require.NoError(rt, err, text)
		assert.InEpsilon(rt, amount, again, 5.1e-4, text)
	})
}

func FuzzParseQuantity(f *testing.F) {
	for _, seed := range []string{"12 V", "1/4 W", "5mA", "0,25", "500 µA", "1/0", "9e99", "-3"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, unit := range []string{network.Volt, network.Ampere, network.Watt} {
			amount, err := network.ParseQuantity(text, unit)
			if err == nil && !(amount > 0 && amount <= 1e9) {
				t.Errorf("%q is read as %g", text, amount)
			}
		}
	})
}

// Sources as for decode.ParseOhms and decode.ParseRKM.
func TestParseValue(t *testing.T) {
	for text, want := range map[string]string{
		"5K6": "5.6 kΩ", "5K6J": "5.6 kΩ ±5 %", "5.6 kΩ ±5 %": "5.6 kΩ ±5 %", "5600 ± 1%": "5.6 kΩ ±1 %", "5k6 ±J": "5.6 kΩ ±5 %",
		"0,33 Ohm": "0.33 Ω", "2.2M ±0,5": "2.2 MΩ ±0.5 %", "47 mΩ": "47 mΩ", "0": "0 Ω",
		"5.6k +/-5 %": "5.6 kΩ ±5 %", "5K6 +-J": "5.6 kΩ ±5 %", "5.6k 5%": "5.6 kΩ ±5 %", "5,6 kΩ, 0,5 %": "5.6 kΩ ±0.5 %", "1E+3": "1 kΩ",
	} {
		assert.Equal(t, want, value(t, text).String(), "%q", text)
	}
	for text, says := range map[string]string{
		"": "empty", "5k6 ±": "no tolerance", "5k6 ±0 %": "no tolerance", "5k6 ±101 %": "no tolerance", "5k6 ±-5": "no tolerance",
		"5k6 ±1e-99": "no tolerance", "5k6 ±5 ±5": "no tolerance", "5k6 ±5% 5%": "no tolerance", "1 500 %": "no tolerance",
		"0,5 %": "no unit", "5k6 5": "no unit", "-5 ±5 %": "not negative", "5k6 ±0.00000000000000001": "too long",
	} {
		_, err := network.ParseValue(text)
		assert.ErrorContains(t, err, says, "%q", text)
	}
}

// A value written as text or JSON is read again as it was, and its rings mean
// it.
func TestValueRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := network.Value{Ohms: decimal.New(rapid.Int64Range(10, 99).Draw(rt, "digits"), rapid.Int32Range(-2, 7).Draw(rt, "exponent")),
			TolerancePercent: decimal.NewNullDecimal(decimal.RequireFromString(rapid.SampledFrom([]string{"20", "10", "5", "2", "1", "0.5"}).Draw(rt, "tolerance")))}
		again, err := network.ParseValue(v.String())
		require.NoError(rt, err)
		assert.Equal(rt, v.String(), again.String())
		again, err = network.ParseValue(v.RKM())
		require.NoError(rt, err)
		assert.Equal(rt, v.String(), again.String())

		data, err := json.Marshal(v)
		require.NoError(rt, err)
		var read network.Value
		require.NoError(rt, json.Unmarshal(data, &read))
		assert.Equal(rt, v.String(), read.String())

		readings, err := decode.Readings(v.Rings())
		require.NoError(rt, err)
		assert.True(rt, readings[0].Ohms.Equal(v.Ohms) && readings[0].TolerancePercent.Decimal.Equal(v.TolerancePercent.Decimal))
	})
}

func TestValueAsJSON(t *testing.T) {
	data, err := json.Marshal(value(t, "5K6J"))
	require.NoError(t, err)
	assert.JSONEq(t, `{"ohms": 5600, "tolerance_percent": 5, "text": "5.6 kΩ ±5 %", "rkm": "5K6J",
		"rings": ["green", "blue", "red", "gold"], "letters": "GN BU RD GD", "spoken": "five point six kilo-ohm, plus or minus five percent"}`, string(data))
	data, err = json.Marshal(network.About(5583.333333))
	require.NoError(t, err)
	assert.Contains(t, string(data), `"ohms":5583.33,"tolerance_percent":null`)
	assert.Contains(t, string(data), `"rings":[]`)
	for text, want := range map[string]string{`5600`: "5.6 kΩ", `"5K6J"`: "5.6 kΩ ±5 %", `{"ohms": 5600}`: "5.6 kΩ", `1e6`: "1 MΩ", `{"ohms": 1E6}`: "1 MΩ", `4.7e-1`: "0.47 Ω", `{"ohms": 5.6e3, "tolerance_percent": 1}`: "5.6 kΩ ±1 %"} {
		var v network.Value
		require.NoError(t, json.Unmarshal([]byte(text), &v), text)
		assert.Equal(t, want, v.String())
	}
	for _, text := range []string{`true`, `[]`, `{}`, `{"ohms": -5}`, `{"ohms": 1e999}`, `{"ohms": 5, "tolerance_percent": 500}`, `"lots"`, `-1`} {
		assert.Error(t, json.Unmarshal([]byte(text), new(network.Value)), text)
	}
}

// Without a tolerance the row has no ring for it, which leaves two digits: four
// rings always have a tolerance (IEC 60062), so that yellow white white brown is
// 49 GΩ ±1 % and no row writes 4.99 kΩ.
func TestRingsWithoutTolerance(t *testing.T) {
	assert.Equal(t, []decode.Colour{decode.Green, decode.Blue, decode.Red}, value(t, "5K6").Rings())
	for _, text := range []string{"4K99", "1K87"} {
		assert.Nil(t, value(t, text).Rings(), text)
		assert.Contains(t, value(t, text).Forms().String(), "no row of rings writes it", text)
	}
	assert.Nil(t, value(t, "5583.33").Rings())
	assert.Nil(t, value(t, "5K6 ±7 %").Rings())
	for _, ohms := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		assert.True(t, network.About(ohms).Ohms.IsZero())
	}
}
