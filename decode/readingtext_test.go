package decode_test

import (
	"math/big"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

func TestReadingInWords(t *testing.T) {
	for rings, want := range map[string]struct{ value, rkm, lettered, meaning string }{
		"GN BU RD GD":       {"5.6 kΩ", "5K6", "5K6J", "5.6 kΩ ±5 %"},
		"YE VT RD":          {"4.7 kΩ", "4K7", "4K7M", "4.7 kΩ ±20 %"},
		"OG OG SR GD":       {"0.33 Ω", "R33", "R33J", "0.33 Ω ±5 %"},
		"YE VT PK BN":       {"47 mΩ", "R047", "R047F", "47 mΩ ±1 %"},
		"BN BK BN GD":       {"100 Ω", "100R", "100RJ", "100 Ω ±5 %"},
		"RD RD BK YE GN RD": {"2.2 MΩ", "2M2", "2M2D", "2.2 MΩ ±0.5 %, 50 ppm/K"},
		"RD RD RD GD BN":    {"2.2 kΩ", "2K2", "2K2J", "2.2 kΩ ±5 %, 1 %/1000 h"},
		"BN BK RD OG":       {"1 kΩ", "1K0", "1K0H", "1 kΩ ±3 %"},
		"BK":                {"0 Ω", "0R", "0R", "0 Ω link"},
	} {
		readings, err := decode.Readings(row(t, rings))
		require.NoError(t, err)
		r := readings[0]
		assert.Equal(t, want.value, r.Value(), rings)
		assert.Equal(t, want.rkm, r.RKM(), rings)
		assert.Equal(t, want.meaning, r.Meaning(), rings)
		assert.Equal(t, want.lettered, r.RKMWithToleranceLetter(), rings)
		assert.Equal(t, rings == "BK", r.IsLink())
	}
	odd := decode.Reading{Ohms: num("1000"), TolerancePercent: decimal.NewNullDecimal(num("4"))}
	assert.Equal(t, "1K0", odd.RKMWithToleranceLetter(), "±4 % has no letter")
}

// Worked by hand.
func TestBounds(t *testing.T) {
	for rings, want := range map[string][2]string{
		"GN BU RD GD":       {"5320", "5880"},
		"YE GY VT BK BN":    {"482.13", "491.87"},
		"YE VT RD":          {"3760", "5640"},
		"BN BK BK BK GY":    {"99.99", "100.01"},
		"OG OG SR GD":       {"0.3135", "0.3465"},
		"BK":                {"0", "0"},
		"WH WH WH WH VT BN": {"998001000000", "999999000000"},
	} {
		readings, err := decode.Readings(row(t, rings))
		require.NoError(t, err)
		assert.Equal(t, want, [2]string{readings[0].Low().String(), readings[0].High().String()}, rings)
	}
}

// Checked against the exact fractions of math/big for every four-ring code.
func TestBoundsAreExact(t *testing.T) {
	for rings := range rows(4) {
		readings, err := decode.Readings(rings)
		if err != nil {
			continue
		}
		for _, r := range readings {
			nominal, percent := r.Ohms.Rat(), r.TolerancePercent.Decimal.Rat()
			part := new(big.Rat).Mul(nominal, percent)
			part.Quo(part, big.NewRat(100, 1))
			if new(big.Rat).Sub(nominal, part).Cmp(r.Low().Rat()) != 0 || new(big.Rat).Add(nominal, part).Cmp(r.High().Rat()) != 0 {
				t.Fatalf("%v: %s to %s", rings, r.Low(), r.High())
			}
		}
	}
}
