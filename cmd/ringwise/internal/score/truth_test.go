package score

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

func truthFile(t *testing.T, text string) string {
	path := filepath.Join(t.TempDir(), "truth.json")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

func TestLoadTruth(t *testing.T) {
	path := truthFile(t, `{"photos": [{"file": "a.jpg", "scene": {"ground": "paper"}, "visible_resistors": 3,
		"resistors": [
			{"bands": ["GN", "blue", "red", "gold"], "alt_bands": null, "body": {"center": [1, 2], "length_px": 50}},
			{"bands": ["red", "red", "red"], "alt_bands": [["blue", "red", "red"]], "body": {"center": [1, 2], "length_px": 50}},
			{"bands": ["red", "red", "red"], "alt_bands": ["blue", "red", "red"], "body": {"center": [1, 2], "length_px": 50}}],
		"distractors": [{"kind": "screw", "center": null}]}]}`)
	truth, err := LoadTruth(path)
	require.NoError(t, err)
	photo := truth.Photos[0]
	assert.Equal(t, filepath.Join(filepath.Dir(path), "a.jpg"), photo.path)
	assert.Equal(t, Bands{decode.Green, decode.Blue, decode.Red, decode.Gold}, photo.Resistors[0].Bands)
	assert.Empty(t, photo.Resistors[0].AltBands)
	assert.Equal(t, photo.Resistors[1].AltBands, photo.Resistors[2].AltBands, "one code may stand without a list round it")
	assert.True(t, photo.Resistors[1].Accepts(code(t, "BU", "RD", "RD")))
	assert.False(t, photo.Resistors[0].Accepts(code(t, "GD", "RD", "BU", "GN")), "the direction counts")
	assert.Nil(t, photo.Distractors[0].Centre)
}

func TestLoadTruthRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{`[`, "no truth file"},
		{`{}`, "lists no photos"},
		{`{"photos": [{}]}`, `has no "file"`},
		{`{"photos": [{"file": "a.jpg", "resistors": [{"body": {"center": [1, 2], "length_px": 5}}]}]}`, `no "bands"`},
		{`{"photos": [{"file": "a.jpg", "resistors": [{"bands": ["mauve"]}]}]}`, "mauve"},
		{`{"photos": [{"file": "a.jpg", "resistors": [{"bands": ["black"], "body": {"length_px": 5}}]}]}`, `no body "center"`},
		{`{"photos": [{"file": "a.jpg", "resistors": [{"bands": ["black"], "body": {"center": [1, 2]}}]}]}`, `no body "length_px"`},
		{`{"photos": [{"file": "a.jpg", "visible_resistors": 0, "resistors": [{"bands": ["black"], "body": {"center": [1, 2], "length_px": 5}}]}]}`, "1 resistors labelled but 0 visible"},
	} {
		_, err := LoadTruth(truthFile(t, c.text))
		assert.ErrorContains(t, err, c.want)
	}
	_, err := LoadTruth(filepath.Join(t.TempDir(), "missing.json"))
	assert.ErrorContains(t, err, "missing.json: no such file: check the name")
}
