package vision

import (
	"encoding/binary"

	"gocv.io/x/gocv"
)

// An orientation says how a picture is to be turned to be shown: 1 to 8 as in
// EXIF (CIPA DC-008, tag 274), or 0 if the file does not say.
type orientation uint8

// exifOrientation reads the orientation from a block of EXIF, which has the
// form of a TIFF (TIFF 6.0, section 2). It returns 0 where there is none or
// what there is makes no sense.
func exifOrientation(tiff []byte) orientation {
	const (
		tagOrientation = 0x0112
		typeShort      = 3
		entrySize      = 12
	)
	var order binary.ByteOrder
	switch {
	case len(tiff) < 8:
		return 0
	case string(tiff[:4]) == "II*\x00":
		order = binary.LittleEndian
	case string(tiff[:4]) == "MM\x00*":
		order = binary.BigEndian
	default:
		return 0
	}
	at := int64(order.Uint32(tiff[4:]))
	if at+2 > int64(len(tiff)) {
		return 0
	}
	entries := tiff[at+2:]
	for range order.Uint16(tiff[at:]) {
		if len(entries) < entrySize {
			return 0
		}
		if order.Uint16(entries) == tagOrientation && order.Uint16(entries[2:]) == typeShort {
			if value := order.Uint16(entries[8:]); value <= 8 {
				return orientation(value)
			}
			return 0
		}
		entries = entries[entrySize:]
	}
	return 0
}

// apply turns the picture, and closes what it was given where it makes a new
// one.
func (o orientation) apply(pixels gocv.Mat) gocv.Mat {
	const upDown, leftRight, both = 0, 1, -1 // what gocv.Flip takes
	if o <= 1 {
		return pixels
	}
	defer pixels.Close()
	turned := gocv.NewMat()
	switch o {
	case 2:
		gocv.Flip(pixels, &turned, leftRight)
	case 3:
		gocv.Rotate(pixels, &turned, gocv.Rotate180Clockwise)
	case 4:
		gocv.Flip(pixels, &turned, upDown)
	case 5:
		gocv.Transpose(pixels, &turned)
	case 6:
		gocv.Rotate(pixels, &turned, gocv.Rotate90Clockwise)
	case 7:
		gocv.Transpose(pixels, &turned)
		gocv.Flip(turned, &turned, both)
	case 8:
		gocv.Rotate(pixels, &turned, gocv.Rotate90CounterClockwise)
	}
	return turned
}
