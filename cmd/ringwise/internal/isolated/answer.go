package isolated

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"

	"gocv.io/x/gocv"

	"ringwise/vision"
)

// What a child answers begins with one of these bytes.
const (
	withPixels  = 'P' // then a size; the rows of the picture, blue first, lie in the shared memory, or follow where none is shared
	withRefusal = 'R' // then why it is refused, to the end
	withPause   = 'O' // a camera is open: then the nanoseconds between the frames of a file, 0 for others
	withEnd     = 'E' // a camera gives no more frames
)

// A size is that of a picture, in pixels.
type size struct{ Width, Height uint32 }

// longestRefusal is how much of a refusal is read, in bytes.
const longestRefusal = 4 << 10

// refuse answers why, and returns the exit code.
func refuse(out io.Writer, why error) int {
	_, err := fmt.Fprintf(out, "%c%v", withRefusal, why)
	return exitCode(err)
}

// send hands over the pixels of a picture.
func send(out io.Writer, shared []byte, pixels gocv.Mat) error {
	if !pixels.IsContinuous() {
		pixels = pixels.Clone()
		defer pixels.Close()
	}
	data, err := pixels.DataPtrUint8()
	if err != nil {
		return err
	}
	w := bufio.NewWriter(out) // passes what is larger than itself straight on
	w.WriteByte(withPixels)
	if err := binary.Write(w, binary.LittleEndian, size{uint32(pixels.Cols()), uint32(pixels.Rows())}); err != nil {
		return err
	}
	if shared != nil {
		copy(shared, data)
	} else if _, err := w.Write(data); err != nil {
		return err
	}
	return w.Flush()
}

// An answer is what a child answered; nothing at all if it broke off or made
// no sense.
type answer struct {
	kind    byte
	photo   *vision.Photo // withPixels
	refused error         // withRefusal
	pause   int64         // withPause
}

// receive reads an answer. The pixels are copied, so that the child cannot
// change them any more.
func receive(in io.Reader, shared []byte) answer {
	var kind [1]byte
	if _, err := io.ReadFull(in, kind[:]); err != nil {
		return answer{}
	}
	switch kind[0] {
	case withPixels:
		if photo := receivePixels(in, shared); photo != nil {
			return answer{kind: withPixels, photo: photo}
		}
	case withRefusal:
		text, err := io.ReadAll(io.LimitReader(in, longestRefusal))
		if err == nil && len(text) > 0 {
			return answer{kind: withRefusal, refused: errors.New(string(text))}
		}
	case withPause:
		var pause int64
		if binary.Read(in, binary.LittleEndian, &pause) == nil && pause >= 0 {
			return answer{kind: withPause, pause: pause}
		}
	case withEnd:
		return answer{kind: withEnd}
	}
	return answer{}
}

func receivePixels(in io.Reader, shared []byte) *vision.Photo {
	var s size
	if binary.Read(in, binary.LittleEndian, &s) != nil || !s.sound() {
		return nil
	}
	pixels := gocv.NewMatWithSize(int(s.Height), int(s.Width), gocv.MatTypeCV8UC3)
	into, err := pixels.DataPtrUint8()
	switch {
	case err != nil:
	case shared != nil:
		copy(into, shared)
	default:
		_, err = io.ReadFull(in, into)
	}
	if err != nil {
		pixels.Close()
		return nil
	}
	return &vision.Photo{Pixels: pixels}
}

// sound is whether vision.Open could have given such a picture. A process that
// a file has taken over may answer anything.
func (s size) sound() bool {
	return min(s.Width, s.Height) >= vision.MinSide && max(s.Width, s.Height) <= vision.MaxSide &&
		uint64(s.Width)*uint64(s.Height) <= vision.MaxPixels
}
