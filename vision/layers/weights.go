package layers

import (
	"encoding/binary"
	"fmt"
	"io"
)

// Write writes weights: a first line, then 32-bit floats, least byte first, in the
// order of Weights.
func Write(w io.Writer, first string, weights [][]float32) error {
	if _, err := io.WriteString(w, first+"\n"); err != nil {
		return err
	}
	for _, part := range weights {
		if err := binary.Write(w, binary.LittleEndian, part); err != nil {
			return err
		}
	}
	return nil
}

// Read reads weights written by Write with the same first line.
func Read(r io.Reader, first string, weights [][]float32) error {
	line := make([]byte, len(first)+1)
	if _, err := io.ReadFull(r, line); err != nil || string(line) != first+"\n" {
		return fmt.Errorf("not the weights of this network: they start with %q, not %q; make them anew with vision/learn", line, first)
	}
	for _, part := range weights {
		if err := binary.Read(r, binary.LittleEndian, part); err != nil {
			return fmt.Errorf("weights end too early: %w; make them anew with vision/learn", err)
		}
	}
	return nil
}
