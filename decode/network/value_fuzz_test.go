package network_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
	"ringwise/decode/network"
)

// FuzzParseValue reads a value with its tolerance, a tolerance alone and a kind.
// What is taken is in range, and is read again as it was from what is written of
// it.
func FuzzParseValue(f *testing.F) {
	for _, seed := range []string{"5K6", "5K6J", "5.6 kΩ ±5 %", "5600 ± 1%", "5.6k +/-5%", "5.6k 5 %", "5k6 ±J", "0", "47 mΩ", "5k6 ±1e-99", "±5", "wire-wound", "High Voltage", "B"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if v, err := network.ParseValue(text); err == nil {
			require.False(t, v.Ohms.IsNegative())
			again, err := network.ParseValue(v.String())
			require.NoError(t, err, "%q is written %q", text, v)
			assert.True(t, again.Ohms.Equal(v.Ohms), "%q is written %q", text, v)
			if v.TolerancePercent.Valid && !v.Ohms.IsZero() {
				assert.True(t, again.TolerancePercent.Decimal.Equal(v.TolerancePercent.Decimal), "%q is written %q", text, v)
			}
		} else {
			assert.Less(t, len(err.Error()), 1000)
		}
		if percent, err := network.ParseTolerance(text); err == nil {
			assert.True(t, percent.IsPositive() && percent.LessThanOrEqual(decimal.New(100, 0)), "%q is read as %s", text, percent)
		}
		if kind, err := decode.ParseKind(text); err == nil {
			again, err := decode.ParseKind(string(kind))
			require.NoError(t, err, text)
			assert.Equal(t, kind, again)
		}
	})
}
