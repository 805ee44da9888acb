package vision

import (
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
	"golang.org/x/image/tiff"
)

// colourAt is the colour of an opened photo at a place.
func colourAt(p *Photo, x, y int) color.RGBA {
	v := p.Pixels.GetVecbAt(y, x)
	return color.RGBA{v[2], v[1], v[0], 255}
}

// near tells whether two colours differ by no more than what lossy formats
// change.
func near(p, q color.RGBA, most int) bool {
	gap := func(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }
	return gap(p.R, q.R) <= most && gap(p.G, q.G) <= most && gap(p.B, q.B) <= most
}

// onPaper is how a colour looks where it is laid on white with an alpha of 128.
func onPaper(c color.RGBA) color.RGBA {
	half := func(v uint8) uint8 { return uint8((int(v)*128 + 255*127) / 255) }
	return color.RGBA{half(c.R), half(c.G), half(c.B), 255}
}

// grey is the lightness of a colour as Go's image library sees it.
func grey(c color.RGBA) color.RGBA {
	g := color.GrayModel.Convert(c).(color.Gray).Y
	return color.RGBA{g, g, g, 255}
}

// The colours that must come out are those that went in. Encoders: Go's, that
// of golang.org/x/image, OpenCV's; the rest is written by the standards named
// beside the writers in files_test.go.
func TestOpenFormats(t *testing.T) {
	palette := append(color.Palette{color.White}, quarterColours[0], quarterColours[1], quarterColours[2], quarterColours[3])
	paletted := func(r image.Rectangle) *image.Paletted { return image.NewPaletted(r, palette) }
	blackAndWhite := func(r image.Rectangle) *image.Paletted {
		return image.NewPaletted(r, color.Palette{color.Black, color.White})
	}
	rgba := quarters(image.NewRGBA)
	seeThrough := quarters(image.NewNRGBA)
	for i := 3; i < len(seeThrough.Pix); i += 4 {
		seeThrough.Pix[i] = 128
	}
	deepSeeThrough := image.NewNRGBA64(rgba.Bounds())
	draw.Draw(deepSeeThrough, rgba.Bounds(), seeThrough, image.Point{}, draw.Src)
	glass := image.NewPaletted(rgba.Bounds(), color.Palette{color.NRGBA{200, 0, 0, 128}, color.Black})
	pale := func(color.RGBA) color.RGBA { return onPaper(color.RGBA{200, 0, 0, 255}) }
	same := func(c color.RGBA) color.RGBA { return c }
	bits := func(c color.RGBA) color.RGBA {
		r, _, _, _ := (color.Palette{color.Black, color.White}).Convert(c).RGBA()
		return color.RGBA{uint8(r >> 8), uint8(r >> 8), uint8(r >> 8), 255}
	}

	for _, c := range []struct {
		name string
		data []byte
		want func(color.RGBA) color.RGBA
		most int // difference of a channel
	}{
		{"jpeg", asJPEG(t, rgba), same, 8},
		{"jpeg grey", asJPEG(t, quarters(image.NewGray)), grey, 3},
		{"jpeg of several scans", encoded(t, rgba, ".jpg", gocv.IMWriteJpegQuality, 95, gocv.IMWriteJpegProgressive, 1), same, 8},
		{"jpeg with restart markers", encoded(t, rgba, ".jpg", gocv.IMWriteJpegQuality, 95, gocv.IMWriteJpegRstInterval, 1), same, 8},
		{"png", asPNG(t, rgba), same, 0},
		{"png grey", asPNG(t, quarters(image.NewGray)), grey, 0},
		{"png grey 16 bits", asPNG(t, quarters(image.NewGray16)), grey, 1},
		{"png 16 bits", asPNG(t, quarters(image.NewRGBA64)), same, 0},
		{"png palette", asPNG(t, quarters(paletted)), same, 0},
		{"png 1 bit", asPNG(t, quarters(blackAndWhite)), bits, 0},
		{"png alpha", asPNG(t, seeThrough), onPaper, 1},
		{"png alpha 16 bits", asPNG(t, deepSeeThrough), onPaper, 1},
		{"png palette with alpha", asPNG(t, glass), pale, 1},
		{"png grey with alpha", greyAlphaPNG(t), func(color.RGBA) color.RGBA { return onPaper(color.RGBA{}) }, 1},
		{"png interlaced", interlacedPNG(t), same, 0},
		{"png with a wrong colour profile", withChunk(asPNG(t, rgba), "iCCP", []byte("none\x00\x00?")), same, 0},
		{"webp", encoded(t, rgba, ".webp", gocv.IMWriteWebpQuality, 95), same, 12},
		{"webp lossless", encoded(t, rgba, ".webp", gocv.IMWriteWebpQuality, 101), same, 0},
		{"webp alpha", seeThroughWebP(t, 95), onPaper, 12},
		{"webp lossless alpha", seeThroughWebP(t, 101), onPaper, 1},
		{"gif", asGIF(t, quarters(paletted)), same, 0},
		{"gif of two pictures", asGIF(t, quarters(paletted), image.NewPaletted(rgba.Bounds(), palette)), same, 0},
		{"bmp", asBMP(t, rgba), same, 0},
		{"bmp from the top", topDownBMP(), same, 0},
		{"bmp palette", asBMP(t, quarters(paletted)), same, 0},
		{"tiff", asTIFF(t, rgba, tiff.Uncompressed), same, 0},
		{"tiff deflated", asTIFF(t, rgba, tiff.Deflate), same, 0},
		{"tiff 16 bits", asTIFF(t, quarters(image.NewRGBA64), tiff.Deflate), same, 0},
		{"tiff grey", asTIFF(t, quarters(image.NewGray), tiff.Deflate), grey, 0},
		{"tiff palette", asTIFF(t, quarters(paletted), tiff.Deflate), same, 0},
		{"tiff alpha", asTIFF(t, seeThrough, tiff.Deflate), onPaper, 1},
		{"tiff of two pages", tiffFile(binary.LittleEndian, 1, 1, 2), same, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := Open(t.Context(), c.data)
			require.NoError(t, err)
			defer p.Close()
			assert.Equal(t, gocv.MatTypeCV8UC3, p.Pixels.Type())
			require.Equal(t, []int{quarterHeight, quarterWidth}, p.Pixels.Size())
			for _, at := range [][2]int{{2, 2}, {quarterWidth - 3, 2}, {2, quarterHeight - 3}, {quarterWidth - 3, quarterHeight - 3}} {
				got, want := colourAt(p, at[0], at[1]), c.want(quarter(at[0], at[1]))
				assert.True(t, near(want, got, c.most), "at %v: want %v, got %v", at, want, got)
			}
		})
	}
}

