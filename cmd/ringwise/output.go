package main

import (
	"io"
	"os"
	"sync"
)

// An output is where a command writes what it has to say. It keeps the first
// failure, so that commands may write line by line and the program ends as failed
// where something was lost all the same.
type output struct {
	w io.Writer

	mu  sync.Mutex // the bench writes while it serves
	err error
}

// Write passes text on, and nothing any more after a failure: what follows a gap
// would mislead.
func (o *output) Write(text []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.w.Write(text)
	o.err = err
	return n, err
}

// failure is the first failure, if there was one.
func (o *output) failure() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.err
}

// Fd is the file behind it, by which a terminal is known; as that of a nil file,
// if there is none.
func (o *output) Fd() uintptr {
	f, _ := o.w.(*os.File)
	return f.Fd()
}
