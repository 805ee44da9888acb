package vision

import (
	"encoding/binary"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// FuzzOrientation reads any bytes as a block of EXIF. What is found must be one
// of the eight orientations (CIPA DC-008, tag 274), must stand in the block as
// TIFF 6.0 says, and must be the same in a JPEG.
func FuzzOrientation(f *testing.F) {
	f.Add([]byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00"))
	f.Add([]byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x08\x00\x00"))
	f.Fuzz(func(t *testing.T, block []byte) {
		turn := exifOrientation(block)
		require.LessOrEqual(t, turn, orientation(8))
		if turn > 0 {
			// An entry of 12 bytes: tag 274, type 3, then its value in the first
			// two bytes of four.
			tag, kind, value := []byte{0x12, 0x01}, []byte{3, 0}, []byte{byte(turn), 0}
			if block[0] == 'M' {
				tag, kind, value = []byte{0x01, 0x12}, []byte{0, 3}, []byte{0, byte(turn)}
			}
			stands := false
			for at := 8; at+12 <= len(block) && !stands; at++ {
				stands = slices.Equal(block[at:at+2], tag) && slices.Equal(block[at+2:at+4], kind) && slices.Equal(block[at+8:at+10], value)
			}
			// A directory may begin anywhere, in the head as well.
			assert.True(t, stands || int64(firstDirectory(block)) < 8, "orientation %d does not stand in the block", turn)
			assert.Equal(t, turn, exifOrientation(append(slices.Clone(block), "and more"...)), "what follows changes it")
		}
		if len(block) > 60_000 {
			return // more than a segment holds
		}
		h, err := readHeader(jpegWith(block))
		require.NoError(t, err)
		assert.Equal(t, turn, h.turn)
	})
}

func firstDirectory(block []byte) uint32 {
	if block[0] == 'M' {
		return binary.BigEndian.Uint32(block[4:])
	}
	return binary.LittleEndian.Uint32(block[4:])
}

// jpegWith is the frame of a JPEG of 32 by 32 pixels with a block of EXIF in it
// (ITU-T T.81, annex B; CIPA DC-008, 4.5.4).
func jpegWith(block []byte) []byte {
	app1 := append([]byte("Exif\x00\x00"), block...)
	out := []byte{0xFF, 0xD8, 0xFF, 0xE1}
	out = binary.BigEndian.AppendUint16(out, uint16(len(app1)+2))
	out = append(out, app1...)
	out = append(out, 0xFF, 0xC0, 0, 11, 8, 0, 32, 0, 32, 1, 1, 0x11, 0) // one component, in grey
	out = append(out, 0xFF, 0xDA, 0, 8, 1, 1, 0, 0, 63, 0, 0x55)         // the scan
	return append(out, 0xFF, 0xD9)
}
