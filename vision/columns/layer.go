package columns

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas32"
)

// A layer is a convolution along the strip: each output is a weighted sum of
// the inputs at some columns around it.
type layer struct {
	in, out        int // channels
	taps, dilation int // columns seen, and the distance between them
	weights        blas32.General
	bias           []float32
}

func newLayer(in, out, taps, dilation int, gain float64, chance *rand.Rand) *layer {
	l := &layer{in: in, out: out, taps: taps, dilation: dilation,
		weights: matrix(taps*in, out), bias: make([]float32, out)}
	if chance != nil {
		spread := gain * math.Sqrt(2/float64(taps*in))
		for i := range l.weights.Data {
			l.weights.Data[i] = float32(chance.NormFloat64() * spread)
		}
	}
	return l
}

func matrix(rows, columns int) blas32.General {
	return blas32.General{Rows: rows, Cols: columns, Stride: columns, Data: make([]float32, rows*columns)}
}

// gather lays the inputs that each output column sees side by side. Each
// strip has the given number of columns; beyond its ends there is nothing.
func (l *layer) gather(x blas32.General, length int) blas32.General {
	if l.taps == 1 {
		return x
	}
	out := matrix(x.Rows, l.taps*l.in)
	for i := range x.Rows {
		column := i % length
		for t := range l.taps {
			shift := (t - l.taps/2) * l.dilation
			if column+shift >= 0 && column+shift < length {
				copy(out.Data[i*out.Cols+t*l.in:][:l.in], x.Data[(i+shift)*l.in:][:l.in])
			}
		}
	}
	return out
}

// scatter is gather backwards: it adds up what went out.
func (l *layer) scatter(d blas32.General, length int) blas32.General {
	if l.taps == 1 {
		return d
	}
	out := matrix(d.Rows, l.in)
	for i := range d.Rows {
		column := i % length
		for t := range l.taps {
			shift := (t - l.taps/2) * l.dilation
			if column+shift >= 0 && column+shift < length {
				to := out.Data[(i+shift)*l.in:][:l.in]
				for k, v := range d.Data[i*d.Cols+t*l.in:][:l.in] {
					to[k] += v
				}
			}
		}
	}
	return out
}

// forward returns the layer's output and the gathered input.
func (l *layer) forward(x blas32.General, length int) (y, seen blas32.General) {
	seen = l.gather(x, length)
	y = matrix(x.Rows, l.out)
	for i := range x.Rows {
		copy(y.Data[i*l.out:], l.bias)
	}
	blas32.Gemm(blas.NoTrans, blas.NoTrans, 1, seen, l.weights, 1, y)
	return y, seen
}

// apply is forward for a single strip, into y, without keeping what backward
// needs.
func (l *layer) apply(x, y blas32.General) {
	for i := range x.Rows {
		copy(y.Data[i*l.out:], l.bias)
	}
	for t := range l.taps {
		shift := (t - l.taps/2) * l.dilation
		from, to := max(0, -shift), min(x.Rows, x.Rows-shift) // the columns that have a neighbour there
		if from >= to {
			continue
		}
		rows := to - from
		seen := blas32.General{Rows: rows, Cols: l.in, Stride: l.in, Data: x.Data[(from+shift)*l.in:][:rows*l.in]}
		weights := blas32.General{Rows: l.in, Cols: l.out, Stride: l.out, Data: l.weights.Data[t*l.in*l.out:][:l.in*l.out]}
		sum := blas32.General{Rows: rows, Cols: l.out, Stride: l.out, Data: y.Data[from*l.out:][:rows*l.out]}
		blas32.Gemm(blas.NoTrans, blas.NoTrans, 1, seen, weights, 1, sum)
	}
}

// backward adds to the slopes of the layer's weights and returns the slope of
// its input, given the slope of its output.
func (l *layer) backward(dy, seen blas32.General, slope *layer, length int) blas32.General {
	blas32.Gemm(blas.Trans, blas.NoTrans, 1, seen, dy, 1, slope.weights)
	for i := range dy.Rows {
		for k, v := range dy.Data[i*l.out:][:l.out] {
			slope.bias[k] += v
		}
	}
	d := matrix(dy.Rows, l.taps*l.in)
	blas32.Gemm(blas.NoTrans, blas.Trans, 1, dy, l.weights, 0, d)
	return l.scatter(d, length)
}

// rectified is a copy without the negative values.
func rectified(x blas32.General) blas32.General {
	out := matrix(x.Rows, x.Cols)
	for i, v := range x.Data {
		if v > 0 {
			out.Data[i] = v
		}
	}
	return out
}
