package vision

import (
	"encoding/binary"
	"hash/crc32"
	"iter"
)

// pngSignature is how long the signature before the first chunk is, in bytes.
const pngSignature = 8

// A chunk is one chunk of a PNG.
type chunk struct {
	kind  string
	body  []byte
	whole []byte // with its length, kind and checksum
	sound bool   // the checksum fits
}

// critical tells whether the pixels need the chunk: its kind then begins with
// a capital.
func (c chunk) critical() bool { return c.kind[0] >= 'A' && c.kind[0] <= 'Z' }

// chunks yields the chunks of a PNG (ISO/IEC 15948, clause 5.3) up to IEND or
// to where the file breaks off.
func chunks(data []byte) iter.Seq[chunk] {
	return func(yield func(chunk) bool) {
		const frame = 4 + 4 + 4 // length, kind, checksum
		for at := pngSignature; len(data)-at >= frame; {
			size := int64(binary.BigEndian.Uint32(data[at:]))
			if size > int64(len(data)-at-frame) {
				return
			}
			end := at + frame + int(size)
			c := chunk{
				kind:  string(data[at+4 : at+8]),
				body:  data[at+8 : end-4],
				whole: data[at:end],
				sound: crc32.ChecksumIEEE(data[at+4:end-4]) == binary.BigEndian.Uint32(data[end-4:]),
			}
			if !yield(c) || c.kind == "IEND" {
				return
			}
			at = end
		}
	}
}

// walkPNG checks that the file goes on to its end and that every chunk is
// sound, and reads what the header does not say.
func (h *header) walkPNG(data []byte) error {
	const colourType, alphaBit = pngSignature + 8 + 9, 4 // in IHDR, the first chunk
	h.quick = data[colourType]&alphaBit == 0
	pixels := false
	for c := range chunks(data) {
		if !c.sound {
			return h.cutShort()
		}
		switch c.kind {
		case "tRNS":
			h.quick = false
		case "eXIf":
			h.turn = exifOrientation(c.body)
		case "IDAT":
			pixels = true
		case "IEND":
			if pixels {
				return nil
			}
		}
	}
	return h.cutShort()
}

// criticalChunks leaves out of a PNG what its pixels do not need, such as
// colour profiles, of which OpenCV's decoder complains on standard error.
func criticalChunks(data []byte) []byte {
	out := make([]byte, 0, len(data))
	out = append(out, data[:pngSignature]...)
	for c := range chunks(data) {
		if c.critical() {
			out = append(out, c.whole...)
		}
	}
	return out
}
