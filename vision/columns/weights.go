package columns

import (
	"bytes"
	_ "embed"
	"encoding/binary"
	"fmt"
	"io"
)

//go:embed glance.bin
var glanceWeights []byte

//go:embed reading.bin
var readingWeights []byte

// Taught returns the network of a shape with the weights it was taught.
func Taught(shape Shape) *Net {
	n, err := Read(shape, bytes.NewReader(shape.taught))
	if err != nil {
		panic(err) // the file is part of the program
	}
	return n
}

// magic starts a file of weights; it ends in the number of the network's
// layout.
func (s Shape) magic() string { return "ringwise columns " + s.layout + "\n" }

// Write writes the network's weights: a first line, then 32-bit floats, least
// byte first, in the order of Weights.
func (n *Net) Write(w io.Writer) error {
	if _, err := io.WriteString(w, n.magic()); err != nil {
		return err
	}
	for _, weights := range n.Weights() {
		if err := binary.Write(w, binary.LittleEndian, weights); err != nil {
			return err
		}
	}
	return nil
}

// Read reads weights written by Write of a network of that shape.
func Read(shape Shape, r io.Reader) (*Net, error) {
	magic := shape.magic()
	first := make([]byte, len(magic))
	if _, err := io.ReadFull(r, first); err != nil || string(first) != magic {
		return nil, fmt.Errorf("not the weights of this network: they start with %q, not %q; make them anew with vision/learn", first, magic)
	}
	n := New(shape, nil)
	for _, weights := range n.Weights() {
		if err := binary.Read(r, binary.LittleEndian, weights); err != nil {
			return nil, fmt.Errorf("weights end too early: %w; make them anew with vision/learn", err)
		}
	}
	return n, nil
}
