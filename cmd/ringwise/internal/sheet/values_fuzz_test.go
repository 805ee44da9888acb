package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// FuzzParseValues reads any text as a list of values for a sheet: the error
// names the line, or every part has rings that mean its value.
func FuzzParseValues(f *testing.F) {
	for _, seed := range []string{"5K6; 10 kΩ ±1 %; E12", "5K6J 4K7 # the green set\n\n47", "E192", "0", "1e9; R33", "5.6 k", ";,;"} {
		f.Add(seed, 3)
	}
	f.Fuzz(func(t *testing.T, text string, level int) {
		level = 1 + int(uint(level)%3)
		parts, err := ParseValues(text, level)
		if err != nil {
			assert.NotContains(t, err.Error(), "\n")
			return
		}
		require.NotEmpty(t, parts)
		for _, p := range parts {
			readings, err := decode.Readings(p.Reading.Rings)
			require.NoError(t, err, "%q", text)
			meant := false
			for _, r := range readings {
				meant = meant || r.Ohms.Equal(p.Reading.Ohms)
			}
			assert.True(t, meant, "%q: %s does not mean %s", text, decode.RowLetters(p.Reading.Rings), p.Reading.Ohms)
		}
	})
}
