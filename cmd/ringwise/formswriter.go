package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"ringwise/decode/network"
)

// A formsWriter passes text on, and below each line the values that it names for
// the first time, in all their forms. So every value of an answer can be read as
// a marking, as rings and in words, wherever it stands.
type formsWriter struct {
	w    io.Writer
	line []byte // what was written of the last line
	told map[string]bool
}

func withForms(w io.Writer) io.Writer { return &formsWriter{w: w, told: map[string]bool{}} }

// Write passes all of data on at once: a prompt is not held back.
func (f *formsWriter) Write(data []byte) (int, error) {
	written := 0
	for len(data) > 0 {
		end := bytes.IndexByte(data, '\n') + 1
		if end == 0 {
			end = len(data)
		}
		n, err := f.w.Write(data[:end])
		written += n
		if err != nil {
			return written, err
		}
		f.line = append(f.line, data[:end]...)
		if data[end-1] == '\n' {
			if err := f.explain(); err != nil {
				return written, err
			}
		}
		data = data[end:]
	}
	return written, nil
}

// explain tells the forms of what the line names.
func (f *formsWriter) explain() error {
	line := string(f.line)
	f.line = f.line[:0]
	indent := line[:len(line)-len(strings.TrimLeft(line, " "))] + "    "
	for _, v := range network.ValuesIn(line) {
		if f.told[v.String()] {
			continue
		}
		f.told[v.String()] = true
		if _, err := fmt.Fprintf(f.w, "%s%s: %s\n", indent, v, v.Forms()); err != nil {
			return err
		}
	}
	return nil
}
