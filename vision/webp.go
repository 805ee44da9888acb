package vision

import (
	"bytes"
	"encoding/binary"
	"errors"
)

// walkWebP checks that the file goes on to its end (RFC 9649, section 2.3) and
// holds a still picture, and reads its orientation.
func (h *header) walkWebP(data []byte) error {
	const animationBit = 2 // of the first byte of VP8X
	size := int64(binary.LittleEndian.Uint32(data[4:]))
	if size > int64(len(data)-8) {
		return h.cutShort()
	}
	riff := data[12 : 8+max(4, size)]
	for len(riff) >= 8 {
		kind, size := string(riff[:4]), int64(binary.LittleEndian.Uint32(riff[4:]))
		if riff = riff[8:]; size > int64(len(riff)) {
			return h.cutShort()
		}
		body := riff[:size]
		switch kind {
		case "VP8X":
			if size > 0 && body[0]&animationBit != 0 {
				return errors.New("the webp is animated: save the picture that shows the resistors as a plain JPEG or PNG")
			}
		case "EXIF":
			h.turn = exifOrientation(bytes.TrimPrefix(body, []byte("Exif\x00\x00")))
		}
		riff = riff[min(size+size%2, int64(len(riff))):] // chunks are padded to be even
	}
	return nil
}
