package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"image"
	"image/color"
	"image/draw"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/decode"
)

// drawnResistor is a plain drawing of a resistor of 5.6 kΩ ±5 %: leads, a tan
// body, four rings.
func drawnResistor() *image.RGBA {
	picture := plainPicture(800, 500)
	fill := func(x0, y0, x1, y1 int, c color.Color) {
		draw.Draw(picture, image.Rect(x0, y0, x1, y1), image.NewUniform(c), image.Point{}, draw.Src)
	}
	fill(100, 246, 700, 254, color.RGBA{0x90, 0x90, 0x94, 0xff})
	fill(280, 210, 520, 290, color.RGBA{0xd9, 0xb4, 0x7c, 0xff})
	for i, ring := range []decode.Colour{decode.Green, decode.Blue, decode.Red, decode.Gold} {
		x := []int{305, 350, 395, 480}[i]
		fill(x, 210, x+20, 290, paint.Of(ring))
	}
	return picture
}

func TestReadAPart(t *testing.T) {
	folder := t.TempDir()
	photo := filepath.Join(folder, "drawn.png")
	write(t, photo, asPNG(t, drawnResistor()))
	marked := filepath.Join(folder, "marked.png")

	code, out, errs := ringwise("read", photo, "--marked", marked, "--json")
	require.Equal(t, allWell, code, errs)
	var got struct {
		Photo         string
		Width, Height int
		Parts         []struct {
			Outline  [4][2]float64
			Verdict  string
			Readings []struct{ Confidence float64 }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	assert.Equal(t, photo, got.Photo)
	assert.Equal(t, 800, got.Width)
	assert.Equal(t, 500, got.Height)
	require.NotEmpty(t, got.Parts)
	for _, part := range got.Parts {
		assert.Contains(t, []string{"sure", "check", "unreadable"}, part.Verdict)
		assert.LessOrEqual(t, len(part.Readings), 5)
		sum := 0.0
		for _, r := range part.Readings {
			sum += r.Confidence
		}
		assert.LessOrEqual(t, sum, 1.001)
	}
	assert.FileExists(t, marked)

	code, out, _ = ringwise("read", photo)
	assert.Equal(t, allWell, code)
	assert.True(t, strings.HasPrefix(out, photo+": "), out)
	assert.NotContains(t, out, "\x1b")
}

func TestReadStandardInput(t *testing.T) {
	code, out, errs := ringwiseFrom(bytes.NewReader(asJPEG(t, plainPicture(200, 100))), "read", "-")
	assert.Equal(t, nothingIn, code, errs)
	assert.Equal(t, "-: no parts found\n", out)

	code, _, errs = ringwiseFrom(strings.NewReader(""), "read", "-")
	assert.Equal(t, failed, code)
	assert.Contains(t, errs, "-: the file is empty")
}

func TestReadCSV(t *testing.T) {
	folder := t.TempDir()
	photo := filepath.Join(folder, "mat.png")
	write(t, photo, asPNG(t, plainPicture(200, 100)))
	code, out, _ := ringwise("read", "--csv", photo, filepath.Join(folder, "missing.jpg"))
	assert.Equal(t, failed, code)
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 2, "the header and the photo that is missing")
	assert.Equal(t, "no such file: check the name", rows[1][slices.Index(rows[0], "error")])
}

func TestReadNeverWritesOverAPhoto(t *testing.T) {
	folder := t.TempDir()
	photo := filepath.Join(folder, "mat.jpg")
	data := asJPEG(t, plainPicture(200, 100))
	write(t, photo, data)
	for _, out := range []string{photo, folder} {
		code, _, errs := ringwise("read", photo, "--marked", out)
		assert.Equal(t, wrongUse, code)
		assert.Contains(t, errs, "would replace it")
	}
	after, err := os.ReadFile(photo)
	require.NoError(t, err)
	assert.Equal(t, data, after)
}

// A place that is given and empty, as a shell makes of a name that is not set, is
// not taken for none.
func TestReadMarkedNeedsAName(t *testing.T) {
	photo := filepath.Join(t.TempDir(), "mat.png")
	write(t, photo, asPNG(t, plainPicture(200, 100)))
	for _, out := range []string{"", "-"} {
		code, _, errs := ringwise("read", photo, "--marked", out)
		assert.Equal(t, wrongUse, code)
		assert.Contains(t, errs, "ringwise read: ")
		assert.NoDirExists(t, "-")
	}
}

func TestReadStopsWhenInterrupted(t *testing.T) {
	photo := filepath.Join(t.TempDir(), "mat.png")
	write(t, photo, asPNG(t, plainPicture(200, 100)))
	ctx, interrupt := context.WithCancel(context.Background())
	interrupt()
	var out, errs bytes.Buffer
	code := run(ctx, []string{"read", photo, photo, photo}, strings.NewReader(""), &out, &errs)
	assert.Equal(t, failed, code)
	assert.Empty(t, out.String())
	assert.Equal(t, "ringwise read: stopped\n", errs.String())
}

func TestReadNamesSteerNoTerminal(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stock.db")
	for _, options := range [][]string{nil, {"--confirm", "--stock", path}} {
		code, _, errs := ringwise(append([]string{"read"}, append(options, "gone\x1b[2J.jpg")...)...)
		assert.Equal(t, failed, code)
		assert.Equal(t, "gone?[2J.jpg: no such file: check the name\n", errs)
	}
}

// A name that starts with a dash can stand after "--".
func TestReadAfterTwoDashes(t *testing.T) {
	code, _, errs := ringwise("read", "--", "--json")
	assert.Equal(t, failed, code)
	assert.Equal(t, "--json: no such file: check the name\n", errs)
}

// A scale by two points is that of one photo.
func TestReadScaleRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"a.jpg", "b.jpg", "--scale", "10 mm 5,5 400,5"}, "two points are in one photo"},
		{[]string{"a.jpg", "--scale", "10 mm"}, "a length and two points"},
		{[]string{"a.jpg", "--scale", "10 mm 5,5 6,5"}, "1 pixels apart"},
	} {
		code, out, errs := ringwise(append([]string{"read"}, c.args...)...)
		assert.Equal(t, wrongUse, code, errs)
		assert.Empty(t, out)
		assert.Contains(t, errs, c.want)
	}

	photo := filepath.Join(t.TempDir(), "mat.png")
	write(t, photo, asPNG(t, plainPicture(200, 100)))
	code, out, errs := ringwise("read", "--scale", "25 mm 20,20 220,20", photo)
	assert.Equal(t, failed, code)
	assert.Empty(t, out)
	assert.Contains(t, errs, "the scale's point 220,20 lies outside the photo, which is 200 × 100 pixels")
	code, _, errs = ringwise("read", "--scale", "25 mm 20,20 200,20", photo)
	assert.Equal(t, nothingIn, code, errs)
}
