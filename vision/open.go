package vision

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	_ "image/gif"  // GIF headers
	_ "image/jpeg" // JPEG headers
	_ "image/png"  // PNG headers

	"gocv.io/x/gocv"
	_ "golang.org/x/image/bmp"  // BMP headers
	_ "golang.org/x/image/tiff" // TIFF headers
	_ "golang.org/x/image/webp" // WebP headers
)

// Bounds on the pictures that Open takes, checked on the header before any
// pixel is decoded.
const (
	MaxPixels = 120_000_000 // the largest picture, in pixels
	MaxSide   = 30_000      // the longest side, in pixels
	MinSide   = 16          // the shortest side that could hold a body, in pixels
)

// A Photo is an opened picture: three 8-bit channels, blue first, turned the
// way a viewer shows it.
type Photo struct {
	Pixels gocv.Mat
}

// Close frees the pixels.
func (p *Photo) Close() error { return p.Pixels.Close() }

// Open decodes a picture from the bytes of a JPEG, PNG, WebP, TIFF or BMP
// file, or the first picture of a GIF. EXIF orientation is applied, deeper
// channels are brought to 8 bits, grey becomes colour, and what is transparent
// is laid on white. The error says what is wrong with the bytes and what to do.
func Open(ctx context.Context, data []byte) (*Photo, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if len(data) == 0 {
		return nil, errors.New("the file is empty: take or save the photo again")
	}
	header, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, unknownFormat(data)
	}
	switch {
	case header.Width > MaxSide || header.Height > MaxSide || header.Width*header.Height > MaxPixels:
		return nil, fmt.Errorf("the %s is %d × %d pixels, more than the %d million pixels (%d a side) that are opened: save it smaller",
			format, header.Width, header.Height, MaxPixels/1_000_000, MaxSide)
	case header.Width < MinSide || header.Height < MinSide:
		return nil, fmt.Errorf("the %s is only %d × %d pixels: no resistor can be read in so small a picture",
			format, header.Width, header.Height)
	}
	if format == "gif" {
		return openGIF(data)
	}
	if format == "jpeg" && !bytes.Contains(data[max(0, len(data)-4096):], []byte{0xFF, 0xD9}) {
		return nil, errors.New("the jpeg is cut short: copy the photo again")
	}
	mode := gocv.IMReadColor
	if format == "png" || format == "webp" {
		mode = gocv.IMReadUnchanged // keeps transparency
	}
	pixels, err := gocv.IMDecode(data, mode)
	if err != nil || pixels.Empty() {
		pixels.Close()
		return nil, fmt.Errorf("the %s is damaged or animated and could not be decoded: open it in a picture viewer and save it as a plain JPEG or PNG", format)
	}
	return &Photo{plain(pixels)}, nil
}

// unknownFormat names the kind of file where it can be told.
func unknownFormat(data []byte) error {
	if len(data) >= 12 && string(data[4:8]) == "ftyp" {
		return errors.New("this looks like HEIC, AVIF or a video: set the camera to JPEG, or save the photo as JPEG or PNG")
	}
	return errors.New("this is no JPEG, PNG, WebP, TIFF, BMP or GIF picture, or its header is damaged: save the photo as JPEG or PNG")
}

// openGIF decodes the first picture of a GIF, which OpenCV does not read.
func openGIF(data []byte) (*Photo, error) {
	first, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the gif is damaged (%v): save the photo as JPEG or PNG", err)
	}
	pixels, err := gocv.ImageToMatRGB(first)
	if err != nil {
		return nil, fmt.Errorf("the gif could not be turned into pixels (%v): save the photo as JPEG or PNG", err)
	}
	return &Photo{pixels}, nil
}

// plain turns any decoded picture into three 8-bit channels and closes what it
// was given.
func plain(pixels gocv.Mat) gocv.Mat {
	if depth := pixels.Type() & 7; depth != gocv.MatTypeCV8U {
		shallow := gocv.NewMat()
		scale := float32(1)
		if depth == gocv.MatTypeCV16U {
			scale = 1.0 / 257
		}
		pixels.ConvertToWithParams(&shallow, gocv.MatTypeCV8U|gocv.MatType((pixels.Channels()-1)<<3), scale, 0)
		pixels.Close()
		pixels = shallow
	}
	switch pixels.Channels() {
	case 1:
		colour := gocv.NewMat()
		gocv.CvtColor(pixels, &colour, gocv.ColorGrayToBGR)
		pixels.Close()
		return colour
	case 4:
		flat := onWhite(pixels)
		pixels.Close()
		return flat
	}
	return pixels
}

// onWhite lays a picture with transparency on white.
func onWhite(pixels gocv.Mat) gocv.Mat {
	from := pixels.ToBytes()
	to := make([]byte, len(from)/4*3)
	for i := range len(from) / 4 {
		alpha := int(from[4*i+3])
		for k := range 3 {
			to[3*i+k] = uint8((int(from[4*i+k])*alpha + 255*(255-alpha) + 127) / 255)
		}
	}
	flat, err := gocv.NewMatFromBytes(pixels.Rows(), pixels.Cols(), gocv.MatTypeCV8UC3, to)
	if err != nil {
		panic(err) // the sizes are those of the picture
	}
	owned := flat.Clone() // NewMatFromBytes only borrows the slice
	flat.Close()
	return owned
}
