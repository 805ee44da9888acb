package ruler_test

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/ruler"
)

// samples is where the demo photos and their truth lie.
const samples = "../../../../samples"

// On the demo photos the rating to count on is never above the one that the body
// was rendered for, and lengths come out near the truth of the scenes.
func TestDemoPhotos(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(samples, "truth.json"))
	require.NoError(t, err)
	var truth struct {
		Photos []struct {
			File  string
			Scene struct {
				PxPerMM float64 `json:"px_per_mm"`
			}
			Resistors []struct {
				Watt string
				Body struct {
					Center   [2]float64
					LengthPx float64 `json:"length_px"`
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal(data, &truth))
	watts := map[string]float64{"1/8": 0.125, "1/4": 0.25, "1/2": 0.5, "1": 1, "2": 2, "3": 3}
	var off []float64
	for _, photo := range truth.Photos[:4] {
		source := photoread.File(filepath.Join(samples, photo.File))
		source.Scale = ruler.Scale(photo.Scene.PxPerMM)
		read := photoread.Read(context.Background(), source, nil)
		require.NoError(t, read.Err)
		for _, part := range read.Parts {
			middle := part.At(0.5, 0.5)
			for _, r := range photo.Resistors {
				if math.Hypot(middle.X-r.Body.Center[0], middle.Y-r.Body.Center[1]) > r.Body.LengthPx/4 {
					continue
				}
				off = append(off, math.Abs(part.Body.LengthMM*photo.Scene.PxPerMM/r.Body.LengthPx-1))
				if size, err := part.Body.Rating(); err == nil {
					require.Contains(t, watts, r.Watt)
					assert.LessOrEqual(t, size.LowWatts, watts[r.Watt], "%s, a body of %s made for %s W", photo.File, part.Body, r.Watt)
				}
			}
		}
	}
	require.Greater(t, len(off), 15)
	slices.Sort(off)
	assert.Less(t, off[len(off)/2], 0.05, "the middle one of how far lengths are off")
}
