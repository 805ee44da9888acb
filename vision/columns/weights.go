package columns

import (
	"bytes"
	_ "embed"
	"encoding/binary"
	"fmt"
	"io"
	"sync"
)

//go:embed weights.bin
var weights []byte

// Taught returns the network with the weights it was taught.
var Taught = sync.OnceValue(func() *Net {
	n, err := Read(bytes.NewReader(weights))
	if err != nil {
		panic(err) // the file is part of the program
	}
	return n
})

// magic starts a file of weights; it ends in the number of the network's
// layout.
const magic = "ringwise columns 2\n"

// Write writes the network's weights: a first line, then 32-bit floats, least
// byte first, in the order of Weights.
func (n *Net) Write(w io.Writer) error {
	if _, err := io.WriteString(w, magic); err != nil {
		return err
	}
	for _, weights := range n.Weights() {
		if err := binary.Write(w, binary.LittleEndian, weights); err != nil {
			return err
		}
	}
	return nil
}

// Read reads weights written by Write.
func Read(r io.Reader) (*Net, error) {
	first := make([]byte, len(magic))
	if _, err := io.ReadFull(r, first); err != nil || string(first) != magic {
		return nil, fmt.Errorf("not the weights of this network: they start with %q, not %q; make them anew with vision/learn", first, magic)
	}
	n := New(nil)
	for _, weights := range n.Weights() {
		if err := binary.Read(r, binary.LittleEndian, weights); err != nil {
			return nil, fmt.Errorf("weights end too early: %w; make them anew with vision/learn", err)
		}
	}
	return n, nil
}
