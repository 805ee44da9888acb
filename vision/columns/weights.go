package columns

import (
	"bytes"
	_ "embed"
	"io"

	"ringwise/vision/layers"
)

//go:embed glance.bin
var glanceWeights []byte

//go:embed reading.bin
var readingWeights []byte

//go:embed edges.bin
var edgeWeights []byte

//go:embed cover.bin
var coverWeights []byte

// Taught returns the network of a shape with the weights it was taught.
func Taught(shape Shape) *Net {
	n, err := Read(shape, bytes.NewReader(shape.taught))
	if err != nil {
		panic(err) // the file is part of the program
	}
	return n
}

// first is the first line of a file of weights; it ends in the number of the
// network's layout.
func (s Shape) first() string { return "ringwise columns " + s.layout }

// Write writes the network's weights.
func (n *Net) Write(w io.Writer) error { return layers.Write(w, n.first(), n.Weights()) }

// Read reads weights written by Write of a network of that shape.
func Read(shape Shape, r io.Reader) (*Net, error) {
	n := New(shape, nil)
	return n, layers.Read(r, shape.first(), n.Weights())
}
