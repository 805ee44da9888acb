package vision

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/jpeg"
	"image/png"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
)

// The size of the pictures that the tests of Open make, and the colours of
// their quarters: red top left, green top right, blue bottom left, yellow
// bottom right.
const quarterWidth, quarterHeight = 48, 32

var quarterColours = [4]color.RGBA{{220, 30, 30, 255}, {30, 160, 40, 255}, {40, 50, 200, 255}, {230, 210, 40, 255}}

// quarter is the colour that belongs at a place.
func quarter(x, y int) color.RGBA {
	i := 0
	if x >= quarterWidth/2 {
		i++
	}
	if y >= quarterHeight/2 {
		i += 2
	}
	return quarterColours[i]
}

// quarters paints the quarters onto a picture of any kind.
func quarters[P draw.Image](onto func(image.Rectangle) P) P {
	p := onto(image.Rect(0, 0, quarterWidth, quarterHeight))
	for y := range quarterHeight {
		for x := range quarterWidth {
			p.Set(x, y, quarter(x, y))
		}
	}
	return p
}

func asJPEG(t testing.TB, p image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, p, &jpeg.Options{Quality: 95}))
	return out.Bytes()
}

func asPNG(t testing.TB, p image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, p))
	return out.Bytes()
}

func asGIF(t testing.TB, pictures ...*image.Paletted) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, gif.EncodeAll(&out, &gif.GIF{Image: pictures, Delay: make([]int, len(pictures))}))
	return out.Bytes()
}

func asBMP(t testing.TB, p image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, bmp.Encode(&out, p))
	return out.Bytes()
}

func asTIFF(t testing.TB, p image.Image, compression tiff.CompressionType) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, tiff.Encode(&out, p, &tiff.Options{Compression: compression}))
	return out.Bytes()
}

// encoded has OpenCV write what Go can't: WebP, and JPEG with several scans or
// restart markers.
func encoded(t testing.TB, p image.Image, extension gocv.FileExt, options ...int) []byte {
	t.Helper()
	pixels := onWhite(p, p.Bounds())
	defer pixels.Close()
	return encodedMat(t, pixels, extension, options...)
}

func encodedMat(t testing.TB, pixels gocv.Mat, extension gocv.FileExt, options ...int) []byte {
	t.Helper()
	out, err := gocv.IMEncodeWithParams(extension, pixels, options)
	require.NoError(t, err)
	defer out.Close()
	return bytes.Clone(out.GetBytes())
}

// seeThroughWebP is a lossy or lossless WebP of the quarters, half transparent.
func seeThroughWebP(t testing.TB, quality int) []byte {
	t.Helper()
	pixels := gocv.NewMatWithSize(quarterHeight, quarterWidth, gocv.MatTypeCV8UC4)
	defer pixels.Close()
	to, err := pixels.DataPtrUint8()
	require.NoError(t, err)
	for i := range quarterWidth * quarterHeight {
		c := quarter(i%quarterWidth, i/quarterWidth)
		copy(to[4*i:], []byte{c.B, c.G, c.R, 128})
	}
	return encodedMat(t, pixels, ".webp", gocv.IMWriteWebpQuality, quality)
}

// exifBlock is a block of EXIF that holds an orientation only (CIPA DC-008,
// 4.6: a TIFF header and one directory).
func exifBlock(order binary.AppendByteOrder, orientation uint16) []byte {
	block := tiffStart(order)
	block = order.AppendUint16(block, 1)
	block = appendTag(order, block, 274, 3, 1, uint32(orientation))
	return order.AppendUint32(block, 0)
}

func tiffStart(order binary.AppendByteOrder) []byte {
	start := []byte("II")
	if order == binary.AppendByteOrder(binary.BigEndian) {
		start = []byte("MM")
	}
	return order.AppendUint32(order.AppendUint16(start, 42), 8)
}

// appendTag adds one entry of a TIFF directory. A single value of kind 3 takes
// up the first two of four bytes.
func appendTag(order binary.AppendByteOrder, to []byte, tag, kind uint16, count, value uint32) []byte {
	to = order.AppendUint16(order.AppendUint16(to, tag), kind)
	to = order.AppendUint32(to, count)
	if kind == 3 && count == 1 {
		return order.AppendUint16(order.AppendUint16(to, uint16(value)), 0)
	}
	return order.AppendUint32(to, value)
}

// segment is one segment of a JPEG (ITU-T T.81, B.1.1.4).
func segment(marker byte, body []byte) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xFF, marker}, uint16(len(body)+2)), body...)
}

// withSegments puts segments right after a JPEG's start.
func withSegments(jpg []byte, segments ...[]byte) []byte {
	return slices.Concat(jpg[:2], slices.Concat(segments...), jpg[2:])
}

func exifSegment(block []byte) []byte {
	return segment(0xE1, append([]byte("Exif\x00\x00"), block...))
}

