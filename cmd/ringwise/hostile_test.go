package main

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"hash/crc32"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A hostile file is one that a careless reader would trip over.
type hostile struct {
	name string
	data []byte
	// want is part of the error, empty if the file must be read and found to
	// have no part in it.
	want string
}

// hostileFiles makes the files that can be made, and takes the others from
// testdata/hostile.
func hostileFiles(t *testing.T) []hostile {
	t.Helper()
	shipped := func(name string) []byte {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "hostile", name))
		require.NoError(t, err)
		return data
	}
	const wide, high = 160, 120
	bounds := image.Rect(0, 0, wide, high)
	plain := plainPicture(wide, high)
	jpg, drawn := asJPEG(t, plain), asJPEG(t, drawnResistor())
	png := asPNG(t, plain)
	damaged := bytes.Clone(png)
	damaged[len(damaged)/2] ^= 0xff
	clear := image.NewNRGBA(bounds) // fully transparent black

	return []hostile{
		{"empty.jpg", nil, "empty"},
		{"text.jpg", []byte("Bench notes: the brown ones are in the second tin.\n"), "no JPEG, PNG"},
		{"markup.png", []byte("<!DOCTYPE html><title>Not found</title>"), "no JPEG, PNG"},
		{"one-byte.jpg", []byte{0xff}, "no JPEG, PNG"},
		{"header-only.jpg", jpg[:20], "header is damaged"},
		{"half.jpg", drawn[:len(drawn)/2], "cut short"},
		{"tailless.jpg", jpg[:len(jpg)-2], "cut short"},
		{"damaged.png", damaged, "damaged"},
		{"half.png", png[:len(png)/2], "damaged"},
		{"one-pixel.png", asPNG(t, plainPicture(1, 1)), "only 1 × 1 pixels"},
		{"one-pixel.jpg", asJPEG(t, plainPicture(1, 1)), "only 1 × 1 pixels"},
		{"thread.png", asPNG(t, plainPicture(4000, 1)), "only 4000 × 1 pixels"},
		{"huge.png", headerPNG(30000, 30000), "30000 × 30000 pixels"},
		{"endless.png", headerPNG(1<<31-1, 1<<31-1), "header is damaged"},
		{"huge.jpg", resizedJPEG(t, jpg, 30000, 30000), "30000 × 30000 pixels"},
		{"huge.bmp", resizedBMP(asBMP(t, plain), 30000, 30000), "30000 × 30000 pixels"},
		{"photo.heic", shipped("photo.heic"), "HEIC"},
		{"renamed-heic.jpg", shipped("photo.heic"), "HEIC"},
		{"animated.webp", shipped("animated.webp"), "animated"},

		{"plain.jpg", jpg, ""},
		{"plain.png", png, ""},
		{"renamed.jpg", png, ""},
		{"plain.bmp", asBMP(t, plain), ""},
		{"plain.tiff", asTIFF(t, plain), ""},
		{"animated.gif", asGIF(t, wide, high), ""},
		{"grey.jpg", asJPEG(t, repaint(image.NewGray(bounds), plain)), ""},
		{"grey.png", asPNG(t, repaint(image.NewGray(bounds), plain)), ""},
		{"grey-16-bit.png", asPNG(t, repaint(image.NewGray16(bounds), plain)), ""},
		{"16-bit.png", asPNG(t, repaint(image.NewRGBA64(bounds), plain)), ""},
		{"16-bit.tiff", asTIFF(t, repaint(image.NewRGBA64(bounds), plain)), ""},
		{"transparent.png", asPNG(t, clear), ""},
		{"transparent-16-bit.png", asPNG(t, image.NewNRGBA64(bounds)), ""},
		{"palette.png", asPNG(t, repaint(image.NewPaletted(bounds, color.Palette{color.White, color.Black}), plain)), ""},
		{"strip.png", asPNG(t, plainPicture(4000, 16)), ""},
		{"cmyk.jpg", shipped("cmyk.jpg"), ""},
	}
}

