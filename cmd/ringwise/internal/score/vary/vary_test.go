package main

import (
	"encoding/json"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/score"
)

// TestLabelsMoveWithTheirParts checks that a dark square lies where the labels of each
// copy say, and is as large, by OpenCV's moments.
func TestLabelsMoveWithTheirParts(t *testing.T) {
	from, to := t.TempDir(), t.TempDir()
	photo := gocv.NewMatWithSizeFromScalar(gocv.NewScalar(230, 235, 240, 0), 240, 320, gocv.MatTypeCV8UC3)
	defer photo.Close()
	gocv.Rectangle(&photo, image.Rect(200, 40, 260, 100), color.RGBA{R: 30, G: 30, B: 30}, -1)
	require.True(t, gocv.IMWrite(filepath.Join(from, "square.png"), photo))
	truth := filepath.Join(from, "truth.json")
	require.NoError(t, os.WriteFile(truth, []byte(`{"photos": [{"file": "square.png", "resistors": [{"bands": ["red", "red", "red"],
		"body": {"center": [230, 70], "length_px": 60, "polygon": [[200, 40], [260, 40], [260, 100], [200, 100]]}}]}]}`), 0o644))

	require.NoError(t, vary(to, 24, 1, []string{truth}))
	sets, err := score.LoadSets([]string{filepath.Join(to, "truth.json")})
	require.NoError(t, err)
	require.Len(t, sets[0].Photos, 24)
	turned, scaled := 0, 0
	for _, p := range sets[0].Photos {
		shown := gocv.IMRead(p.Path(), gocv.IMReadGrayScale)
		gocv.Threshold(shown, &shown, 120, 1, gocv.ThresholdBinaryInv)
		m := gocv.Moments(shown, true)
		require.NoError(t, shown.Close())
		body := p.Resistors[0].Body
		assert.InDelta(t, body.Centre[0], m["m10"]/m["m00"]+0.5, 1, p.File)
		assert.InDelta(t, body.Centre[1], m["m01"]/m["m00"]+0.5, 1, p.File)
		assert.InEpsilon(t, body.Length*body.Length, m["m00"], 0.1, p.File) // an edge may lie half a pixel off
		corner := body.Polygon[0]
		assert.InEpsilon(t, body.Length*body.Length/2, square(corner[0]-body.Centre[0])+square(corner[1]-body.Centre[1]), 0.02)
		if corner[1] > body.Centre[1]-0.45*body.Length || corner[0] > body.Centre[0] {
			turned++
		}
		if body.Length < 57 {
			scaled++
		}
	}
	assert.Greater(t, turned, 4)
	assert.Greater(t, scaled, 8)
}

func square(x float64) float64 { return x * x }

// TestVarySaysWhatIsMissing checks what is said of wrong calls and files.
func TestVarySaysWhatIsMissing(t *testing.T) {
	dir := t.TempDir()
	truth := filepath.Join(dir, "truth.json")
	data, err := json.Marshal(labels{Photos: []photo{{File: "note.jpg"}}})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(truth, data, 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "note.jpg"), []byte("no photo"), 0o644))
	assert.ErrorContains(t, vary("", 1, 1, []string{truth}), "-out")
	assert.ErrorContains(t, vary(dir, 0, 1, []string{truth}), "-times")
	assert.ErrorContains(t, vary(dir, 1, 1, nil), "name one truth file")
	assert.ErrorContains(t, vary(dir, 1, 1, []string{filepath.Join(dir, "none.json")}), "none.json")
	assert.ErrorContains(t, vary(dir, 1, 1, []string{filepath.Join(dir, "note.jpg")}), "is no truth file")
	assert.ErrorContains(t, vary(dir, 1, 1, []string{truth}), "note.jpg")
}