// A JPEG in printing inks, made by ImageMagick from its colours brown (165, 42,
// 42) at the top and tan (210, 180, 140) at the bottom.
func TestOpenPrintingInks(t *testing.T) {
	data, err := os.ReadFile("../testdata/hostile/cmyk.jpg")
	require.NoError(t, err)
	p, err := Open(t.Context(), data)
	require.NoError(t, err)
	defer p.Close()
	assert.True(t, near(color.RGBA{165, 42, 42, 255}, colourAt(p, 32, 1), 12), "%v", colourAt(p, 32, 1))
	assert.True(t, near(color.RGBA{210, 180, 140, 255}, colourAt(p, 32, 46), 12), "%v", colourAt(p, 32, 46))
}

// A GIF whose picture covers part of its frame lies on white.
func TestOpenGIFPart(t *testing.T) {
	part := image.NewPaletted(image.Rect(20, 10, 40, 30), color.Palette{color.Black, color.White})
	data := asGIF(t, part)
	binary.LittleEndian.PutUint16(data[6:], quarterWidth) // the frame's size
	binary.LittleEndian.PutUint16(data[8:], quarterHeight)
	p, err := Open(t.Context(), data)
	require.NoError(t, err)
	defer p.Close()
	require.Equal(t, []int{quarterHeight, quarterWidth}, p.Pixels.Size())
	assert.Equal(t, color.RGBA{255, 255, 255, 255}, colourAt(p, 19, 9))
	assert.Equal(t, color.RGBA{0, 0, 0, 255}, colourAt(p, 20, 10))
	assert.Equal(t, color.RGBA{255, 255, 255, 255}, colourAt(p, 40, 30))
}