// headerPNG is a PNG that says how large it is and then ends.
func headerPNG(width, height uint32) []byte {
	chunk := func(kind string, body []byte) []byte {
		out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
		out = append(append(out, kind...), body...)
		return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
	}
	header := binary.BigEndian.AppendUint32(nil, width)
	header = binary.BigEndian.AppendUint32(header, height)
	header = append(header, 8, 2, 0, 0, 0) // 8 bits, RGB
	return append([]byte("\x89PNG\r\n\x1a\n"), append(chunk("IHDR", header), chunk("IEND", nil)...)...)
}

// resizedJPEG is a JPEG whose frame header claims another size (ITU-T T.81,
// B.2.2: SOF0 is FF C0, length, precision, height, width).
func resizedJPEG(t *testing.T, jpg []byte, width, height uint16) []byte {
	t.Helper()
	out := bytes.Clone(jpg)
	frame := bytes.Index(out, []byte{0xff, 0xc0})
	require.Positive(t, frame)
	binary.BigEndian.PutUint16(out[frame+5:], height)
	binary.BigEndian.PutUint16(out[frame+7:], width)
	return out
}

// resizedBMP is a BMP whose header claims another size: width and height are
// the 32-bit numbers at bytes 18 and 22.
func resizedBMP(bmp []byte, width, height uint32) []byte {
	out := bytes.Clone(bmp)
	binary.LittleEndian.PutUint32(out[18:], width)
	binary.LittleEndian.PutUint32(out[22:], height)
	return out
}

// patience is how long any one hostile file may take, on a busy machine.
const patience = 30 * time.Second

func TestHostileFiles(t *testing.T) {
	folder := t.TempDir()
	for _, h := range hostileFiles(t) {
		t.Run(h.name, func(t *testing.T) {
			path := filepath.Join(folder, h.name)
			write(t, path, h.data)
			start := time.Now()
			code, out, errs := ringwise("read", path)
			assert.Less(t, time.Since(start), patience)
			if h.want == "" {
				assert.Equal(t, nothingIn, code, errs)
				assert.Equal(t, path+": no parts found\n", out)
				assert.Empty(t, errs)
				return
			}
			assert.Equal(t, failed, code)
			assert.Empty(t, out)
			assert.Equal(t, 1, strings.Count(errs, "\n"), "one line: %q", errs)
			assert.True(t, strings.HasPrefix(errs, path+": "), errs)
			assert.Contains(t, errs, h.want)
		})
	}
}

// All at once, with a missing file and a folder among them: none stops
// another, the lines come in the order given, and marked copies are written of
// what could be read.
func TestHostileFilesTogether(t *testing.T) {
	folder := t.TempDir()
	files := hostileFiles(t)
	args := []string{"read", "--json", "--marked", filepath.Join(folder, "marked"), filepath.Join(folder, "missing.jpg"), folder}
	for _, h := range files {
		path := filepath.Join(folder, h.name)
		write(t, path, h.data)
		args = append(args, path)
	}
	code, out, errs := ringwise(args...)
	assert.Equal(t, failed, code)

	lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	require.Len(t, lines, len(args)-4)
	read := 0
	for i, line := range lines {
		var got struct {
			Photo         string
			Width, Height int
			Error         string
		}
		require.NoError(t, json.Unmarshal([]byte(line), &got))
		assert.Equal(t, args[i+4], got.Photo)
		if got.Error == "" {
			read++
			assert.Positive(t, got.Width)
			assert.Positive(t, got.Height)
			continue
		}
		assert.Zero(t, got.Width)
		assert.Contains(t, errs, got.Photo+": "+got.Error+"\n")
	}
	marked, err := os.ReadDir(filepath.Join(folder, "marked"))
	require.NoError(t, err)
	assert.Len(t, marked, read)
}
