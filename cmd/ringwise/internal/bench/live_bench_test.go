//go:build linux

package bench

import (
	"context"
	"image"
	"io"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/isolated"
	"ringwise/cmd/ringwise/internal/stock"
)

// liveFrames is how many frames are watched: few, unless the environment asks
// for more.
func liveFrames(b *testing.B) int {
	b.Helper()
	asked := os.Getenv("RINGWISE_LIVE_FRAMES")
	if asked == "" {
		return 100
	}
	n, err := strconv.Atoi(asked)
	require.NoError(b, err)
	require.Greater(b, n, 1)
	return n
}

// openMats counts the pictures that are open, where gocv is built to count them.
var openMats = func() int { return 0 }

const (
	liveRate  = 25 // frames a second
	liveStill = 20 // frames for which a scene lies still: it is read once after stillFor
)

var liveSize = image.Pt(1280, 720)

// liveVideo writes so many frames of 1280 × 720, two demo photos in turn.
func liveVideo(b *testing.B, frames int) string {
	b.Helper()
	var scenes [2]gocv.Mat
	for i, name := range []string{"01-biscuit-tin", "02-window-sill"} {
		photo := gocv.IMRead("../../../../samples/cleanout-"+name+".jpg", gocv.IMReadColor)
		require.False(b, photo.Empty())
		scenes[i] = gocv.NewMat()
		gocv.Resize(photo, &scenes[i], liveSize, 0, 0, gocv.InterpolationArea)
		photo.Close()
		defer scenes[i].Close()
	}
	path := filepath.Join(b.TempDir(), "live.avi")
	out, err := gocv.VideoWriterFile(path, "MJPG", liveRate, liveSize.X, liveSize.Y, true)
	require.NoError(b, err)
	for i := range frames {
		require.NoError(b, out.Write(scenes[i/liveStill%2]))
	}
	require.NoError(b, out.Close())
	return path
}

// BenchmarkLiveFrames has the bench's fixed camera watch frames of 1280 × 720.
// "watched" looks at each, as the bench does, and reads a scene once it is still;
// "each read" reads every frame as it reads such a scene. Both report frames a
// second, the memory in use at first and at last, and by how much it grew a
// thousand frames in the last quarter: of two thousand, as many photos lie on the
// bench by then as may (mostPhotos).
// RINGWISE_LIVE_FRAMES says how many frames there are.
func BenchmarkLiveFrames(b *testing.B) {
	frames := liveFrames(b)
	b.Run("watched", func(b *testing.B) {
		live(b, frames, func(c *camera) {
			c.run(context.Background())
			require.True(b, c.view().Ended)
		})
	})
	b.Run("each read", func(b *testing.B) {
		live(b, frames, func(c *camera) {
			defer c.Close()
			for {
				frame, err := c.Frame(b.Context())
				if err == io.EOF {
					return
				}
				require.NoError(b, err)
				require.NotEmpty(b, c.read(b.Context(), frame))
				require.NoError(b, frame.Close())
			}
		})
	})
}

// live measures one way to go through a video.
func live(b *testing.B, frames int, through func(c *camera)) {
	film := liveVideo(b, frames)
	before := openMats()
	for b.Loop() {
		fixed, err := isolated.OpenCamera(b.Context(), film)
		require.NoError(b, err)
		c := benchCamera(b, fixed)
		memory := watchMemory()
		began := time.Now()
		through(c)
		took := time.Since(began)
		points := memory()
		b.ReportMetric(float64(frames)/took.Seconds(), "frames/s")
		b.ReportMetric(points[0], "first-MB")
		b.ReportMetric(points[len(points)-1], "last-MB")
		later := points[len(points)*3/4:]
		b.ReportMetric(growth(later)*float64(len(points))*1000/float64(frames), "MB/1000-frames")
		require.NotEmpty(b, c.server.tray.view().Photos)
	}
	require.Equal(b, before, openMats())
}

// benchCamera is the camera of a bench that serves nobody.
func benchCamera(b *testing.B, fixed *isolated.Camera) *camera {
	b.Helper()
	store, err := stock.Open(context.Background(), filepath.Join(b.TempDir(), "stock.db"))
	require.NoError(b, err)
	b.Cleanup(func() { require.NoError(b, store.Close()) })
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(b, err)
	b.Cleanup(func() { listener.Close() })
	s, err := New(store, listener, Options{Camera: fixed})
	require.NoError(b, err)
	return s.camera
}

// watchMemory notes the memory in use, in MB, at even times until it is called.
func watchMemory() (stop func() []float64) {
	var points []float64
	done := make(chan struct{})
	var wait sync.WaitGroup
	points = append(points, memoryInUse())
	wait.Go(func() {
		tick := time.NewTicker(100 * time.Millisecond)
		defer tick.Stop()
		for {
			select {
			case <-done:
				return
			case <-tick.C:
				points = append(points, memoryInUse())
			}
		}
	})
	return func() []float64 {
		close(done)
		wait.Wait()
		return append(points, memoryInUse())
	}
}

// memoryInUse is the process's resident memory in MB (proc(5): statm).
func memoryInUse() float64 {
	statm, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		panic(err) // every Linux has it
	}
	pages, err := strconv.Atoi(strings.Fields(string(statm))[1])
	if err != nil {
		panic(err)
	}
	return float64(pages) * float64(os.Getpagesize()) / (1 << 20)
}

// growth is the slope of a line through points at even distances, by least
// squares.
func growth(points []float64) float64 {
	n := float64(len(points))
	var x, y, xx, xy float64
	for i, p := range points {
		x += float64(i)
		y += p
		xx += float64(i) * float64(i)
		xy += float64(i) * p
	}
	if n < 2 {
		return 0
	}
	return (n*xy - x*y) / (n*xx - x*x)
}

// Points on a line, and about one.
func TestGrowth(t *testing.T) {
	require.InDelta(t, 3, growth([]float64{5, 8, 11, 14}), 1e-9)
	require.InDelta(t, 0, growth([]float64{7, 8, 8, 7}), 1e-9)
	require.Zero(t, growth([]float64{4}))
}
