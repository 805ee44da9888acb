package decode_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// Source: examples of IEC 60062, from memory.
func TestRKMOfTheStandardBothWays(t *testing.T) {
	for _, example := range published(t, "iec60062_rkm.csv") {
		m, err := decode.ParseRKM(example["marking"])
		require.NoError(t, err)
		assert.Equal(t, example["ohms"], m.Ohms.String(), example["marking"])
		assert.False(t, m.TolerancePercent.Valid)
		assert.Empty(t, m.TempcoPPM)
		assert.Equal(t, example["marking"], decode.FormatRKM(num(example["ohms"])))
	}
}

// Common practice, no source.
func TestFormatRKM(t *testing.T) {
	for ohms, want := range map[string]string{
		"5600": "5K6", "0.33": "R33", "18000": "18K", "2200000": "2M2", "100": "100R", "4.7": "4R7",
		"0": "0R", "0.000": "0R", "0.005": "R005", "0.0005": "R0005", "5600.00": "5K6", "999000000000": "999G",
		"1234": "1K234", "1000001": "1M000001", "47e13": "470T", "1e16": "10000T", "-5600": "-5K6", "1e900": "1E900R",
	} {
		assert.Equal(t, want, decode.FormatRKM(num(ohms)), ohms)
	}
	assert.Equal(t, "1E2000000000R", decode.FormatRKM(decimal.New(1, 2000000000)))
}

// Source: IEC 60062:2016 for the letters, from memory; worked by hand.
func TestParseRKM(t *testing.T) {
	for _, tt := range []struct {
		marking, ohms, tolerance string
		tempcos                  []int
	}{
		{"5K6J", "5600", "5", nil}, {"5k6j", "5600", "5", nil}, {" R33F ", "0.33", "1", nil},
		{"0R", "0", "", nil}, {"K56", "560", "", nil}, {"18K", "18000", "", nil}, {"18KK", "18000", "10", nil},
		{"18KM", "18000", "20", nil}, {"10MM", "10000000", "20", nil}, {"2M2E", "2200000", "0.005", nil},
		{"4L7", "0.0047", "", nil}, {"4L7L", "0.0047", "0.01", nil}, {"0R005", "0.005", "", nil},
		{"R005", "0.005", "", nil}, {"1R0H", "1", "3", nil}, {"1R0N", "1", "30", nil},
		{"5K6JS", "5600", "5", []int{100}}, {"5K6FZ", "5600", "1", []int{20, 10}}, {"5K6BM", "5600", "0.1", []int{5}},
		{"1T5", "1500000000000", "", nil}, {"007R", "7", "", nil},
	} {
		m, err := decode.ParseRKM(tt.marking)
		require.NoError(t, err, tt.marking)
		assert.Equal(t, tt.ohms, m.Ohms.String(), tt.marking)
		tolerance := ""
		if m.TolerancePercent.Valid {
			tolerance = m.TolerancePercent.Decimal.String()
		}
		assert.Equal(t, tt.tolerance, tolerance, tt.marking)
		assert.Equal(t, tt.tempcos, m.TempcoPPM, tt.marking)
	}
}

func TestParseRKMRefuses(t *testing.T) {
	for marking, says := range map[string]string{
		"":                      "no letter for the decimal point",
		"5600":                  "no letter for the decimal point",
		"R":                     "no digit",
		"KJ":                    "no digit",
		"2m2":                   "milli or mega",
		"4E7":                   "use one of L R K M G T",
		"J":                     "use one of L R K M G T",
		"-5K6":                  "use one of L R K M G T",
		"5.6K":                  "use one of L R K M G T",
		"5K6X":                  `"X" is no tolerance letter`,
		"5K6Z":                  `"Z" is no tolerance letter`,
		"5K6JJ":                 `"J" is no letter of a temperature coefficient`,
		"5K6JSS":                "at most a tolerance letter and a coefficient letter",
		"5K6 J":                 "no tolerance letter",
		"5K6K6":                 "no letter of a temperature coefficient",
		"5K6Ω":                  "no tolerance letter",
		"12345678901234567R":    "too many digits",
		"0L0000000000001":       "too many digits",
		strings.Repeat("9", 99): "too long",
	} {
		_, err := decode.ParseRKM(marking)
		assert.ErrorContains(t, err, says, "%q", marking)
	}
}

func FuzzParseRKM(f *testing.F) {
	for _, seed := range []string{"5K6", "R33", "5K6JZ", "4L7", "0R", "1T0", "2m2", "", "K", "9999999999999999TNZ"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := decode.ParseRKM(text)
		if err != nil {
			assert.Less(t, len(err.Error()), 800)
			return
		}
		require.False(t, m.Ohms.IsNegative())
		again, err := decode.ParseRKM(decode.FormatRKM(m.Ohms))
		require.NoError(t, err)
		assert.True(t, again.Ohms.Equal(m.Ohms), "%s and %s", again.Ohms, m.Ohms)
	})
}
