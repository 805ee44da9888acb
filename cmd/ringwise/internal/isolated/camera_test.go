package isolated

import (
	"context"
	"image"
	"image/color"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// video writes a video of 25 frames a second, each brighter than the one before.
// OpenCV writes it and reads it again.
func video(t *testing.T, frames int) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bench.avi")
	out, err := gocv.VideoWriterFile(path, "MJPG", 25, 320, 240, true)
	require.NoError(t, err)
	defer out.Close()
	for i := range frames {
		frame := gocv.NewMatWithSize(240, 320, gocv.MatTypeCV8UC3)
		tone := uint8(40 + 30*i)
		gocv.Rectangle(&frame, image.Rect(0, 0, 320, 240), color.RGBA{tone, tone, tone, 0}, -1)
		require.NoError(t, out.Write(frame))
		frame.Close()
	}
	return path
}

func TestCamera(t *testing.T) {
	c, err := OpenCamera(t.Context(), video(t, 5))
	require.NoError(t, err)
	defer c.Close()
	assert.Equal(t, 40*time.Millisecond, c.Pause) // 25 a second
	for i := range 5 {
		frame, err := c.Frame(t.Context())
		require.NoError(t, err)
		assert.Equal(t, []int{240, 320}, frame.Pixels.Size())
		assert.InDelta(t, 40+30*i, frame.Pixels.Mean().Val1, 4, "frame %d", i)
		frame.Close()
	}
	_, err = c.Frame(t.Context())
	assert.Equal(t, io.EOF, err)
}

func TestCameraThatCannotBeOpened(t *testing.T) {
	notes := filepath.Join(t.TempDir(), "notes.avi")
	require.NoError(t, os.WriteFile(notes, []byte("no video"), 0o600))
	for source, want := range map[string]string{
		filepath.Join(t.TempDir(), "missing.avi"): "there is no video file",
		notes: "notes.avi cannot be opened",
		"97":  "the camera 97 cannot be opened: check its number",
	} {
		_, err := OpenCamera(t.Context(), source)
		assert.ErrorContains(t, err, want)
	}
}

// A stream that ends the process that looks through it ends nothing else.
func TestCameraThatBreaks(t *testing.T) {
	c, err := OpenCamera(t.Context(), video(t, 5))
	require.NoError(t, err)
	defer c.Close()
	frame, err := c.Frame(t.Context())
	require.NoError(t, err)
	frame.Close()
	c.process.kill()
	<-c.process.ended
	_, err = c.Frame(t.Context())
	assert.Equal(t, errCameraBroken, err)
}

func TestCameraStopsWithItsContext(t *testing.T) {
	c, err := OpenCamera(t.Context(), video(t, 5))
	require.NoError(t, err)
	defer c.Close()
	ctx, stop := context.WithCancel(t.Context())
	stop()
	_, err = c.Frame(ctx)
	for err == nil { // it may have answered first
		_, err = c.Frame(ctx)
	}
	assert.ErrorIs(t, err, context.Canceled)
}