// pngChunk is one chunk of a PNG (ISO/IEC 15948, 5.3).
func pngChunk(kind string, body []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// withChunk puts a chunk right after a PNG's IHDR.
func withChunk(png []byte, kind string, body []byte) []byte {
	const afterHeader = 8 + 25
	return slices.Concat(png[:afterHeader], pngChunk(kind, body), png[afterHeader:])
}

// pngHeader is the signature and IHDR of a PNG.
func pngHeader(width, height uint32, depth, colourType, interlace byte) []byte {
	header := binary.BigEndian.AppendUint32(nil, width)
	header = binary.BigEndian.AppendUint32(header, height)
	header = append(header, depth, colourType, 0, 0, interlace)
	return append([]byte("\x89PNG\r\n\x1a\n"), pngChunk("IHDR", header)...)
}

// pngFile makes a PNG from its rows, each led by its filter byte.
func pngFile(t testing.TB, header, rows []byte) []byte {
	t.Helper()
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, err := z.Write(rows)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return slices.Concat(header, pngChunk("IDAT", packed.Bytes()), pngChunk("IEND", nil))
}

// interlacedPNG holds the quarters in seven passes (ISO/IEC 15948, 8.2).
func interlacedPNG(t testing.TB) []byte {
	var rows []byte
	for _, pass := range [7]struct{ x, y, stepX, stepY int }{
		{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2},
	} {
		for y := pass.y; y < quarterHeight; y += pass.stepY {
			rows = append(rows, 0)
			for x := pass.x; x < quarterWidth; x += pass.stepX {
				c := quarter(x, y)
				rows = append(rows, c.R, c.G, c.B)
			}
		}
	}
	return pngFile(t, pngHeader(quarterWidth, quarterHeight, 8, 2, 1), rows)
}

// greyAlphaPNG has two channels: black, half transparent.
func greyAlphaPNG(t testing.TB) []byte {
	var rows []byte
	for range quarterHeight {
		rows = append(rows, 0)
		rows = append(rows, bytes.Repeat([]byte{0, 128}, quarterWidth)...)
	}
	return pngFile(t, pngHeader(quarterWidth, quarterHeight, 8, 4, 0), rows)
}

// riffChunk is one chunk of a WebP (RFC 9649, 2.3).
func riffChunk(kind string, body []byte) []byte {
	out := binary.LittleEndian.AppendUint32([]byte(kind), uint32(len(body)))
	out = append(out, body...)
	if len(body)%2 == 1 {
		out = append(out, 0)
	}
	return out
}

// webPWithEXIF wraps the picture of a plain WebP in the extended form (RFC
// 9649, 2.7), with a block of EXIF.
func webPWithEXIF(plain, block []byte) []byte {
	const hasEXIF = 8
	extended := []byte{hasEXIF, 0, 0, 0, quarterWidth - 1, 0, 0, quarterHeight - 1, 0, 0}
	body := slices.Concat([]byte("WEBP"), riffChunk("VP8X", extended), plain[12:], riffChunk("EXIF", block))
	return riffChunk("RIFF", body)
}

// tiffFile holds the quarters, uncompressed (TIFF 6.0, section 6), with an
// orientation, in as many pages as wanted. format is that of the samples: 1 for
// whole numbers, 3 for floats.
func tiffFile(order binary.AppendByteOrder, orientation uint16, format uint32, pages int) []byte {
	const tags, entry = 11, 12
	const directory = 2 + tags*entry + 4
	const depths = directory + 8 // where the three depths stand, after the first directory
	out := tiffStart(order)
	for page := range pages {
		at := uint32(8 + page*(directory+6+3*quarterWidth*quarterHeight))
		out = order.AppendUint16(out, tags)
		for _, e := range [tags][4]uint32{
			{256, 3, 1, quarterWidth}, {257, 3, 1, quarterHeight},
			{258, 3, 3, at - 8 + depths},   // bits of each sample
			{259, 3, 1, 1}, {262, 3, 1, 2}, // uncompressed RGB
			{273, 4, 1, at - 8 + depths + 6}, // where the pixels are
			{274, 3, 1, uint32(orientation)},
			{277, 3, 1, 3}, {278, 3, 1, quarterHeight},
			{279, 4, 1, 3 * quarterWidth * quarterHeight},
			{339, 3, 1, format},
		} {
			out = appendTag(order, out, uint16(e[0]), uint16(e[1]), e[2], e[3])
		}
		next := uint32(0)
		if page+1 < pages {
			next = at + directory + 6 + 3*quarterWidth*quarterHeight
		}
		out = order.AppendUint32(out, next)
		for range 3 {
			out = order.AppendUint16(out, 8)
		}
		for i := range quarterWidth * quarterHeight {
			c := quarter(i%quarterWidth, i/quarterWidth)
			if page > 0 {
				c = color.RGBA{}
			}
			out = append(out, c.R, c.G, c.B)
		}
	}
	return out
}

// topDownBMP is a BMP with a negative height: its first row is the top one.
func topDownBMP() []byte {
	const start = 14 + 40
	out := binary.LittleEndian.AppendUint32([]byte("BM"), start+3*quarterWidth*quarterHeight)
	height := int32(-quarterHeight)
	for _, n := range []uint32{0, start, 40, quarterWidth, uint32(height), 1 | 24<<16, 0, 0, 0, 0, 0, 0} {
		out = binary.LittleEndian.AppendUint32(out, n)
	}
	for i := range quarterWidth * quarterHeight {
		c := quarter(i%quarterWidth, i/quarterWidth)
		out = append(out, c.B, c.G, c.R)
	}
	return out
}
