// Package isolated decodes pictures in a process of their own, so that a file
// that breaks the decoder, or is made to, ends that process and nothing else.
// The process is this same program, started anew for each picture, within
// limits on memory and time.
package isolated

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"time"

	"gocv.io/x/gocv"

	"ringwise/vision"
)

// longest is the time that one picture may take, start of the process
// included. The largest picture that vision opens takes some seconds.
const longest = 40 * time.Second

// A decoder starts one process a picture.
type decoder struct {
	word    string // which the program is started with
	longest time.Duration
}

// Open does what vision.Open does, with the same errors, in a process of its
// own. If that process breaks, runs out of memory or takes too long, the error
// says so in one line, and the next call starts a fresh one.
func Open(ctx context.Context, data []byte) (*vision.Photo, error) {
	return decoder{word, longest}.open(ctx, data)
}

// errBroken is what a file that ends its process is answered with.
var errBroken = errors.New("the photo broke the picture decoder, or is too large for it: open it in a picture viewer and save it as a plain JPEG")

func (d decoder) open(ctx context.Context, data []byte) (*vision.Photo, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	self, err := ownProgram()
	if err != nil {
		return nil, fmt.Errorf("the picture decoder cannot be started (%w): install Ringwise again", err)
	}
	limited, stop := context.WithTimeout(ctx, d.longest)
	defer stop()
	child := exec.CommandContext(limited, self, d.word)
	child.Stdin = bytes.NewReader(data)
	child.WaitDelay = time.Second
	pipe, err := child.StdoutPipe()
	if err != nil {
		return nil, fmt.Errorf("the picture decoder cannot be started: %w", err)
	}
	if err := child.Start(); err != nil {
		return nil, fmt.Errorf("the picture decoder cannot be started (%w): close other programs and try again", err)
	}
	photo, refused := receive(pipe)
	if photo == nil && refused == nil {
		stop() // what it says is no answer, so it need not go on
	}
	err = child.Wait()
	switch {
	case ctx.Err() != nil:
		err = ctx.Err()
	case refused != nil:
		return nil, refused
	case photo != nil && err == nil:
		return photo, nil
	case limited.Err() == context.DeadlineExceeded:
		err = fmt.Errorf("decoding the photo took longer than %v: save it smaller, as a plain JPEG", d.longest)
	default:
		err = errBroken
	}
	if photo != nil {
		photo.Close()
	}
	return nil, err
}

// What the process answers begins with one of these bytes.
const (
	withPixels  = 'P' // then a size and the rows of the picture, blue first
	withRefusal = 'R' // then why the picture is refused, to the end
)

// A size is that of a picture, in pixels.
type size struct{ Width, Height uint32 }

// longestRefusal is how much of a refusal is read, in bytes.
const longestRefusal = 4 << 10

// receive reads an answer. It returns neither a photo nor a refusal if there
// is none or if it breaks off.
func receive(r io.Reader) (photo *vision.Photo, refused error) {
	var kind [1]byte
	if _, err := io.ReadFull(r, kind[:]); err != nil {
		return nil, nil
	}
	switch kind[0] {
	case withRefusal:
		text, err := io.ReadAll(io.LimitReader(r, longestRefusal))
		if err != nil || len(text) == 0 {
			return nil, nil
		}
		return nil, errors.New(string(text))
	case withPixels:
		var s size
		if binary.Read(r, binary.LittleEndian, &s) != nil || !s.sound() {
			return nil, nil
		}
		pixels := gocv.NewMatWithSize(int(s.Height), int(s.Width), gocv.MatTypeCV8UC3)
		into, err := pixels.DataPtrUint8()
		if err == nil {
			_, err = io.ReadFull(r, into)
		}
		if err != nil {
			pixels.Close()
			return nil, nil
		}
		return &vision.Photo{Pixels: pixels}, nil
	}
	return nil, nil
}

// sound is whether vision.Open could have given such a picture. A process that
// a file has taken over may answer anything.
func (s size) sound() bool {
	return min(s.Width, s.Height) >= vision.MinSide && max(s.Width, s.Height) <= vision.MaxSide &&
		uint64(s.Width)*uint64(s.Height) <= vision.MaxPixels
}
