package vision

import (
	"bytes"
	"encoding/binary"
	"errors"
)

// The second byte of the JPEG markers that matter here (ITU-T T.81, table B.1).
const (
	markTEM  = 0x01
	markSOF0 = 0xC0 // C0 to CF begin a frame, but for the next three
	markDHT  = 0xC4
	markJPG  = 0xC8
	markDAC  = 0xCC
	markSOFF = 0xCF
	markRST0 = 0xD0
	markRST7 = 0xD7
	markSOI  = 0xD8
	markEOI  = 0xD9
	markSOS  = 0xDA
	markAPP1 = 0xE1
)

const (
	// mostScans bounds the scans of a JPEG: a progressive one has about ten,
	// and each costs as much as a whole picture.
	mostScans = 200
	// mostPerByte bounds the pixels that one byte of a JPEG can hold: a block
	// of 64 takes a bit at least, in one of the colours and in one of the scans.
	mostPerByte = 2048
)

// readJPEG walks through the segments and scans of a JPEG (ITU-T T.81, annex
// B) to the end of the picture. What comes after that, such as the film of a
// moving photo, is left alone.
func readJPEG(data []byte) (header, error) {
	h := header{format: "jpeg", quick: true}
	scans := 0
	at := 2
	for {
		marker, start, ok := nextMarker(data, at)
		switch {
		case !ok:
			return header{}, h.endless(data)
		case marker == markEOI && scans == 0, marker == markSOI:
			return header{}, errUnknown(data)
		case marker == markEOI:
			return h, h.plausible(start)
		}
		if start+2 > len(data) {
			return header{}, h.endless(data)
		}
		at = start + int(binary.BigEndian.Uint16(data[start:]))
		if at < start+2 {
			return header{}, errUnknown(data)
		}
		if at > len(data) {
			return header{}, h.endless(data)
		}
		body := data[start+2 : at]
		switch {
		case marker == markSOS:
			if scans++; scans > mostScans || h.width == 0 {
				return header{}, errUnknown(data)
			}
		case marker == markAPP1 && h.turn == 0:
			if tiff, ok := bytes.CutPrefix(body, []byte("Exif\x00\x00")); ok {
				h.turn = exifOrientation(tiff)
			}
		case beginsFrame(marker):
			if len(body) < 6 || h.width != 0 {
				return header{}, errUnknown(data)
			}
			if body[0] != 8 {
				return header{}, errors.New("the jpeg is deeper than 8 bits, which is not read: save it as a plain JPEG or PNG")
			}
			h.height = int(binary.BigEndian.Uint16(body[1:]))
			h.width = int(binary.BigEndian.Uint16(body[3:]))
			if err := h.bounded(); err != nil {
				return header{}, err
			}
		}
	}
}

func beginsFrame(marker byte) bool {
	return marker >= markSOF0 && marker <= markSOFF &&
		marker != markDHT && marker != markJPG && marker != markDAC
}

// nextMarker finds the next marker of a JPEG that has a segment or ends the
// picture, and where its segment starts. It steps over entropy-coded data with
// its stuffed zeros and restart markers (ITU-T T.81, B.1.1.5), and over stray
// bytes, as decoders do.
func nextMarker(data []byte, at int) (marker byte, start int, ok bool) {
	for {
		step := bytes.IndexByte(data[at:], 0xFF)
		if step < 0 {
			return 0, 0, false
		}
		for at += step; at < len(data) && data[at] == 0xFF; at++ {
		}
		if at == len(data) {
			return 0, 0, false
		}
		marker = data[at]
		at++
		if marker != 0 && marker != markTEM && (marker < markRST0 || marker > markRST7) {
			return marker, at, true
		}
	}
}

// endless is the error of a JPEG that breaks off.
func (h header) endless(data []byte) error {
	if h.width == 0 {
		return errUnknown(data)
	}
	return h.cutShort()
}

// plausible refuses a JPEG whose picture takes fewer bytes than its size could.
func (h header) plausible(size int) error {
	if int64(h.width)*int64(h.height) > mostPerByte*int64(size) {
		return h.cutShort()
	}
	return nil
}
