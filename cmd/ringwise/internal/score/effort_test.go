package score

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEffort(t *testing.T) {
	e := Effort{Read: 3 * time.Second, Floor: 2 * time.Second, Peak: 250, FloorPeak: 200}
	assert.Equal(t, 1.5, e.Ratio())
	assert.Equal(t, int64(50), e.PeakAbove())
	assert.Equal(t, 1.25, e.PeakRatio())
}

// Opening is the first thing that reading does, so it costs no less.
func TestSpeed(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("CPU time is measured on Linux only")
	}
	mat := image.NewRGBA(image.Rect(0, 0, 1200, 900))
	draw.Draw(mat, mat.Rect, image.NewUniform(color.RGBA{0xd8, 0xd4, 0xc8, 0xff}), image.Point{}, draw.Src)
	folder := t.TempDir()
	f, err := os.Create(filepath.Join(folder, "mat.png"))
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, mat))
	require.NoError(t, f.Close())

	photo := Photo{File: "mat.png", path: f.Name()}
	e, err := Speed(t.Context(), Truth{Photos: []Photo{photo, photo}})
	require.NoError(t, err)
	require.NotNil(t, e)
	assert.Positive(t, e.Floor)
	assert.Greater(t, e.Ratio(), 0.5)
	assert.GreaterOrEqual(t, e.Peak, e.FloorPeak)

	_, err = Speed(t.Context(), Truth{Photos: []Photo{photo, {path: filepath.Join(folder, "gone.png")}}})
	assert.Error(t, err)
}
