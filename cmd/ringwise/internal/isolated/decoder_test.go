package isolated

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/vision"
)

// TestMain lets this program be a decoder that breaks, each in its way.
func TestMain(m *testing.M) {
	if len(os.Args) == 2 {
		switch os.Args[1] {
		case "abort": // OpenCV throws an exception that nobody catches
			from, to := gocv.NewMat(), gocv.NewMat()
			gocv.Resize(from, &to, image.Pt(8, 8), 0, 0, gocv.InterpolationArea)
			os.Exit(0)
		case "killed": // in the middle of its answer, as when memory runs out
			os.Stdout.Write([]byte{withPixels, 64, 0, 0, 0, 64, 0, 0, 0, 1, 2, 3})
			self, _ := os.FindProcess(os.Getpid())
			self.Kill()
			time.Sleep(time.Minute)
		case "failed": // after a whole answer
			os.Stdout.Write(append([]byte{withPixels, 16, 0, 0, 0, 16, 0, 0, 0}, make([]byte, 16*16*3)...))
			os.Exit(1)
		case "hangs":
			time.Sleep(time.Minute)
		case "huge":
			os.Stdout.Write([]byte{withPixels, 255, 255, 255, 255, 255, 255, 255, 255})
			os.Exit(0)
		case "silent":
			os.Exit(0)
		case "small":
			os.Exit(serve(os.Stdin, os.Stdout, 8<<20))
		}
	}
	os.Exit(m.Run())
}

// photographed is a JPEG of noise over a ramp, which is as much work to decode
// as a photo.
func photographed(t testing.TB, width, height int) []byte {
	t.Helper()
	picture := image.NewRGBA(image.Rect(0, 0, width, height))
	noise := rand.New(rand.NewPCG(1, 2))
	for y := range height {
		for x := range width {
			tone := uint8(x*180/width + noise.IntN(24))
			picture.SetRGBA(x, y, color.RGBA{tone, uint8(y * 200 / height), 255 - tone, 255})
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, picture, &jpeg.Options{Quality: 90}))
	return b.Bytes()
}

// What comes through the pipe is what decoding here gives, to the last pixel.
func TestOpenIsVisionsOpen(t *testing.T) {
	data := photographed(t, 321, 203)
	want, err := vision.Open(t.Context(), data)
	require.NoError(t, err)
	defer want.Close()
	got, err := Open(t.Context(), data)
	require.NoError(t, err)
	defer got.Close()
	assert.Equal(t, want.Pixels.Type(), got.Pixels.Type())
	assert.Equal(t, want.Pixels.Size(), got.Pixels.Size())
	assert.True(t, bytes.Equal(want.Pixels.ToBytes(), got.Pixels.ToBytes()), "the pixels differ")
}

func TestOpenRefusesAsVisionDoes(t *testing.T) {
	for name, data := range map[string][]byte{
		"empty": nil,
		"text":  []byte("these are no pixels"),
		"cut":   photographed(t, 320, 200)[:2000],
	} {
		_, want := vision.Open(t.Context(), data)
		require.Error(t, want, name)
		_, err := Open(t.Context(), data)
		assert.EqualError(t, err, want.Error(), name)
	}
}

func TestBrokenDecoders(t *testing.T) {
	data := photographed(t, 2000, 1500)
	for _, word := range []string{"abort", "killed", "failed", "huge", "silent", "small"} {
		photo, err := decoder{word, longest}.open(t.Context(), data)
		assert.Nil(t, photo, word)
		require.ErrorIs(t, err, errBroken, word)
		assert.False(t, strings.Contains(err.Error(), "\n"), word)
	}
	// The next picture is none the worse for it.
	photo, err := Open(t.Context(), data)
	require.NoError(t, err)
	photo.Close()
}

func TestDecoderTakesTooLong(t *testing.T) {
	begun := time.Now()
	_, err := decoder{"hangs", 300 * time.Millisecond}.open(t.Context(), photographed(t, 64, 64))
	assert.ErrorContains(t, err, "took longer than 300ms")
	assert.Less(t, time.Since(begun), 20*time.Second)
}

func TestOpenStopsWithItsContext(t *testing.T) {
	ctx, stop := context.WithTimeout(t.Context(), 300*time.Millisecond)
	defer stop()
	_, err := decoder{"hangs", longest}.open(ctx, photographed(t, 64, 64))
	assert.ErrorIs(t, err, context.DeadlineExceeded)
}

func BenchmarkOpen(b *testing.B) {
	data := photographed(b, 4000, 3000)
	for name, open := range map[string]func(context.Context, []byte) (*vision.Photo, error){
		"here": vision.Open, "isolated": Open,
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				photo, err := open(b.Context(), data)
				require.NoError(b, err)
				photo.Close()
			}
		})
	}
}
