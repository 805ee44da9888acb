package decode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// Worked by hand: 1 % of the value and 3 counts of the last digit typed, and
// 0.2 Ω for the leads.
func TestShows(t *testing.T) {
	for text, want := range map[string][3]string{ // ohms, extra ohms, limit
		"5.58k":    {"5580", "30.2", "86"},
		"5.60k":    {"5600", "30.2", "86.2"},
		"5.6k":     {"5600", "300.2", "356.2"},
		"560":      {"560", "3.2", "8.8"},
		"0.47":     {"0.47", "0.23", "0.2347"},
		"0.470":    {"0.47", "0.203", "0.2077"},
		"5k58":     {"5580", "30.2", "86"},
		"1.2E+3":   {"1200", "300.2", "312.2"},
		"4.7E+3 Ω": {"4700", "300.2", "347.2"},
		"0":        {"0", "0.2", "0.2"},
		"0,33 Ω":   {"0.33", "0.23", "0.2333"},
		"1.00 M":   {"1000000", "30000.2", "40000.2"},
	} {
		m, err := decode.UsualMeter.Shows(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, [3]string{m.Ohms.String(), m.AccuracyOhms.String(), m.Limit().String()}, text)
	}
	_, err := decode.UsualMeter.Shows("OL")
	assert.ErrorContains(t, err, "the meter's value")
}
