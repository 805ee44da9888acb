// Package layers holds what the networks of this program are made of: layers with
// their weights, the file these are kept in, and the way to have a network run by
// OpenCV. What each network looks like is said where it is used.
package layers

import (
	"math"
	"math/rand/v2"
)

// A Layer is a convolution: each output is a weighted sum of the inputs at some
// places around it, and a bias.
type Layer struct {
	In, Out           int       // channels
	Taps, Dilation    int       // columns seen, and the distance between them; at the sides nothing is seen
	Step              int       // columns from one output to the next
	Rows, Stride, Pad int       // rows seen, those from one output to the next, and those of nothing beyond either side
	Weights           []float32 // by row, column, input and output
	Bias              []float32 // none where outputs are spread
}

// Along is a layer along strips of one row.
func Along(in, out, taps, dilation int) *Layer {
	l := Over(in, out, taps, 1, 1, 0)
	l.Dilation = dilation
	return l
}

// Over is a layer over rows and columns, with as many columns of outputs as of
// inputs.
func Over(in, out, taps, rows, stride, pad int) *Layer {
	return &Layer{In: in, Out: out, Taps: taps, Dilation: 1, Step: 1, Rows: rows, Stride: stride, Pad: pad,
		Weights: make([]float32, rows*taps*in*out), Bias: make([]float32, out)}
}

// Around is a layer that sees the same number of rows and of columns, an odd one,
// around every stride-th of both.
func Around(in, out, side, stride int) *Layer {
	l := Over(in, out, side, side, stride, side/2)
	l.Step = stride
	return l
}

// Spreading is a layer that sees one place, the outputs of which are spread over two
// rows and two columns: a quarter of them for each, row by row.
func Spreading(in, out int) *Layer {
	l := Around(in, 4*out, 1, 1)
	l.Bias = nil
	return l
}

// Draw draws weights at random, so that outputs spread about as much as inputs
// times gain.
func (l *Layer) Draw(gain float64, chance *rand.Rand) {
	spread := gain * math.Sqrt(2*float64(l.Out)/float64(len(l.Weights)))
	for i := range l.Weights {
		l.Weights[i] = float32(chance.NormFloat64() * spread)
	}
}

// Weights returns the weights of layers, layer by layer, to be read or changed.
func Weights(of []*Layer) [][]float32 {
	var out [][]float32
	for _, l := range of {
		out = append(out, l.Weights)
		if l.Bias != nil {
			out = append(out, l.Bias)
		}
	}
	return out
}
