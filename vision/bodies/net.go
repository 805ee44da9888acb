// Package bodies says where in a photo resistors' bodies may lie, by a
// convolutional network taught on scenes whose truth is known. It is quick and not
// exact: what it hints at wants a closer look.
package bodies

import (
	"bytes"
	_ "embed"
	"io"
	"math/rand/v2"

	"ringwise/vision/layers"
)

// Cell is the side, in pixels of the network's view, of the places for each of
// which the network says whether the middle of a body lies there. The sides of
// what it sees are multiples of Multiple.
const (
	Cell     = 4
	Multiple = 32
)

// What the network says of each cell.
const (
	Middle = iota // how surely a body's middle lies there, as log odds
	Right         // from the middle of the cell to that of the body, in cells
	Down
	Cosine // of twice the angle of the body's axis
	Sine
	Half // the logarithm of the body's half length, in cells
	Rise // and of its half width
	Bare // how surely the middle of a resistor lies there that wears no rings, as log odds
	Outputs
)

// A Net is a network. Levels see the photo ever more coarsely, each half as finely
// as the one before, the first of them with a place for each cell. What is known
// of a place goes down through the levels and up again, and is added to on the
// way. Before all layers but the first negative values are made nothing.
type Net struct {
	First  *layers.Layer // of the view, for every other of its pixels
	Levels []Level
	Last   *layers.Layer
}

// A Level is what is seen at one fineness.
type Level struct {
	From *layers.Layer   // from the finer level
	Down []*layers.Layer // what is added on the way down
	Up   []*layers.Layer // and on the way up
	To   *layers.Layer   // back to the finer level, but at the first
}

// New returns a network with weights drawn at random, or all zero where there is
// no chance.
func New(chance *rand.Rand) *Net {
	const first = 16
	n := &Net{First: layers.Around(3, first, 3, 2)}
	finer := first
	for i, l := range [...]struct{ channels, down, up int }{{32, 1, 1}, {48, 1, 1}, {64, 2, 1}, {64, 2, 0}} {
		level := Level{From: layers.Around(finer, l.channels, 3, 2)}
		for range l.down {
			level.Down = append(level.Down, layers.Around(l.channels, l.channels, 3, 1))
		}
		for range l.up {
			level.Up = append(level.Up, layers.Around(l.channels, l.channels, 3, 1))
		}
		if i > 0 {
			level.To = layers.Spreading(l.channels, finer)
		}
		n.Levels = append(n.Levels, level)
		finer = l.channels
	}
	n.Last = layers.Around(n.Levels[0].From.Out, Outputs, 1, 1)
	if chance == nil {
		return n
	}
	for _, l := range n.Layers() {
		l.Draw(0.5, chance)
	}
	n.First.Draw(1, chance)
	for _, l := range n.Levels {
		l.From.Draw(1, chance)
	}
	n.Last.Bias[Middle], n.Last.Bias[Bare] = -5, -5 // hardly any cell is the middle of a body
	return n
}

// Layers returns all layers, in the order of the file of weights.
func (n *Net) Layers() []*layers.Layer {
	out := []*layers.Layer{n.First}
	for _, l := range n.Levels {
		out = append(append(append(out, l.From), l.Down...), l.Up...)
		if l.To != nil {
			out = append(out, l.To)
		}
	}
	return append(out, n.Last)
}

// Weights returns the network's weights, layer by layer, to be read or changed.
func (n *Net) Weights() [][]float32 { return layers.Weights(n.Layers()) }

// graph is the network for a view of a size: in come its colours, out comes what
// is said of each cell.
func (n *Net) graph(rows, columns int) []byte {
	g := &layers.Graph{}
	x := g.Through(g.In(input, 3, rows, columns), n.First)
	add := func(blocks []*layers.Layer) {
		for _, b := range blocks {
			x = g.Add(x, g.Through(g.Rectified(x), b))
		}
	}
	var kept []string
	for _, l := range n.Levels {
		x = g.Through(g.Rectified(x), l.From)
		add(l.Down)
		kept = append(kept, x)
	}
	for i := len(n.Levels) - 1; i >= 0; i-- {
		if i < len(n.Levels)-1 {
			x = g.Add(kept[i], g.Spread(g.Rectified(x), n.Levels[i+1].To))
		}
		add(n.Levels[i].Up)
	}
	said := g.Through(g.Rectified(x), n.Last)
	g.Out(said, Outputs, rows/Cell, columns/Cell)
	return g.Text()
}

const input = "lab"

//go:embed bodies.bin
var taught []byte

const first = "ringwise bodies 2"

// Write writes the network's weights.
func (n *Net) Write(w io.Writer) error { return layers.Write(w, first, n.Weights()) }

// Read reads weights written by Write.
func Read(r io.Reader) (*Net, error) {
	n := New(nil)
	return n, layers.Read(r, first, n.Weights())
}

// Taught returns the network with the weights it was taught.
func Taught() *Net {
	n, err := Read(bytes.NewReader(taught))
	if err != nil {
		panic(err) // the file is part of the program
	}
	return n
}
