package layers

import (
	"encoding/binary"
	"fmt"
	"math"

	"google.golang.org/protobuf/encoding/protowire"
)

// A Graph is a network in the making, in the format of ONNX, the Open Neural
// Network Exchange (onnx.proto3, whose field numbers stand below; operators of
// version 13). Values go by their names and have the channels first.
type Graph struct {
	text  []byte
	names int
}

// Text is the finished network.
func (g *Graph) Text() []byte {
	model := integer(nil, 1, 7) // the version of the format
	model = message(model, 7, text(g.text, 2, "network"))
	return message(model, 8, integer(text(nil, 1, ""), 2, 13)) // the version of the operators
}

// In adds an input and returns its name, which is the one given.
func (g *Graph) In(name string, channels, rows, columns int) string {
	g.field(11, value(name, channels, rows, columns))
	return name
}

// Out makes a value the output.
func (g *Graph) Out(name string, channels, rows, columns int) {
	g.field(12, value(name, channels, rows, columns))
}

// Add is the sum of values. A second one of a single place is added to every place.
func (g *Graph) Add(a, b string) string { return g.node("Add", []string{a, b}) }

// Rectified is a value with what is negative made nothing.
func (g *Graph) Rectified(a string) string { return g.node("Relu", []string{a}) }

// Mean is the mean over all places, as a single place.
func (g *Graph) Mean(a string) string { return g.node("GlobalAveragePool", []string{a}) }

// Through is what comes out of a layer.
func (g *Graph) Through(a string, l *Layer) string {
	weights := make([]float32, 0, len(l.Weights))
	for o := range l.Out {
		for i := range l.In {
			for tap := range l.Rows * l.Taps {
				weights = append(weights, l.Weights[(tap*l.In+i)*l.Out+o])
			}
		}
	}
	side := l.Taps / 2 * l.Dilation
	return g.node("Conv", []string{a, g.tensor(weights, l.Out, l.In, l.Rows, l.Taps), g.tensor(l.Bias, l.Out)},
		integers("kernel_shape", l.Rows, l.Taps), integers("strides", l.Stride, l.Step),
		integers("dilations", 1, l.Dilation), integers("pads", l.Pad, side, l.Pad, side))
}

// Spread is what comes out of a spreading layer, spread.
func (g *Graph) Spread(a string, l *Layer) string {
	channels := l.Out / 4
	weights := make([]float32, 0, len(l.Weights))
	for i := range l.In {
		for o := range channels {
			for corner := range 4 {
				weights = append(weights, l.Weights[i*l.Out+corner*channels+o])
			}
		}
	}
	return g.node("ConvTranspose", []string{a, g.tensor(weights, l.In, channels, 2, 2)},
		integers("kernel_shape", 2, 2), integers("strides", 2, 2))
}

func (g *Graph) field(number protowire.Number, v []byte) { g.text = message(g.text, number, v) }

func (g *Graph) name() string {
	g.names++
	return fmt.Sprint("x", g.names)
}

// node adds an operator and returns the name of what comes out of it.
func (g *Graph) node(operator string, in []string, attributes ...[]byte) string {
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

// tensor adds constants and returns their name.
func (g *Graph) tensor(data []float32, sizes ...int) string {
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
func value(name string, channels, rows, columns int) []byte {
	const float = 1
	var shape []byte
	for _, size := range []int{1, channels, rows, columns} {
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