// Where the first row and the first column of the file are to be shown: CIPA
// DC-008 (EXIF), tag 274. Other values mean nothing, and turn nothing.
var exifOrientations = []struct {
	value       uint16
	row, column string
}{
	{0, "top", "left"},
	{1, "top", "left"},
	{2, "top", "right"},
	{3, "bottom", "right"},
	{4, "bottom", "left"},
	{5, "left", "top"},
	{6, "right", "top"},
	{7, "right", "bottom"},
	{8, "left", "bottom"},
	{9, "top", "left"},
	{65535, "top", "left"},
}

func TestOpenOrientation(t *testing.T) {
	rgba := quarters(image.NewRGBA)
	seeThrough := quarters(image.NewNRGBA)
	seeThrough.Pix[4*quarterWidth*quarterHeight/2] = 254 // one pixel, not in a corner
	jpg, plainPNG, alphaPNG := asJPEG(t, rgba), asPNG(t, rgba), asPNG(t, seeThrough)
	webp := encoded(t, rgba, ".webp", gocv.IMWriteWebpQuality, 95)
	xmp := segment(0xE1, []byte("http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta/>"))

	for _, kind := range []struct {
		name string
		file func(order binary.AppendByteOrder, value uint16) []byte
	}{
		{"jpeg", func(order binary.AppendByteOrder, value uint16) []byte {
			return withSegments(jpg, exifSegment(exifBlock(order, value)))
		}},
		{"jpeg with XMP first", func(order binary.AppendByteOrder, value uint16) []byte {
			return withSegments(jpg, xmp, exifSegment(exifBlock(order, value)))
		}},
		{"png", func(order binary.AppendByteOrder, value uint16) []byte {
			return withChunk(plainPNG, "eXIf", exifBlock(order, value))
		}},
		{"png alpha", func(order binary.AppendByteOrder, value uint16) []byte {
			return withChunk(alphaPNG, "eXIf", exifBlock(order, value))
		}},
		{"webp", func(order binary.AppendByteOrder, value uint16) []byte {
			return webPWithEXIF(webp, exifBlock(order, value))
		}},
		{"tiff", func(order binary.AppendByteOrder, value uint16) []byte {
			return tiffFile(order, value, 1, 1)
		}},
	} {
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			for _, o := range exifOrientations {
				t.Run(fmt.Sprintf("%s %v %d", kind.name, order, o.value), func(t *testing.T) {
					p, err := Open(t.Context(), kind.file(order, o.value))
					require.NoError(t, err)
					defer p.Close()
					width, height := quarterWidth, quarterHeight
					if o.row == "left" || o.row == "right" {
						width, height = height, width
					}
					require.Equal(t, []int{height, width}, p.Pixels.Size())

					opposite := map[string]string{"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
					for i, sides := range [4][]string{
						{o.row, o.column}, {o.row, opposite[o.column]},
						{opposite[o.row], o.column}, {opposite[o.row], opposite[o.column]},
					} {
						x, y := 2, 2
						if slices.Contains(sides, "right") {
							x = width - 3
						}
						if slices.Contains(sides, "bottom") {
							y = height - 3
						}
						assert.True(t, near(quarterColours[i], colourAt(p, x, y), 12), "corner %d should be %v", i, sides)
					}
				})
			}
		}
	}
}

// EXIF that makes no sense turns nothing and stops nothing.
func TestOpenBrokenEXIF(t *testing.T) {
	jpg := asJPEG(t, quarters(image.NewRGBA))
	whole := exifBlock(binary.BigEndian, 6)
	far := slices.Clone(whole)
	binary.BigEndian.PutUint32(far[4:], 0xFFFFFFF0)
	many := slices.Clone(whole[:len(whole)-16])
	binary.BigEndian.PutUint16(many[8:], 65535)
	rational := slices.Clone(whole)
	binary.BigEndian.PutUint16(rational[12:], 5)
	for name, block := range map[string][]byte{
		"nothing": nil, "no header": []byte("orientation: 6"), "cut": whole[:9],
		"directory far beyond the end": far, "too many entries": many, "wrong type": rational,
	} {
		p, err := Open(t.Context(), withSegments(jpg, exifSegment(block)))
		if assert.NoError(t, err, name) {
			assert.Equal(t, []int{quarterHeight, quarterWidth}, p.Pixels.Size(), name)
			p.Close()
		}
	}
}

