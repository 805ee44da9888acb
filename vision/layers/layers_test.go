package layers

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// random are values of so many places with so many channels.
func random(chance *rand.Rand, n int) []float32 {
	out := make([]float32, n)
	for i := range out {
		out[i] = float32(chance.NormFloat64())
	}
	return out
}

func drawn(l *Layer, chance *rand.Rand) *Layer {
	l.Draw(1, chance)
	for i := range l.Bias {
		l.Bias[i] = float32(chance.NormFloat64())
	}
	return l
}

// sum is one output of a layer by the definition of a convolution.
func (l *Layer) sum(x []float32, rows, columns, row, column, out int) float64 {
	sum := 0.0
	if l.Bias != nil {
		sum = float64(l.Bias[out])
	}
	for d := range l.Rows {
		for t := range l.Taps {
			r, c := row*l.Stride+d-l.Pad, column*l.Step+(t-l.Taps/2)*l.Dilation
			if r < 0 || c < 0 || r >= rows || c >= columns {
				continue
			}
			for i := range l.In {
				sum += float64(x[(r*columns+c)*l.In+i]) * float64(l.Weights[((d*l.Taps+t)*l.In+i)*l.Out+out])
			}
		}
	}
	return sum
}

// TestThrough checks what OpenCV makes of each kind of layer against the
// definition of a convolution.
func TestThrough(t *testing.T) {
	const rows, columns = 8, 12
	chance := rand.New(rand.NewPCG(1, 1))
	for name, l := range map[string]*Layer{
		"along":          Along(3, 5, 3, 4),
		"over":           Over(3, 4, 5, 4, 2, 1),
		"around":         Around(3, 4, 3, 1),
		"around, coarse": Around(3, 4, 3, 2),
	} {
		drawn(l, chance)
		x := random(chance, rows*columns*l.In)
		outRows, outColumns := (rows+2*l.Pad-l.Rows)/l.Stride+1, (columns-1)/l.Step+1
		network := func() []byte {
			g := &Graph{}
			g.Out(g.Through(g.In("x", l.In, rows, columns), l), l.Out, outRows, outColumns)
			return g.Text()
		}
		NewRunners(network).Use(func(r *Runner) {
			r.Set("x", x, l.In, rows, columns)
			r.Out(func(y []float32) {
				require.Len(t, y, l.Out*outRows*outColumns, name)
				for o := range l.Out {
					for i := range outRows * outColumns {
						want := l.sum(x, rows, columns, i/outColumns, i%outColumns, o)
						require.InDelta(t, want, y[o*outRows*outColumns+i], 1e-4, name)
					}
				}
			})
		})
	}
}

// TestMeanAddedToAll checks that what comes of the mean over all places is added to
// each of them.
func TestMeanAddedToAll(t *testing.T) {
	const rows, columns, channels = 3, 4, 2
	x := random(rand.New(rand.NewPCG(5, 5)), rows*columns*channels)
	NewRunners(func() []byte {
		g := &Graph{}
		in := g.In("x", channels, rows, columns)
		g.Out(g.Add(in, g.Mean(in)), channels, rows, columns)
		return g.Text()
	}).Use(func(r *Runner) {
		r.Set("x", x, channels, rows, columns)
		r.Out(func(y []float32) {
			require.Len(t, y, len(x))
			for k := range channels {
				mean := float32(0)
				for place := range rows * columns {
					mean += x[place*channels+k] / (rows * columns)
				}
				for place := range rows * columns {
					assert.InDelta(t, x[place*channels+k]+mean, y[k*rows*columns+place], 1e-5)
				}
			}
		})
	})
}

// TestSpread checks that each quarter of the outputs comes to lie at its corner.
func TestSpread(t *testing.T) {
	const rows, columns = 3, 4
	chance := rand.New(rand.NewPCG(2, 2))
	l := Spreading(5, 2)
	l.Draw(1, chance)
	x := random(chance, rows*columns*l.In)
	NewRunners(func() []byte {
		g := &Graph{}
		g.Out(g.Spread(g.In("x", l.In, rows, columns), l), l.Out/4, 2*rows, 2*columns)
		return g.Text()
	}).Use(func(r *Runner) {
		r.Set("x", x, l.In, rows, columns)
		r.Out(func(y []float32) {
			require.Len(t, y, rows*columns*l.Out)
			for i := range y {
				o, row, column := i/(4*rows*columns), i/(2*columns)%(2*rows), i%(2*columns)
				corner := row%2*2 + column%2
				require.InDelta(t, l.sum(x, rows, columns, row/2, column/2, corner*l.Out/4+o), y[i], 1e-4)
			}
		})
	})
}

// TestOtherSizes checks that a network takes inputs of another size than it was
// written for.
func TestOtherSizes(t *testing.T) {
	chance := rand.New(rand.NewPCG(3, 3))
	coarse, back := drawn(Around(2, 4, 3, 2), chance), Spreading(4, 2)
	back.Draw(1, chance)
	network := func(rows, columns int) func() []byte {
		return func() []byte {
			g := &Graph{}
			g.Out(g.Spread(g.Through(g.In("x", 2, rows, columns), coarse), back), 2, rows, columns)
			return g.Text()
		}
	}
	one := NewRunners(network(16, 16))
	for _, size := range [][2]int{{16, 16}, {8, 24}, {32, 16}} {
		x := random(chance, 2*size[0]*size[1])
		see := func(by *Runners) (seen []float32) {
			by.Use(func(r *Runner) {
				r.Set("x", x, 2, size[0], size[1])
				r.Out(func(y []float32) { seen = append(seen, y...) })
			})
			return seen
		}
		assert.InDeltaSlice(t, see(NewRunners(network(size[0], size[1]))), see(one), 1e-5)
	}
}

func TestWeightsOfAnotherNetwork(t *testing.T) {
	l := drawn(Along(2, 3, 1, 1), rand.New(rand.NewPCG(4, 4)))
	var file bytes.Buffer
	require.NoError(t, Write(&file, "one", Weights([]*Layer{l})))
	again := Along(2, 3, 1, 1)
	require.NoError(t, Read(bytes.NewReader(file.Bytes()), "one", Weights([]*Layer{again})))
	assert.Equal(t, l, again)
	assert.ErrorContains(t, Read(bytes.NewReader(file.Bytes()), "two", Weights([]*Layer{again})), "not the weights")
	assert.ErrorContains(t, Read(bytes.NewReader(file.Bytes()[:20]), "one", Weights([]*Layer{again})), "end too early")
}
