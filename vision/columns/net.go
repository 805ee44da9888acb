package columns

import (
	"math/rand/v2"

	"ringwise/decode"
	"ringwise/vision/layers"
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

// A Shape is the size of a network.
type Shape struct {
	Channels  int    // how much is known of each column
	Dilations []int  // of the blocks
	Tower     []int  // how much is known of each row of pixels, by layer, where there is a tower
	Outputs   int    // how much is said of each column
	layout    string // of its file of weights
	taught    []byte // the file that comes with the program
}

// Glancing is the shape of the network for a first glance at many places, Reading
// that of the one for a closer look, which costs several times as much; both tell
// the scores of the classes. Edging is that of the one that tells a body's edges,
// Covering of the one that tells whether something lies over it.
var (
	Glancing = Shape{48, []int{1, 2, 4, 8, 16, 1}, nil, Classes, "1", glanceWeights}
	Reading  = Shape{96, []int{1, 2, 4, 8, 16, 32, 64, 1, 2, 1}, []int{16, 24, 32}, Classes, "3", readingWeights}
	Edging   = Shape{32, []int{1, 4, 16, 1}, []int{8, 12, 16}, Sides, "edges 1", edgeWeights}
	Covering = Shape{32, []int{1, 4, 16, 1}, []int{8, 12, 16}, Covers, "cover 1", coverWeights}
)

// A Net is a network. The stem takes what is summed up of each column by rule,
// the tower, where there is one, its pixels with those around them; what they say
// is added up. Blocks add to what is known of a column what they see farther and
// farther around it, after block ContextAfter comes a mean over the whole strip,
// and the last layer gives what is said of each column. Before all layers but the first
// ones negative values are made nothing.
type Net struct {
	Shape
	Stem    *layers.Layer
	Tower   []*layers.Layer
	Blocks  []*layers.Layer
	Context *layers.Layer
	Last    *layers.Layer
}

// ContextAfter is the block after which each column learns what the whole strip
// looks like.
const ContextAfter = 3

// New returns a network with weights drawn at random, or all zero where there
// is no chance.
func New(shape Shape, chance *rand.Rand) *Net {
	c := shape.Channels
	n := &Net{Shape: shape, Stem: layers.Along(Features, c, 5, 1), Context: layers.Along(c, c, 1, 1), Last: layers.Along(c, shape.Outputs, 1, 1)}
	if t := shape.Tower; t != nil {
		n.Tower = []*layers.Layer{ // 44 rows, then 22, 11, 6 and 1
			layers.Over(3, t[0], 5, 4, 2, 1),
			layers.Over(t[0], t[1], 3, 4, 2, 1),
			layers.Over(t[1], t[2], 3, 3, 2, 1),
			layers.Over(t[2], c, 1, 6, 1, 0),
		}
	}
	for _, d := range shape.Dilations {
		n.Blocks = append(n.Blocks, layers.Along(c, c, 3, d))
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
		l.Draw(gain, chance)
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
func (n *Net) Layers() []*layers.Layer {
	out := append([]*layers.Layer{n.Stem}, n.Tower...)
	return append(append(out, n.Blocks...), n.Context, n.Last)
}

// Weights returns the network's weights, layer by layer, to be read or
// changed.
func (n *Net) Weights() [][]float32 { return layers.Weights(n.Layers()) }

// graph is the network for one strip: in come the strip's features and its
// pixels, out comes what is said of each column.
func (n *Net) graph() []byte {
	g := &layers.Graph{}
	x := g.Through(g.In(featuresInput, Features, 1, Columns), n.Stem)
	if n.Tower != nil {
		y := g.In(pixelsInput, 3, Rows, Columns)
		for i, l := range n.Tower {
			if i > 0 {
				y = g.Rectified(y)
			}
			y = g.Through(y, l)
		}
		x = g.Add(x, y)
	}
	for i, block := range n.Blocks {
		x = g.Add(x, g.Through(g.Rectified(x), block))
		if i == ContextAfter {
			x = g.Add(x, g.Through(g.Mean(g.Rectified(x)), n.Context))
		}
	}
	g.Out(g.Through(g.Rectified(x), n.Last), n.Outputs, 1, Columns)
	return g.Text()
}
