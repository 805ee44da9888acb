package bench

import (
	"image"
	"image/color"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/isolated"
)

// video writes a video of so many frames a second: a hand moves over the sample's
// parts, then nothing does. OpenCV writes it and reads it again.
func video(t *testing.T, framesPerSecond float64) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bench.avi")
	full := gocv.IMRead(sample, gocv.IMReadColor)
	defer full.Close()
	require.False(t, full.Empty())
	out, err := gocv.VideoWriterFile(path, "MJPG", framesPerSecond, full.Cols(), full.Rows(), true)
	require.NoError(t, err)
	defer out.Close()
	for i := range 12 {
		frame := full.Clone()
		hand := image.Rect(60*i, 80, 60*i+300, 400)
		gocv.Rectangle(&frame, hand, color.RGBA{180, 120, 100, 0}, -1)
		require.NoError(t, out.Write(frame))
		frame.Close()
	}
	for range 60 {
		require.NoError(t, out.Write(full))
	}
	return path
}

// Under a fixed camera the scene is read once it is still, and only once; the
// page shows what the camera sees and says what it does.
func TestFixedCamera(t *testing.T) {
	fixed, err := isolated.OpenCamera(t.Context(), video(t, 25))
	require.NoError(t, err)
	r := start(t, Options{Camera: fixed})
	require.Eventually(t, func() bool { return r.camera.view().Ended }, patience, 20*time.Millisecond)
	photos := r.tray.view().Photos
	require.Len(t, photos, 1)
	assert.Contains(t, photos[0].Name, "camera")
	assert.GreaterOrEqual(t, len(photos[0].Parts), 4)
	assert.Equal(t, "The camera gives no more pictures.", r.camera.view().Words)

	w := r.open(t, 1024, 800)
	w.untilSays("#live-words", "no more pictures")
	w.untilSays("#photos", "camera")
}

// The live view is there while the camera runs, which is for over a minute here.
func TestLiveView(t *testing.T) {
	fixed, err := isolated.OpenCamera(t.Context(), video(t, 1))
	require.NoError(t, err)
	r := start(t, Options{Camera: fixed})
	w := r.open(t, 1024, 800)
	w.until(`document.querySelector('#live-view').naturalWidth > 0`)
	assert.Equal(t, 800, value[int](w, `document.querySelector('#live-view').naturalWidth`))
}

func TestNoCamera(t *testing.T) {
	s := newServer(t, Options{})
	assert.Equal(t, 422, s.answers(own("GET", "/camera", "")).Code)
}

// Brighter and darker pictures of one scene are the same scene; a part more on
// it makes another.
func TestScenes(t *testing.T) {
	full := gocv.IMRead(sample, gocv.IMReadColor)
	defer full.Close()
	darker, more := gocv.NewMat(), full.Clone()
	defer darker.Close()
	defer more.Close()
	full.ConvertToWithParams(&darker, gocv.MatTypeCV8UC3, 0.85, 0)
	gocv.Rectangle(&more, image.Rect(700, 750, 800, 790), color.RGBA{60, 90, 140, 0}, -1)
	a, b, c := scene(full), scene(darker), scene(more)
	defer a.Close()
	defer b.Close()
	defer c.Close()
	assert.False(t, differ(a, b))
	assert.True(t, differ(a, c))
}