// What phones put after a JPEG: a film, a second picture, nothing.
func TestOpenTrailingData(t *testing.T) {
	jpg := asJPEG(t, quarters(image.NewRGBA))
	film := append([]byte("\x00\x00\x00\x18ftypmp42"), make([]byte, 200_000)...)
	for name, data := range map[string][]byte{
		"film":           slices.Concat(jpg, film),
		"second picture": slices.Concat(jpg, asJPEG(t, image.NewGray(image.Rect(0, 0, 99, 99)))),
		"cut picture":    slices.Concat(jpg, jpg[:len(jpg)/2]),
		"after a png":    slices.Concat(asPNG(t, quarters(image.NewRGBA)), film),
	} {
		p, err := Open(t.Context(), data)
		if assert.NoError(t, err, name) {
			assert.Equal(t, []int{quarterHeight, quarterWidth}, p.Pixels.Size(), name)
			assert.True(t, near(quarterColours[3], colourAt(p, quarterWidth-3, quarterHeight-3), 8), name)
			p.Close()
		}
	}
}

// A file that breaks off anywhere is refused. The JPEG carries a thumbnail, a
// whole JPEG inside it.
func TestOpenCutShort(t *testing.T) {
	rgba := quarters(image.NewRGBA)
	jpg := asJPEG(t, rgba)
	thumbnail := append(exifBlock(binary.LittleEndian, 1), jpg...)
	palette := color.Palette{quarterColours[0], quarterColours[1], quarterColours[2], quarterColours[3]}
	for name, data := range map[string][]byte{
		"jpeg":          withSegments(jpg, exifSegment(thumbnail)),
		"jpeg of scans": encoded(t, rgba, ".jpg", gocv.IMWriteJpegProgressive, 1),
		"png":           asPNG(t, rgba),
		"png alpha":     greyAlphaPNG(t),
		"webp":          encoded(t, rgba, ".webp", gocv.IMWriteWebpQuality, 80),
		"webp alpha":    seeThroughWebP(t, 80),
		"gif":           asGIF(t, quarters(func(r image.Rectangle) *image.Paletted { return image.NewPaletted(r, palette) })),
		"bmp":           asBMP(t, rgba),
		"tiff":          tiffFile(binary.LittleEndian, 1, 1, 1),
	} {
		t.Run(name, func(t *testing.T) {
			last := len(data) - 1
			if name == "gif" {
				last-- // its last byte only says that no picture follows
			}
			for size := 1; size <= last; size += max(1, min(len(data)/150, last-size)) {
				p, err := Open(t.Context(), data[:size])
				if !assert.Error(t, err, "%d of %d bytes", size, len(data)) {
					p.Close()
				}
			}
		})
	}
}

func TestOpenCutShortSaysSo(t *testing.T) {
	jpg, png := asJPEG(t, quarters(image.NewRGBA)), asPNG(t, quarters(image.NewRGBA))
	webp := encoded(t, quarters(image.NewRGBA), ".webp", gocv.IMWriteWebpQuality, 80)
	for _, data := range [][]byte{jpg[:len(jpg)-2], jpg[:len(jpg)*3/4], png[:len(png)-12], png[:len(png)/2], webp[:len(webp)-3]} {
		_, err := Open(t.Context(), data)
		assert.ErrorContains(t, err, "cut short")
	}
}

// A bit turned over in a PNG does not fit its checksum any more.
func TestOpenDamagedPNG(t *testing.T) {
	whole := asPNG(t, quarters(image.NewRGBA))
	for at := 8; at < len(whole); at++ {
		data := slices.Clone(whole)
		data[at] ^= 0x10
		p, err := Open(t.Context(), data)
		if !assert.Error(t, err, "byte %d", at) {
			p.Close()
		}
	}
}

