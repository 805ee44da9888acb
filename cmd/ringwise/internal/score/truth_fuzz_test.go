package score

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// FuzzTruth reads any text as a truth file: it is refused by name, or every
// label can be measured against.
func FuzzTruth(f *testing.F) {
	f.Add([]byte(`{"photos": [{"file": "a.jpg", "visible_resistors": 2, "resistors": [{"bands": ["GN", "blue", "red", "gold"], "alt_bands": ["RD", "RD", "RD"], "body": {"center": [1, 2], "length_px": 50}}]}]}`))
	f.Add([]byte(`{"photos": [{"file": "a.jpg", "resistors": [], "distractors": [{"kind": "screw", "center": null, "body": {"axis_deg": 1e308}}]}]}`))
	f.Add([]byte(`{"photos": null}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		truth, err := parseTruth(text, filepath.Join("desk", "truth.json"))
		if err != nil {
			assert.ErrorContains(t, err, "truth.json")
			return
		}
		require.NotEmpty(t, truth.Photos)
		for _, p := range truth.Photos {
			assert.NotEmpty(t, p.Path())
			for _, r := range p.Resistors {
				assert.True(t, r.Accepts(r.Bands))
				for _, alt := range r.AltBands {
					assert.True(t, r.Accepts(alt))
				}
				assert.NotNil(t, r.Body.Centre)
				assert.Positive(t, r.Body.Length)
			}
			for _, d := range p.Distractors {
				d.body()
			}
		}
	})
}
