package isolated

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"gocv.io/x/gocv"

	"ringwise/vision"
)

// A Camera is looked through by a process of its own. One goroutine at a time
// may use it.
type Camera struct {
	process *process
	// Pause is the time between the frames of a file; 0 for devices and streams,
	// which set their own pace.
	Pause time.Duration
}

// OpenCamera opens a camera by its number, from 0, or a video by its file name
// or address.
func OpenCamera(ctx context.Context, source string) (*Camera, error) {
	if _, err := strconv.Atoi(source); err != nil && !strings.Contains(source, "://") {
		if _, err := os.Stat(source); err != nil {
			return nil, fmt.Errorf("there is no video file %s: name a file, the address of a stream, or the number of a camera", source)
		}
	}
	p, err := start(watchWord, source)
	if err != nil {
		return nil, fmt.Errorf("the camera %s cannot be looked through: %w", source, err)
	}
	c := &Camera{process: p}
	a, err := c.answer(ctx)
	if err == nil && a.kind != withPause {
		err = a.refused
		if err == nil {
			err = fmt.Errorf("the camera %s broke its reader: use another, or another format", source)
		}
	}
	if err != nil {
		c.Close()
		return nil, err
	}
	c.Pause = time.Duration(a.pause)
	return c, nil
}

// Frame returns the next frame, io.EOF after the last. After any error there
// are no more frames.
func (c *Camera) Frame(ctx context.Context) (*vision.Photo, error) {
	if _, err := c.process.ask.Write([]byte{1}); err != nil {
		return nil, errCameraBroken
	}
	a, err := c.answer(ctx)
	switch {
	case err != nil:
		return nil, err
	case a.photo != nil:
		return a.photo, nil
	case a.refused != nil:
		return nil, a.refused
	case a.kind == withEnd:
		return nil, io.EOF
	}
	return nil, errCameraBroken
}

// Errors of a camera while it runs.
var (
	errCameraBroken = errors.New("the camera's pictures broke their reader: start the bench again, with another camera if it happens again")
	errCameraSlow   = fmt.Errorf("the camera gave no picture for %v: check that it is on and connected, and start the bench again", longest)
)

// answer waits for an answer, as long as a picture may take.
func (c *Camera) answer(ctx context.Context) (answer, error) {
	limited, stop := context.WithTimeout(ctx, longest)
	defer stop()
	defer context.AfterFunc(limited, c.process.kill)()
	a := receive(c.process.answers, c.process.memory.bytes())
	if a.kind == 0 {
		if ctx.Err() != nil {
			return a, ctx.Err()
		}
		if limited.Err() != nil {
			return a, errCameraSlow
		}
	}
	return a, nil
}

// Close ends the process.
func (c *Camera) Close() { c.process.close() }

// watch is the child: it opens the camera and gives a frame whenever a byte
// comes in. It returns the exit code.
func watch(source string, in io.Reader, out io.Writer, memory uint64) int {
	shared, err := sharedByParent()
	if err == nil {
		err = limit(memory, 0)
	}
	if err != nil {
		return refuse(out, fmt.Errorf("the camera %s cannot be kept within limits: %w", source, err))
	}
	var from any = source
	if number, err := strconv.Atoi(source); err == nil {
		from = number
	}
	capture, err := gocv.OpenVideoCapture(from)
	if err != nil || !capture.IsOpened() {
		return refuse(out, fmt.Errorf("the camera %s cannot be opened: check its number or address, and that no other program uses it", source))
	}
	defer capture.Close()
	var pause time.Duration
	if rate := capture.Get(gocv.VideoCaptureFPS); capture.Get(gocv.VideoCaptureFrameCount) > 0 && rate > 1 {
		pause = time.Duration(float64(time.Second) / rate)
	}
	if err := binary.Write(out, binary.LittleEndian, struct {
		Kind  byte
		Pause int64
	}{withPause, int64(pause)}); err != nil {
		return 1
	}
	frame := gocv.NewMat()
	defer frame.Close()
	for {
		var asked [1]byte
		if _, err := io.ReadFull(in, asked[:]); err != nil {
			return 0
		}
		if !capture.Read(&frame) || frame.Empty() {
			_, err := out.Write([]byte{withEnd})
			return exitCode(err)
		}
		if frame.Type() != gocv.MatTypeCV8UC3 || !(size{uint32(frame.Cols()), uint32(frame.Rows())}).sound() {
			return refuse(out, fmt.Errorf("the camera %s gives %d × %d pixels of a kind that cannot be read: use another", source, frame.Cols(), frame.Rows()))
		}
		if err := send(out, shared, frame); err != nil {
			return 1
		}
	}
}
