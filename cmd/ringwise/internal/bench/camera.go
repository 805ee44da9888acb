package bench

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"net/http"
	"sync"
	"time"

	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/isolated"
	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/vision"
)

// A camera reads the scene below a fixed camera each time it has changed and is still
// again.
type camera struct {
	*isolated.Camera
	server *Server

	mu     sync.Mutex
	latest []byte // JPEG, for the live view
	asked  time.Time
	now    cameraView
}

type cameraView struct {
	Words string `json:"words"`
	Ended bool   `json:"ended"`
}

func newCamera(c *isolated.Camera, s *Server) *camera {
	return &camera{Camera: c, server: s, now: cameraView{Words: "The camera starts."}}
}

// view is what the page is told; nil without a camera.
func (c *camera) view() *cameraView {
	if c == nil {
		return nil
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	v := c.now
	return &v
}

// tell tells every window what the camera does.
func (c *camera) tell(words string, ended bool) {
	c.mu.Lock()
	changed := c.now != cameraView{words, ended}
	c.now = cameraView{words, ended}
	c.mu.Unlock()
	if changed {
		c.server.hub.send("camera", cameraView{words, ended})
	}
}

const (
	stillFor  = 700 * time.Millisecond // how long nothing must move before the scene is read
	watched   = 5 * time.Second        // for how long frames are kept after a window asked for one
	liveSide  = 800                    // pixels along the longer side of the live view
	sceneWide = 96                     // pixels along a scene's small copy
	sceneHigh = 72
	evenly    = 110.0 // of 255: the mean brightness of a scene's small copy
	moved     = 10    // of 255: how much a pixel of the small copy changes when something moves
	movedAt   = 3     // how many such pixels are more than noise
)

// run looks through the camera until ctx ends or the video does.
func (c *camera) run(ctx context.Context) {
	defer c.Close()
	last, read := gocv.NewMat(), gocv.NewMat()
	defer func() { last.Close(); read.Close() }()
	stillSince := time.Now()
	outcome := "" // of the last reading, in words
	for ctx.Err() == nil {
		frame, err := c.Frame(ctx)
		switch {
		case err != nil && ctx.Err() != nil:
			return
		case err == io.EOF:
			err = errors.New("the camera gives no more pictures")
		}
		if err != nil {
			c.tell(sentence(err.Error()), true)
			return
		}
		c.keep(frame.Pixels)
		now := scene(frame.Pixels)
		if last.Empty() || differ(now, last) {
			stillSince = time.Now()
		}
		last.Close()
		last = now
		switch {
		case !read.Empty() && !differ(now, read):
			c.tell(outcome, false)
		case time.Since(stillSince) < stillFor:
			c.tell("Something moves. The scene is read when it is still.", false)
		default:
			read.Close()
			read = now.Clone()
			c.tell("Reading the scene.", false)
			outcome = c.read(ctx, frame)
			c.tell(outcome, false)
		}
		frame.Close()
		if c.Pause > 0 {
			select {
			case <-ctx.Done():
			case <-time.After(c.Pause):
			}
		}
	}
}

// read reads a frame, lays it on the tray if it has parts, and says what came
// of it.
func (c *camera) read(ctx context.Context, frame *vision.Photo) string {
	p, err := c.server.intake.read(ctx, photoread.Source{
		Name: "camera " + time.Now().Format("15.04.05"),
		Load: func() ([]byte, error) { return nil, nil },
		Open: func(context.Context, []byte) (*vision.Photo, error) {
			return &vision.Photo{Pixels: frame.Pixels.Clone()}, nil
		},
	})
	switch {
	case err != nil:
		return sentence(err.Error())
	case len(p.parts) == 0:
		return "No parts are seen. Lay some under the camera."
	}
	if err := c.server.tray.add(p); err != nil {
		return sentence(err.Error())
	}
	return fmt.Sprintf("Read %s. Change the scene for the next.", count(len(p.parts), "part", "parts"))
}

// keep keeps a frame for the live view, if a window wants it.
func (c *camera) keep(frame gocv.Mat) {
	c.mu.Lock()
	wanted := c.latest == nil || time.Since(c.asked) < watched
	c.mu.Unlock()
	if !wanted {
		return
	}
	small := gocv.NewMat()
	defer small.Close()
	scale := min(1, liveSide/float64(max(frame.Cols(), frame.Rows())))
	gocv.Resize(frame, &small, image.Point{}, scale, scale, gocv.InterpolationArea)
	data, err := gocv.IMEncode(".jpg", small)
	if err != nil {
		return // the next frame may do
	}
	defer data.Close()
	c.mu.Lock()
	defer c.mu.Unlock()
	c.latest = bytes.Clone(data.GetBytes())
}

// scene is a small grey copy of a frame, in which noise is averaged out and the
// camera's own brightening and darkening undone.
func scene(frame gocv.Mat) gocv.Mat {
	small, grey := gocv.NewMat(), gocv.NewMat()
	defer small.Close()
	gocv.Resize(frame, &small, image.Pt(sceneWide, sceneHigh), 0, 0, gocv.InterpolationArea)
	gocv.CvtColor(small, &grey, gocv.ColorBGRToGray)
	if mean := grey.Mean().Val1; mean > 1 {
		grey.ConvertToWithParams(&grey, gocv.MatTypeCV8U, float32(evenly/mean), 0)
	}
	return grey
}

// differ tells whether something moved between two scenes.
func differ(a, b gocv.Mat) bool {
	difference := gocv.NewMat()
	defer difference.Close()
	gocv.AbsDiff(a, b, &difference)
	gocv.Threshold(difference, &difference, moved, 255, gocv.ThresholdBinary)
	return gocv.CountNonZero(difference) > movedAt
}

// showCamera sends the latest frame.
func (s *Server) showCamera(w http.ResponseWriter, _ *http.Request) {
	var data []byte
	if c := s.camera; c != nil {
		c.mu.Lock()
		data, c.asked = c.latest, time.Now()
		c.mu.Unlock()
	}
	if data == nil {
		fail(w, errNoCamera)
		return
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Write(data)
}

var errNoCamera = errors.New("there is no picture from a fixed camera: start the bench with --camera")
