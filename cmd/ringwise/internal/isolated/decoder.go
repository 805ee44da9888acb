// Package isolated decodes pictures, and looks through cameras, in processes of
// their own, so that a file or a stream that breaks the decoder, or is made to,
// ends that process and nothing else. Such a process is this same program,
// started for one picture or one camera, within limits on memory and time. It
// hands over pixels in memory that both share.
package isolated

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"ringwise/vision"
)

// longest is the time that one picture may take, start of the process
// included. The largest picture that vision opens takes some seconds.
const longest = 40 * time.Second

// A Decoder opens photos, each in a process of its own. Its methods may be
// called from any goroutine.
type Decoder struct {
	word    string // which the program is started with
	longest time.Duration
	mu      sync.Mutex
	keep    bool
	ready   *process // started ahead, nil if there is none
}

// NewDecoder returns a decoder that starts a process when there is a photo.
func NewDecoder() *Decoder { return &Decoder{word: decodeWord, longest: longest} }

// Open does what vision.Open does, with the same errors, in a process of its
// own. If that process breaks, runs out of memory or takes too long, the error
// says so in one line, and the next call starts a fresh one.
func Open(ctx context.Context, data []byte) (*vision.Photo, error) {
	return NewDecoder().Open(ctx, data)
}

// errBroken is what a file that ends its process is answered with.
var errBroken = errors.New("the photo broke the picture decoder, or is too large for it: open it in a picture viewer and save it as a plain JPEG")

// Open does what the package's Open does.
func (d *Decoder) Open(ctx context.Context, data []byte) (*vision.Photo, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	defer d.prepare()
	p := d.take()
	if p == nil {
		var err error
		if p, err = start(d.word); err != nil {
			return nil, fmt.Errorf("the picture decoder cannot be started: %w", err)
		}
	}
	return d.decode(ctx, p, data)
}

// decode has a process decode one picture, which is all that it ever does.
func (d *Decoder) decode(ctx context.Context, p *process, data []byte) (*vision.Photo, error) {
	defer p.close()
	limited, stop := context.WithTimeout(ctx, d.longest)
	defer stop()
	defer context.AfterFunc(limited, p.kill)()
	go func() {
		p.ask.Write(data)
		p.ask.Close()
	}()
	a := receive(p.answers, p.memory.bytes())
	if a.photo == nil && a.refused == nil {
		p.kill() // what it says is no answer, so it need not go on
	}
	<-p.ended
	var err error
	switch {
	case ctx.Err() != nil:
		err = ctx.Err()
	case a.refused != nil:
		return nil, a.refused
	case a.photo != nil && p.err == nil:
		return a.photo, nil
	case limited.Err() == context.DeadlineExceeded:
		err = fmt.Errorf("decoding the photo took longer than %v: save it smaller, as a plain JPEG", d.longest)
	default:
		err = errBroken
	}
	if a.photo != nil {
		a.photo.Close()
	}
	return nil, err
}

// KeepReady keeps the process for the next photo started ahead, until Close:
// the start is most of the time that opening a photo takes. Still no process
// ever decodes two, so that none can change what is seen of another.
func (d *Decoder) KeepReady() {
	d.mu.Lock()
	d.keep = true
	d.mu.Unlock()
	d.prepare()
}

// take takes the process that is ready, nil if there is none. One that ended
// while it waited does not count: no picture is to blame for that.
func (d *Decoder) take() *process {
	d.mu.Lock()
	p := d.ready
	d.ready = nil
	d.mu.Unlock()
	if p != nil && !p.alive() {
		p.close()
		return nil
	}
	return p
}

// prepare starts the process for the next picture, if one is kept ready. Where
// that cannot be, Open tries again, and says why.
func (d *Decoder) prepare() {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.ready != nil || !d.keep {
		return
	}
	if p, err := start(d.word); err == nil {
		d.ready = p
	}
}

// Close ends the process that waits. Open works as before, without one ahead.
func (d *Decoder) Close() {
	d.mu.Lock()
	d.keep = false
	d.mu.Unlock()
	if p := d.take(); p != nil {
		p.close()
	}
}
