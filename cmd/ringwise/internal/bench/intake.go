package bench

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"sync"
	"time"

	"ringwise/cmd/ringwise/internal/photoread"
)

// Bounds on what comes in.
const (
	mostUpload   = 64 << 20         // bytes of a photo file
	uploadTime   = 90 * time.Second // to send one
	readingTime  = 2 * time.Minute  // to read one
	mostWaiting  = 4                // photos sent or read at a time
	mostAMinute  = 120              // photos a minute
	mostReaders  = 2                // photos read at a time
	uploadMinute = time.Minute
)

// An intake keeps photos that come in within bounds.
type intake struct {
	waiting chan struct{}
	readers chan struct{}
	mu      sync.Mutex
	times   []time.Time
}

func newIntake() *intake {
	return &intake{waiting: make(chan struct{}, mostWaiting), readers: make(chan struct{}, mostReaders)}
}

// errBusy is the answer when too much comes in at a time.
var errBusy = errors.New("many photos are coming in at once: wait a moment, then send this one again")

// enter lets one photo in, until leave is called.
func (in *intake) enter(now time.Time) (leave func(), err error) {
	in.mu.Lock()
	defer in.mu.Unlock()
	for len(in.times) > 0 && now.Sub(in.times[0]) > uploadMinute {
		in.times = in.times[1:]
	}
	if len(in.times) >= mostAMinute {
		return nil, errBusy
	}
	select {
	case in.waiting <- struct{}{}:
	default:
		return nil, errBusy
	}
	in.times = append(in.times, now)
	return func() { <-in.waiting }, nil
}

// read reads a photo once it is its turn.
func (in *intake) read(ctx context.Context, source photoread.Source) (*photo, error) {
	ctx, stop := context.WithTimeout(ctx, readingTime)
	defer stop()
	select {
	case in.readers <- struct{}{}:
		defer func() { <-in.readers }()
	case <-ctx.Done():
		return nil, errBusy
	}
	p, err := readPhoto(ctx, source)
	if errors.Is(err, context.DeadlineExceeded) {
		return nil, errors.New("reading the photo took too long: save it smaller")
	}
	if err == nil {
		go makeStrips(p.parts)
	}
	return p, err
}

// file is a photo file that came in; it is decoded apart.
func (s *Server) file(name string, data []byte) photoread.Source {
	source := photoread.Stream(name, bytes.NewReader(data))
	source.Open = s.decoder.Open
	return source
}

// takeIn reads a photo that a page sends and lays it on the tray.
func (s *Server) takeIn(w http.ResponseWriter, r *http.Request) {
	begun := time.Now()
	leave, err := s.intake.enter(begun)
	if err != nil {
		s.log.Info("photo", "outcome", "put off")
		refuse(w, http.StatusTooManyRequests, err.Error())
		return
	}
	defer leave()
	name := plainName(r.URL.Query().Get("name"))
	out := http.NewResponseController(w)
	out.SetReadDeadline(time.Now().Add(uploadTime))
	out.SetWriteDeadline(time.Now().Add(uploadTime + readingTime))
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostUpload))
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		s.log.Info("photo", "outcome", "too large")
		refuse(w, http.StatusRequestEntityTooLarge, fmt.Sprintf("%s: the file is larger than %d MB: save the photo smaller", name, mostUpload>>20))
		return
	case err != nil:
		s.log.Info("photo", "outcome", "not whole")
		refuse(w, http.StatusBadRequest, name+": the photo did not arrive whole: send it again")
		return
	}
	p, err := s.intake.read(r.Context(), s.file(name, data))
	if err == nil {
		err = s.tray.add(p)
	}
	if err != nil {
		s.log.Info("photo", "outcome", "refused", "bytes", len(data), "took", time.Since(begun))
		fail(w, fmt.Errorf("%s: %w", name, err))
		return
	}
	s.log.Info("photo", "outcome", "read", "bytes", len(data), "width", p.width, "height", p.height, "parts", len(p.parts), "took", time.Since(begun))
	answer(w, struct {
		ID    int `json:"id"`
		Parts int `json:"parts"`
	}{p.id, len(p.parts)})
}
