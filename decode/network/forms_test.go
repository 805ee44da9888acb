package network_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/shopspring/decimal"

	"ringwise/decode/network"
)

func TestValuesIn(t *testing.T) {
	for text, want := range map[string][]string{
		"":                             nil,
		"no value in 12 V and 5 mA":    nil,
		"5.6 kΩ ±5 % in 4.7 kΩ":        {"5.6 kΩ ±5 %", "4.7 kΩ"},
		"(1 kΩ in parallel with 1 kΩ)": {"1 kΩ"},
		"0.33 Ω, 47 mΩ and 2.2 MΩ.":    {"0.33 Ω", "47 mΩ", "2.2 MΩ"},
		"5.6 kΩ ±0.25 %, 50 ppm/K":     {"5.6 kΩ ±0.25 %"},
		"a5.6 kΩ":                      nil,
	} {
		var got []string
		for _, v := range network.ValuesIn(text) {
			got = append(got, v.String())
		}
		assert.Equal(t, want, got, text)
	}
}

// Whatever value a text names is found again, exactly.
func TestValuesInFindsWhatStringWrites(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := network.Exact(decimal.New(rapid.Int64Range(1, 99999).Draw(rt, "digits"), int32(rapid.IntRange(-4, 7).Draw(rt, "power"))))
		if rapid.Bool().Draw(rt, "with tolerance") {
			v.TolerancePercent = decimal.NewNullDecimal(decimal.New(rapid.Int64Range(1, 2000).Draw(rt, "tolerance"), -2))
		}
		found := network.ValuesIn("wanted: " + v.String() + ", that is all")
		require.Len(rt, found, 1, v.String())
		assert.True(rt, found[0].Ohms.Equal(v.Ohms))
		assert.True(rt, found[0].TolerancePercent.Decimal.Equal(v.TolerancePercent.Decimal))
	})
}

// All forms of a value that rings write are read back as that value (IEC 60062,
// IEC 60757); what the words say is checked by the decode package.
func TestFormsAreReadBack(t *testing.T) {
	for _, text := range []string{"5K6J", "100RF", "R33K", "2M2M", "4K99F", "0R"} {
		v, err := network.ParseValue(text)
		require.NoError(t, err)
		f := v.Forms()
		for _, form := range []string{f.Text, f.RKM, f.Letters} {
			again, err := network.ParseValue(form)
			require.NoError(t, err, "%s of %s", form, text)
			assert.Equal(t, v.String(), again.String(), "%s of %s", form, text)
		}
	}
}

// A row that may mean two values is refused, one that is no code too.
func TestParseValueOfRings(t *testing.T) {
	for row, want := range map[string]string{"GN BU RD GD": "5.6 kΩ ±5 %", "black": "0 Ω", "YE VT RD": "4.7 kΩ ±20 %", "RD BN GN BK BN BU": "215 Ω ±1 %"} {
		v, err := network.ParseValue(row)
		require.NoError(t, err, row)
		assert.Equal(t, want, v.String())
	}
	// 47.2 Ω ±1 %, or 4.7 kΩ ±5 % with a failure rate of 1 % per 1000 h.
	_, err := network.ParseValue("YE VT RD GD BN")
	assert.ErrorContains(t, err, "may mean 4.7 kΩ ±5 % or 47.2 Ω ±1 %")
	_, err = network.ParseValue("GD BN RD GD")
	assert.ErrorContains(t, err, "ring 1 cannot be gold")
}
