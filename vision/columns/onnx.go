package columns

import (
	"encoding/binary"
	"fmt"
	"math"

	"google.golang.org/protobuf/encoding/protowire"
)

// The names of the network's inputs in its ONNX form.
const (
	featuresInput = "features"
	pixelsInput   = "pixels"
)

// onnx is the network for one strip in the format of ONNX, the Open Neural
// Network Exchange (onnx.proto3, whose field numbers stand below; operators of
// version 13). In come the strip's features and its pixels, out come the
// classes' scores, all with the channels first.
func (n *Net) onnx() []byte {
	g := &graph{}
	g.field(11, value(featuresInput, Features, 1))
	x := g.convolution(featuresInput, n.Stem)
	if n.Pixels {
		g.field(11, value(pixelsInput, 3, Rows))
		x = g.node("Add", x, g.tower(n.Tower))
	}
	for i, block := range n.Blocks {
		x = g.node("Add", x, g.convolution(g.node("Relu", x), block))
		if i == ContextAfter {
			// A mean over as many columns on either side as there are is one
			// over the whole strip, at each column.
			const side = Columns - 1
			mean := g.nodeWith("AveragePool", []string{g.node("Relu", x)},
				integers("kernel_shape", 1, 2*side+1), integers("pads", 0, side, 0, side))
			x = g.node("Add", x, g.convolution(mean, n.Context))
		}
	}
	scores := g.convolution(g.node("Relu", x), n.Last)
	g.field(12, value(scores, Classes, 1))
	g.text = text(g.text, 2, "columns")

	model := integer(nil, 1, 7) // the version of the format
	model = message(model, 7, g.text)
	return message(model, 8, integer(text(nil, 1, ""), 2, 13)) // the version of the operators
}

func (g *graph) tower(layers []*Layer) string {
	y := pixelsInput
	for i, l := range layers {
		if i > 0 {
			y = g.node("Relu", y)
		}
		y = g.convolution(y, l)
	}
	return y
}

// A graph is ONNX text to which nodes are added.
type graph struct {
	text  []byte
	names int
}

func (g *graph) field(number protowire.Number, v []byte) { g.text = message(g.text, number, v) }

func (g *graph) name() string {
	g.names++
	return fmt.Sprint("x", g.names)
}

// node adds an operator and returns the name of what comes out of it.
func (g *graph) node(operator string, in ...string) string { return g.nodeWith(operator, in) }

func (g *graph) nodeWith(operator string, in []string, attributes ...[]byte) string {
	out := g.name()
	var n []byte
	for _, i := range in {
		n = text(n, 1, i)
	}
	n = text(text(text(n, 2, out), 3, "to-"+out), 4, operator)
	for _, a := range attributes {
		n = message(n, 5, a)
	}
	g.field(1, n)
	return out
}

func (g *graph) convolution(in string, l *Layer) string {
	weights := make([]float32, 0, len(l.Weights))
	for o := range l.Out {
		for i := range l.In {
			for tap := range l.Rows * l.Taps {
				weights = append(weights, l.Weights[(tap*l.In+i)*l.Out+o])
			}
		}
	}
	side := l.Taps / 2 * l.Dilation
	return g.nodeWith("Conv", []string{in, g.tensor(weights, l.Out, l.In, l.Rows, l.Taps), g.tensor(l.Bias, l.Out)},
		integers("kernel_shape", l.Rows, l.Taps), integers("strides", l.Stride, 1),
		integers("dilations", 1, l.Dilation), integers("pads", l.Pad, side, l.Pad, side))
}

// tensor adds constants and returns their name.
func (g *graph) tensor(data []float32, sizes ...int) string {
	const float = 1
	name := g.name()
	var t []byte
	for _, s := range sizes {
		t = integer(t, 1, s)
	}
	raw := make([]byte, 0, 4*len(data))
	for _, v := range data {
		raw = binary.LittleEndian.AppendUint32(raw, math.Float32bits(v))
	}
	g.field(5, message(text(integer(t, 2, float), 8, name), 9, raw))
	return name
}

// value describes an input or an output.
func value(name string, channels, rows int) []byte {
	const float = 1
	var shape []byte
	for _, size := range []int{1, channels, rows, Columns} {
		shape = message(shape, 1, integer(nil, 1, size))
	}
	tensor := message(integer(nil, 1, float), 2, shape)
	return message(text(nil, 1, name), 2, message(nil, 1, tensor))
}

// integers is an attribute of a node.
func integers(name string, values ...int) []byte {
	const ints = 7
	a := text(nil, 1, name)
	for _, v := range values {
		a = integer(a, 8, v)
	}
	return integer(a, 20, ints)
}

func integer(to []byte, field protowire.Number, v int) []byte {
	return protowire.AppendVarint(protowire.AppendTag(to, field, protowire.VarintType), uint64(v))
}

func text(to []byte, field protowire.Number, v string) []byte {
	return message(to, field, []byte(v))
}

func message(to []byte, field protowire.Number, v []byte) []byte {
	return protowire.AppendBytes(protowire.AppendTag(to, field, protowire.BytesType), v)
}
