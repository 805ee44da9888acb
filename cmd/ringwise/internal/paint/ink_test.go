package paint

import (
	"bytes"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
	"github.com/stretchr/testify/assert"

	"ringwise/decode"
)

func TestShowsColour(t *testing.T) {
	for _, c := range []struct {
		env  map[string]string
		want bool
	}{
		{map[string]string{"COLORTERM": "truecolor", "TERM": "xterm"}, true},
		{map[string]string{"COLORTERM": "24bit"}, true},
		{map[string]string{"COLORTERM": "truecolor", "NO_COLOR": "1"}, false},
		{map[string]string{"COLORTERM": "truecolor", "TERM": "dumb"}, false},
		{map[string]string{"TERM": "xterm-256color"}, false},
		{nil, false},
	} {
		assert.Equal(t, c.want, showsColour(func(key string) string { return c.env[key] }), "%v", c.env)
	}
}

func TestRingsAreAlwaysLettered(t *testing.T) {
	rings := []decode.Colour{decode.Green, decode.Gold}
	text, columns := InkFor(&bytes.Buffer{}).Rings(rings)
	assert.Equal(t, "GN GD", text)
	assert.Equal(t, 5, columns)

	text, columns = Ink{swatches: true}.Rings(rings)
	assert.Equal(t, "\x1b[48;2;31;138;63m  \x1b[0mGN \x1b[48;2;185;140;58m  \x1b[0mGD", text)
	assert.Equal(t, 9, columns)
}

// Any two swatches must be told apart: a CIEDE2000 difference of 2.3 is just
// noticeable (common practice, no source), so well above it.
func TestSwatchesDiffer(t *testing.T) {
	for a := range decode.Colour(decode.ColourCount) {
		for b := range a {
			x, _ := colorful.MakeColor(Of(a))
			y, _ := colorful.MakeColor(Of(b))
			assert.Greater(t, 100*x.DistanceCIEDE2000(y), 8.0, "%s and %s", a, b)
		}
	}
}
