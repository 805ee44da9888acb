package main

import (
	"ringwise/vision/layers"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas32"
)

// A layer is a layer of the network with the way of a strip through it and back.
// Rows of matrices are places, row by row and in each column by column; their
// columns are channels.
type layer struct{ *layers.Layer }

// A grid is how many rows and columns a strip has at a layer.
type grid struct{ rows, columns int }

func (g grid) places() int { return g.rows * g.columns }

// after is the grid of the outputs.
func (l layer) after(g grid) grid {
	return grid{(g.rows+2*l.Pad-l.Rows)/l.Stride + 1, (g.columns-1)/l.Step + 1}
}

// part is some rows of a matrix with so many columns.
func part(data []float32, first, rows, columns int) blas32.General {
	return blas32.General{Rows: rows, Cols: columns, Stride: columns, Data: data[first*columns:][:rows*columns]}
}

// weights is the weights of some taps.
func (l layer) weights(tap, taps int) blas32.General {
	return part(l.Weights, tap*l.In, taps*l.In, l.Out)
}

// stretches calls each with every stretch of outputs, and the inputs that they
// see at a tap: how many, the first of either, and the tap. From one input to the
// next it is a step. Beyond the ends of the strip there is nothing.
func (l layer) stretches(g grid, each func(n, to, from, tap int)) {
	after := l.after(g)
	for row := range after.rows {
		for d := range l.Rows {
			seen := row*l.Stride + d - l.Pad
			if seen < 0 || seen >= g.rows {
				continue
			}
			for t := range l.Taps {
				shift := (t - l.Taps/2) * l.Dilation
				first, end := max(0, (l.Step-1-shift)/l.Step), min(after.columns, (g.columns-1-shift)/l.Step+1)
				if first < end {
					each(end-first, row*after.columns+first, seen*g.columns+first*l.Step+shift, d*l.Taps+t)
				}
			}
		}
	}
}

// gather lays the inputs that each output sees side by side.
func (l layer) gather(m *scratch, x blas32.General, g grid) blas32.General {
	out := m.matrix(l.after(g).places(), l.Rows*l.Taps*l.In)
	l.stretches(g, func(n, to, from, tap int) {
		for i := range n {
			copy(out.Data[(to+i)*out.Cols+tap*l.In:][:l.In], x.Data[(from+i*l.Step)*l.In:])
		}
	})
	return out
}

// scatter is gather backwards: it adds up what went out.
func (l layer) scatter(m *scratch, d blas32.General, g grid) blas32.General {
	out := m.matrix(g.places(), l.In)
	l.stretches(g, func(n, to, from, tap int) {
		for i := range n {
			sum := out.Data[(from+i*l.Step)*l.In:][:l.In]
			for k, v := range d.Data[(to+i)*d.Cols+tap*l.In:][:l.In] {
				sum[k] += v
			}
		}
	})
	return out
}

// forward returns the layer's output, and the input as backward wants it. Where
// few channels come from several rows, products of gathered inputs are quicker.
func (l layer) forward(m *scratch, x blas32.General, g grid) (y, seen blas32.General) {
	y = m.matrix(l.after(g).places(), l.Out)
	for i := range y.Rows {
		copy(y.Data[i*l.Out:], l.Bias)
	}
	if l.Rows > 1 {
		seen = l.gather(m, x, g)
		blas32.Gemm(blas.NoTrans, blas.NoTrans, 1, seen, l.weights(0, l.Rows*l.Taps), 1, y)
		return y, seen
	}
	l.stretches(g, func(n, to, from, tap int) {
		blas32.Gemm(blas.NoTrans, blas.NoTrans, 1, part(x.Data, from, n, l.In), l.weights(tap, 1), 1, part(y.Data, to, n, l.Out))
	})
	return y, x
}

// backward adds to the slopes of the layer's weights and returns the slope of
// its input, given the slope of its output.
func (l layer) backward(m *scratch, dy, seen blas32.General, slope layer, g grid) blas32.General {
	for i := range dy.Rows {
		row := dy.Data[i*l.Out:]
		for k := range slope.Bias {
			slope.Bias[k] += row[k]
		}
	}
	if taps := l.Rows * l.Taps; l.Rows > 1 {
		blas32.Gemm(blas.Trans, blas.NoTrans, 1, seen, dy, 1, slope.weights(0, taps))
		d := m.unset(seen.Rows, seen.Cols)
		blas32.Gemm(blas.NoTrans, blas.Trans, 1, dy, l.weights(0, taps), 0, d)
		return l.scatter(m, d, g)
	}
	d := m.matrix(seen.Rows, seen.Cols)
	l.stretches(g, func(n, to, from, tap int) {
		out := part(dy.Data, to, n, l.Out)
		blas32.Gemm(blas.Trans, blas.NoTrans, 1, part(seen.Data, from, n, l.In), out, 1, slope.weights(tap, 1))
		blas32.Gemm(blas.NoTrans, blas.Trans, 1, out, l.weights(tap, 1), 1, part(d.Data, from, n, l.In))
	})
	return d
}

// rectified is a copy without the negative values.
func rectified(m *scratch, x blas32.General) blas32.General {
	out := m.unset(x.Rows, x.Cols)
	for i, v := range x.Data {
		out.Data[i] = max(v, 0)
	}
	return out
}

// mask clears the slopes where the rectified value was nothing.
func mask(d, rectified blas32.General) {
	for i, v := range rectified.Data {
		if v <= 0 {
			d.Data[i] = 0
		}
	}
}

func add(to, x blas32.General) {
	for i, v := range x.Data {
		to.Data[i] += v
	}
}
