package vision

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	_ "image/gif" // GIF
	_ "image/png" // PNG

	_ "golang.org/x/image/bmp"  // BMP
	_ "golang.org/x/image/tiff" // TIFF
	_ "golang.org/x/image/webp" // WebP
)

// Bounds on the pictures that Open takes, checked on the header before any
// pixel is decoded.
const (
	MaxPixels = 120_000_000 // the largest picture, in pixels
	MaxSide   = 30_000      // the longest side, in pixels
	MinSide   = 16          // the shortest side that could hold a body, in pixels
)

// A header is what a file says of its picture before any pixel is decoded.
type header struct {
	format        string // "jpeg", "png", "webp", "tiff", "bmp" or "gif"
	width, height int    // in pixels, before it is turned
	turn          orientation
	quick         bool // OpenCV reads it: no transparency and a common format
}

// readHeader reads the size and orientation of a picture and walks through the
// file as far as its format makes that cheap, so that what is cut short or out
// of bounds is refused. It is plain Go, whatever the bytes.
func readHeader(data []byte) (header, error) {
	if bytes.HasPrefix(data, []byte{0xFF, markSOI}) {
		return readJPEG(data)
	}
	config, format, err := image.DecodeConfig(bytes.NewReader(data))
	if errors.Is(err, image.ErrFormat) {
		return header{}, errUnknown(data)
	}
	if err != nil {
		return header{}, fmt.Errorf("the %s header is damaged or of a rare kind (%v): open it in a picture viewer and save it as a plain JPEG or PNG", format, err)
	}
	h := header{format: format, width: config.Width, height: config.Height}
	if err := h.bounded(); err != nil {
		return header{}, err
	}
	switch format {
	case "png":
		err = h.walkPNG(data)
	case "webp":
		h.quick = config.ColorModel == color.YCbCrModel
		err = h.walkWebP(data)
	case "tiff":
		h.turn = exifOrientation(data) // EXIF is kept in the form of a TIFF
	}
	return h, err
}

// bounded refuses sizes that are out of bounds.
func (h header) bounded() error {
	switch {
	case h.width > MaxSide || h.height > MaxSide || h.width*h.height > MaxPixels:
		return fmt.Errorf("the %s is %d × %d pixels, more than the %d million pixels (%d a side) that are opened: save it smaller",
			h.format, h.width, h.height, MaxPixels/1_000_000, MaxSide)
	case h.width < MinSide || h.height < MinSide:
		return fmt.Errorf("the %s is only %d × %d pixels: no resistor can be read in so small a picture",
			h.format, h.width, h.height)
	}
	return nil
}

// cutShort is the error of a file whose end is missing.
func (h header) cutShort() error {
	return fmt.Errorf("the %s is cut short or damaged: copy the photo again", h.format)
}

// errUnknown names the kind of file where it can be told.
func errUnknown(data []byte) error {
	if len(data) >= 12 && string(data[4:8]) == "ftyp" {
		return errors.New("this looks like HEIC, AVIF or a video: set the camera to JPEG, or save the photo as JPEG or PNG")
	}
	return errors.New("this is no JPEG, PNG, WebP, TIFF, BMP or GIF picture, or its header is damaged: save the photo as JPEG or PNG")
}
