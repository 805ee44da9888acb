package columns

import (
	"math"
	"math/rand/v2"

	"ringwise/decode"
)

// A Class is what a column may show.
type Class = int

// The classes: outside the body, bare body, and from Ring on a ring of each
// decode.Colour.
const (
	Outside Class = iota
	Body
	Ring
	Classes = Ring + int(decode.ColourCount)
)

// A Layer is a convolution: each output is a weighted sum of the inputs at some
// places around it, and a bias.
type Layer struct {
	In, Out           int       // channels
	Taps, Dilation    int       // columns seen, and the distance between them
	Rows, Stride, Pad int       // rows seen, those from one output to the next, and those of nothing beyond either side
	Weights           []float32 // by row, column, input and output
	Bias              []float32
}

// along is a layer along strips of one row.
func along(in, out, taps, dilation int) *Layer {
	l := over(in, out, taps, 1, 1, 0)
	l.Dilation = dilation
	return l
}

// over is a layer over rows and columns.
func over(in, out, taps, rows, stride, pad int) *Layer {
	return &Layer{In: in, Out: out, Taps: taps, Dilation: 1, Rows: rows, Stride: stride, Pad: pad,
		Weights: make([]float32, rows*taps*in*out), Bias: make([]float32, out)}
}

// draw draws weights at random, so that outputs spread about as much as inputs
// times gain.
func (l *Layer) draw(gain float64, chance *rand.Rand) {
	spread := gain * math.Sqrt(2*float64(l.Out)/float64(len(l.Weights)))
	for i := range l.Weights {
		l.Weights[i] = float32(chance.NormFloat64() * spread)
	}
}

// A Shape is the size of a network.
type Shape struct {
	Channels  int    // how much is known of each column
	Dilations []int  // of the blocks
	Pixels    bool   // whether a tower sees them
	layout    string // of its file of weights
	taught    []byte // the file that comes with the program
}

// Glancing is the shape of the network for a first glance at many places, Reading
// that of the one for a closer look, which costs several times as much.
var (
	Glancing = Shape{48, []int{1, 2, 4, 8, 16, 1}, false, "1", glanceWeights}
	Reading  = Shape{96, []int{1, 2, 4, 8, 16, 1, 2, 1}, true, "2", readingWeights}
)

// A Net is a network. The stem takes what is summed up of each column by rule,
// the tower, where there is one, its pixels with those around them; what they say
// is added up. Blocks add to what is known of a column what they see farther and
// farther around it, after block ContextAfter comes a mean over the whole strip,
// and the last layer gives the classes' scores. Before all layers but the first
// ones negative values are made nothing.
type Net struct {
	Shape
	Stem    *Layer
	Tower   []*Layer
	Blocks  []*Layer
	Context *Layer
	Last    *Layer
}

// ContextAfter is the block after which each column learns what the whole strip
// looks like.
const ContextAfter = 3

// New returns a network with weights drawn at random, or all zero where there
// is no chance.
func New(shape Shape, chance *rand.Rand) *Net {
	c := shape.Channels
	n := &Net{Shape: shape, Stem: along(Features, c, 5, 1), Context: along(c, c, 1, 1), Last: along(c, Classes, 1, 1)}
	if shape.Pixels {
		n.Tower = []*Layer{ // 44 rows, then 22, 11, 6 and 1
			over(3, 16, 5, 4, 2, 1),
			over(16, 24, 3, 4, 2, 1),
			over(24, 32, 3, 3, 2, 1),
			over(32, c, 1, 6, 1, 0),
		}
	}
	for _, d := range shape.Dilations {
		n.Blocks = append(n.Blocks, along(c, c, 3, d))
	}
	if chance == nil {
		return n
	}
	first := 1 + len(n.Tower)
	for i, l := range n.Layers() {
		gain := 0.5
		if i < first {
			gain = 1
		}
		l.draw(gain, chance)
	}
	return n
}

// Clone returns a copy that shares nothing.
func (n *Net) Clone() *Net {
	out := New(n.Shape, nil)
	for i, weights := range n.Weights() {
		copy(out.Weights()[i], weights)
	}
	return out
}

// Layers returns all layers, in the order of the file of weights.
func (n *Net) Layers() []*Layer {
	out := append([]*Layer{n.Stem}, n.Tower...)
	return append(append(out, n.Blocks...), n.Context, n.Last)
}

// Weights returns the network's weights, layer by layer, to be read or
// changed.
func (n *Net) Weights() [][]float32 {
	var out [][]float32
	for _, l := range n.Layers() {
		out = append(out, l.Weights, l.Bias)
	}
	return out
}
