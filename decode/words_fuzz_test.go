package decode_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// FuzzRingWords reads rings as a person names them, a word each: each is a
// colour whose name and letters are read as that colour again, or the error
// names the word; and a row of them has meanings or none, in the letters as in
// the names.
func FuzzRingWords(f *testing.F) {
	for _, seed := range []string{"yellow violet orange gold", "YE VT OG GD", "gn BU rd", "grey gray GY", "mauve", "", "BK"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var named, lettered []decode.Colour
		for _, word := range strings.Fields(text) {
			c, err := decode.ParseColour(word)
			if err != nil {
				assert.Contains(t, err.Error(), "is no ring colour")
				return
			}
			name, err := decode.ParseColour(strings.ToUpper(c.String()))
			require.NoError(t, err)
			letters, err := decode.ParseColour(strings.ToLower(c.Letters()))
			require.NoError(t, err)
			named, lettered = append(named, name), append(lettered, letters)
		}
		first, fault := decode.Readings(named)
		second, sameFault := decode.Readings(lettered)
		assert.Equal(t, fault, sameFault)
		assert.Equal(t, first, second)
		assert.Equal(t, fault == nil, len(first) > 0, "meanings or an error")
	})
}

// FuzzMeter reads what a person types off a meter: it is refused, or an error
// limit goes with it.
func FuzzMeter(f *testing.F) {
	for _, seed := range []string{"5.58k", "560", "0.47 Ω", "1e3", "0", "5.60k", "1,000", "9999999999999999"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := decode.UsualMeter.Shows(text)
		if err != nil {
			assert.Less(t, len(err.Error()), 800)
			return
		}
		require.False(t, m.Ohms.IsNegative())
		require.True(t, m.Limit().IsPositive())
		ohms, err := decode.ParseOhms(text)
		require.NoError(t, err)
		assert.True(t, ohms.Equal(m.Ohms))
	})
}
