package vision

import (
	"context"
	"errors"
	"fmt"

	"gocv.io/x/gocv"
)

// A Photo is an opened picture: three 8-bit channels, blue first, turned the
// way a viewer shows it.
type Photo struct {
	Pixels gocv.Mat
}

// Close frees the pixels.
func (p *Photo) Close() error { return p.Pixels.Close() }

// Open decodes a picture from the bytes of a JPEG, PNG, WebP, TIFF or BMP
// file, or the first picture of a GIF or of a TIFF of several pages. EXIF
// orientation is applied, deeper channels are brought to 8 bits, grey becomes
// colour, and what is transparent is laid on white. Pictures beyond MaxPixels,
// MaxSide or MinSide are refused before any pixel is decoded, and so are JPEG,
// PNG and WebP files that are cut short. The error says what is wrong with the
// bytes and what to do, or is that of ctx, which is looked at before and after
// decoding.
func Open(ctx context.Context, data []byte) (*Photo, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if len(data) == 0 {
		return nil, errors.New("the file is empty: take or save the photo again")
	}
	h, err := readHeader(data)
	if err != nil {
		return nil, err
	}
	pixels, err := h.decode(data)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		pixels.Close()
		return nil, err
	}
	return &Photo{h.turn.apply(pixels)}, nil
}

// decode turns the file into three 8-bit channels, not yet turned. OpenCV, the
// quicker, decodes what has no transparency; the header has then been read well
// enough that OpenCV meets no size that it would stop the whole program for.
// What remains is rare, and is left to Go.
func (h header) decode(data []byte) (gocv.Mat, error) {
	if !h.quick {
		return decodeOnWhite(data, h)
	}
	if h.format == "png" {
		data = criticalChunks(data)
	}
	// IMReadColor alone would apply EXIF orientation, but not to every format.
	pixels, err := gocv.IMDecode(data, gocv.IMReadColor|gocv.IMReadIgnoreOrientation)
	if err != nil || pixels.Empty() {
		pixels.Close()
		return gocv.Mat{}, fmt.Errorf("the %s is damaged or of a rare kind and could not be decoded: open it in a picture viewer and save it as a plain JPEG or PNG", h.format)
	}
	return pixels, nil
}
