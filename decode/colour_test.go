package decode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// Source: IEC 60757 for the letters, from memory; the names are English.
func TestParseColour(t *testing.T) {
	for text, want := range map[string]decode.Colour{
		"brown": decode.Brown, "Brown": decode.Brown, "BN": decode.Brown, "bn": decode.Brown, " GY ": decode.Grey,
		"gray": decode.Grey, "GRAY": decode.Grey, "Purple": decode.Violet, "silver": decode.Silver, "SR": decode.Silver, "pk": decode.Pink,
	} {
		got, err := decode.ParseColour(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", "B", "turquoise", "TQ", "br own", "??"} {
		_, err := decode.ParseColour(text)
		assert.ErrorContains(t, err, "is no ring colour", text)
	}
	assert.Equal(t, "colour 13", decode.Colour(decode.ColourCount).String())
	assert.Equal(t, "GN BU RD GD", decode.RowLetters([]decode.Colour{decode.Green, decode.Blue, decode.Red, decode.Gold}))
	assert.Equal(t, "??", decode.Colour(decode.ColourCount).Letters())
}
