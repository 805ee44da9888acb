package decode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

func TestParseKind(t *testing.T) {
	for text, want := range map[string]decode.Kind{
		"metal film": decode.KindMetalFilm, "Metal-Film": decode.KindMetalFilm, "METALFILM": decode.KindMetalFilm,
		"wirewound": decode.KindWireWound, "wire wound": decode.KindWireWound, "high voltage": decode.KindHighVoltage, "Safety": decode.KindSafety,
		"ordinary": decode.KindOrdinary, "": decode.KindUnknown, "unknown": decode.KindUnknown,
	} {
		kind, err := decode.ParseKind(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, kind, text)
	}
	for _, k := range append(decode.Kinds, decode.KindUnknown) {
		again, err := decode.ParseKind(k.String())
		require.NoError(t, err)
		assert.Equal(t, k, again)
	}
	_, err := decode.ParseKind("glass")
	assert.ErrorContains(t, err, `"glass" is no kind of resistor: use one of composition, carbon film,`)
}

func TestSpecialKinds(t *testing.T) {
	for _, k := range decode.Kinds {
		want := k == decode.KindWireWound || k == decode.KindFusible || k == decode.KindFlameproof || k == decode.KindHighVoltage || k == decode.KindSafety
		assert.Equal(t, want, k.Special(), k)
		assert.Equal(t, want, k.WhySpecial() != "", k)
		assert.Equal(t, want, k.Caution() != "", k)
	}
	assert.False(t, decode.KindUnknown.Special())
}