// Refused, with words that say why.
func TestOpenRefused(t *testing.T) {
	rgba := quarters(image.NewRGBA)
	jpg := asJPEG(t, rgba)
	animated, err := os.ReadFile("../testdata/hostile/animated.webp")
	require.NoError(t, err)
	resized := func(width, height uint16) []byte {
		out := slices.Clone(jpg)
		frame := slices.Index(out, 0xC0) // of FF C0, ITU-T T.81, B.2.2
		require.Equal(t, byte(0xFF), out[frame-1])
		binary.BigEndian.PutUint16(out[frame+4:], height)
		binary.BigEndian.PutUint16(out[frame+6:], width)
		return out
	}
	deep := slices.Clone(jpg)
	deep[slices.Index(deep, 0xC0)+3] = 12
	scans := slices.Clone(jpg[:len(jpg)-2])
	for range mostScans {
		scans = append(scans, segment(0xDA, []byte{1, 1, 0, 0, 63, 0})...)
	}
	small := func(width, height int) []byte { return asPNG(t, image.NewGray(image.Rect(0, 0, width, height))) }
	twoFrames := slices.Clone(jpg)
	frame := slices.Index(jpg, 0xC0) - 1
	twoFrames = slices.Insert(twoFrames, frame, jpg[frame:frame+19]...)

	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "empty"},
		{"text", []byte("brown black red gold, all on one card"), "no JPEG, PNG"},
		{"HEIC", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), "HEIC"},
		{"too many pixels", resized(20_000, 20_000), "20000 × 20000 pixels"},
		{"too long", resized(MaxSide+1, 16), "30001 × 16 pixels"},
		{"no pixels", resized(0, 0), "only 0 × 0 pixels"},
		{"too large a png", pngHeader(20_000, 20_000, 8, 2, 0), "20000 × 20000 pixels"},
		{"too low", small(100, MinSide-1), "only 100 × 15 pixels"},
		{"too narrow", small(MinSide-1, 100), "only 15 × 100 pixels"},
		{"large but next to nothing in it", resized(10_000, 10_000), "cut short"},
		{"deep jpeg", deep, "deeper than 8 bits"},
		{"more scans than any picture needs", append(scans, 0xFF, 0xD9), "damaged"},
		{"two frames", twoFrames, "damaged"},
		{"jpeg without a picture", []byte{0xFF, 0xD8, 0xFF, 0xD9}, "damaged"},
		{"png without pixels", append(pngHeader(50, 50, 8, 2, 0), pngChunk("IEND", nil)...), "damaged"},
		{"png with too few pixels", pngFile(t, pngHeader(50, 50, 8, 2, 0), make([]byte, 151*20)), "damaged"},
		{"animated webp", animated, "animated"},
		{"tiff of floats", tiffFile(binary.LittleEndian, 1, 3, 1), "tiff"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := Open(t.Context(), c.data)
			if !assert.ErrorContains(t, err, c.want) && p != nil {
				p.Close()
			}
		})
	}
}

// The smallest picture that is taken.
func TestOpenSmallest(t *testing.T) {
	p, err := Open(t.Context(), asPNG(t, image.NewGray(image.Rect(0, 0, MinSide, MinSide))))
	require.NoError(t, err)
	assert.NoError(t, p.Close())
}

// An afterwards is a context that is cancelled once it has been looked at.
type afterwards struct {
	context.Context
	looks *int
}

func (a afterwards) Err() error {
	if *a.looks++; *a.looks > 1 {
		return context.Canceled
	}
	return nil
}

func TestOpenCancelled(t *testing.T) {
	data := asPNG(t, quarters(image.NewRGBA))
	cancelled, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := Open(cancelled, data)
	assert.ErrorIs(t, err, context.Canceled)
	_, err = Open(afterwards{t.Context(), new(int)}, data)
	assert.ErrorIs(t, err, context.Canceled, "while decoding")
}
