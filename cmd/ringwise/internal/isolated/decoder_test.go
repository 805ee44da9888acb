package isolated

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"os/exec"
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
			os.Exit(serve(os.Stdin, os.Stdout, 2<<20))
		case "shrinks": // the memory that its parent is about to read
			if os.NewFile(3, "").Truncate(0) == nil {
				os.Stdout.Write([]byte{withPixels, 64, 0, 0, 0, 64, 0, 0, 0})
			}
			os.Exit(0)
		case "leaves": // another process behind, which holds the pipe open
			exec.Command("sleep", "60").Start()
			other := exec.Command("sleep", "60")
			other.Stdout = os.Stdout
			other.Start()
			os.Exit(0)
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
	// Decoded it takes more than one of the 64 MB that malloc(3) sets aside for a
	// thread before any limit.
	var grey bytes.Buffer
	require.NoError(t, jpeg.Encode(&grey, image.NewGray(image.Rect(0, 0, 6000, 4500)), nil))
	data := grey.Bytes()
	for _, word := range []string{"abort", "killed", "failed", "huge", "silent", "small", "shrinks", "leaves"} {
		photo, err := (&Decoder{word: word, longest: longest}).Open(t.Context(), data)
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
	_, err := (&Decoder{word: "hangs", longest: 300 * time.Millisecond}).Open(t.Context(), photographed(t, 64, 64))
	assert.ErrorContains(t, err, "took longer than 300ms")
	assert.Less(t, time.Since(begun), 20*time.Second)
}

func TestOpenStopsWithItsContext(t *testing.T) {
	ctx, stop := context.WithTimeout(t.Context(), 300*time.Millisecond)
	defer stop()
	_, err := (&Decoder{word: "hangs", longest: longest}).Open(ctx, photographed(t, 64, 64))
	assert.ErrorIs(t, err, context.DeadlineExceeded)
}

// With a process started ahead photos are the same, one after the other, and no
// process opens two.
func TestDecoder(t *testing.T) {
	d := NewDecoder()
	d.KeepReady()
	defer d.Close()
	data := photographed(t, 321, 203)
	want, err := vision.Open(t.Context(), data)
	require.NoError(t, err)
	defer want.Close()
	seen := map[int]bool{}
	for range 3 {
		require.NotNil(t, d.ready)
		seen[d.ready.command.Process.Pid] = true
		got, err := d.Open(t.Context(), data)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(want.Pixels.ToBytes(), got.Pixels.ToBytes()), "the pixels differ")
		got.Close()
		_, err = d.Open(t.Context(), []byte("these are no pixels"))
		assert.ErrorContains(t, err, "this is no JPEG")
	}
	assert.Len(t, seen, 3)
}

// A picture is not blamed for a process that ended while it waited.
func TestDecoderThatEndedWaiting(t *testing.T) {
	d := NewDecoder()
	d.KeepReady()
	waiting := d.ready
	waiting.kill()
	<-waiting.ended
	photo, err := d.Open(t.Context(), photographed(t, 64, 64))
	require.NoError(t, err)
	photo.Close()

	next := d.ready
	d.Close()
	assert.False(t, next.alive(), "closing ends the process that waits")
	photo, err = d.Open(t.Context(), photographed(t, 64, 64))
	require.NoError(t, err, "it opens all the same")
	photo.Close()
	assert.Nil(t, d.ready)
}

// Where no memory can be shared pixels go through the pipe.
func TestPixelsThroughPipe(t *testing.T) {
	want, err := vision.Open(t.Context(), photographed(t, 321, 203))
	require.NoError(t, err)
	defer want.Close()
	var pipe bytes.Buffer
	require.NoError(t, send(&pipe, nil, want.Pixels))
	cut := bytes.NewReader(pipe.Bytes()[:pipe.Len()-1])
	got := receive(&pipe, nil).photo
	require.NotNil(t, got)
	defer got.Close()
	assert.True(t, bytes.Equal(want.Pixels.ToBytes(), got.Pixels.ToBytes()), "the pixels differ")
	assert.Zero(t, receive(cut, nil))
}

func BenchmarkOpen(b *testing.B) {
	data := photographed(b, 4000, 3000)
	ahead := NewDecoder()
	ahead.KeepReady()
	defer ahead.Close()
	for name, open := range map[string]func(context.Context, []byte) (*vision.Photo, error){
		"here": vision.Open, "isolated": Open, "ahead": ahead.Open,
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				b.StopTimer() // reading the photo takes longer than starting the next process
				time.Sleep(time.Second)
				b.StartTimer()
				photo, err := open(b.Context(), data)
				require.NoError(b, err)
				photo.Close()
			}
		})
	}
}
