package decode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ringwise/decode"
)

func TestParseRow(t *testing.T) {
	want := []decode.Colour{decode.Green, decode.Blue, decode.Red, decode.Gold}
	for _, text := range []string{"GN BU RD GD", "gn bu rd gd", "green, blue, red, gold", "green-blue-red-gold", " GN/blue;RD\u00a0gold "} {
		got, err := decode.ParseRow(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for text, says := range map[string]string{"": "name the colours", " , ": "name the colours", "GN BU beige": "beige"} {
		_, err := decode.ParseRow(text)
		assert.ErrorContains(t, err, says, text)
	}
}

// A row written in letters is read back.
func TestParseRowReadsLetters(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var row []decode.Colour
		for range rapid.IntRange(1, 6).Draw(rt, "rings") {
			row = append(row, decode.Colour(rapid.IntRange(0, decode.ColourCount-1).Draw(rt, "colour")))
		}
		got, err := decode.ParseRow(decode.RowLetters(row))
		require.NoError(rt, err)
		assert.Equal(rt, row, got)
	})
}
