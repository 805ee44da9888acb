package vision

import (
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// twelveMegapixels is a drawn photo of 4000 × 3000 pixels with up to twelve
// parts, as a JPEG.
func twelveMegapixels(b *testing.B, parts int) []byte {
	b.Helper()
	var bodies []drawn
	for i := range parts {
		bodies = append(bodies, drawn{
			x: 550 + 950*float64(i%4), y: 550 + 950*float64(i/4), length: 430, angle: 31 * float64(i),
			rings: drawnCodes[i%len(drawnCodes)].rings,
		})
	}
	p := scene(4000, 3000, bodies...)
	grain(p)
	return asJPEG(b, p)
}

// processorTime is what the process has used of all processors so far.
func processorTime(b *testing.B) time.Duration {
	b.Helper()
	var use syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// timed runs what is to be measured and reports the processor time of each
// round beside the time on the clock.
func timed(b *testing.B, round func()) {
	b.Helper()
	before := processorTime(b)
	for b.Loop() {
		round()
	}
	b.ReportMetric(float64(processorTime(b)-before)/float64(b.N)/1e6, "cpu-ms/op")
}

// BenchmarkFloor is what no reader built on OpenCV can go below: opening the
// photo in colour and converting it to 8-bit Lab.
func BenchmarkFloor(b *testing.B) {
	data := twelveMegapixels(b, 12)
	timed(b, func() {
		pixels, err := gocv.IMDecode(data, gocv.IMReadColor)
		require.NoError(b, err)
		lab := gocv.NewMat()
		gocv.CvtColor(pixels, &lab, gocv.ColorBGRToLab)
		lab.Close()
		pixels.Close()
	})
}

// BenchmarkOpenAndFind does the same photo with one part and with twelve; the
// difference is what eleven parts cost.
func BenchmarkOpenAndFind(b *testing.B) {
	for _, c := range []struct {
		name  string
		parts int
	}{{"1 part", 1}, {"12 parts", 12}} {
		b.Run(c.name, func(b *testing.B) {
			data := twelveMegapixels(b, c.parts)
			timed(b, func() {
				photo, err := Open(b.Context(), data)
				require.NoError(b, err)
				parts, err := Find(b.Context(), photo)
				require.NoError(b, err)
				require.Len(b, parts, c.parts)
				require.NoError(b, photo.Close())
			})
		})
	}
}

// BenchmarkOpen is the part of it that opens the photo.
func BenchmarkOpen(b *testing.B) {
	data := twelveMegapixels(b, 12)
	timed(b, func() {
		photo, err := Open(b.Context(), data)
		require.NoError(b, err)
		require.NoError(b, photo.Close())
	})
}
