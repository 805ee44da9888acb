package columns

import (
	"math"
	"math/rand/v2"

	"ringwise/decode"

	"gonum.org/v1/gonum/blas/blas32"
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

// The size of the network.
const channels = 48

var dilations = [...]int{1, 2, 4, 8, 16, 1}

// contextAfter is the block after which each column learns what the whole
// strip looks like.
const contextAfter = 3

// A Net is the network: a first convolution, blocks that each add to what is
// known of a column what they see farther and farther around it, a mean over
// the whole strip, and a last layer with the classes' scores.
type Net struct {
	stem    *layer
	blocks  []*layer
	context *layer
	last    *layer
}

// New returns a network with weights drawn at random, or all zero where there
// is no chance.
func New(chance *rand.Rand) *Net {
	n := &Net{stem: newLayer(Features, channels, 5, 1, 1, chance)}
	for _, d := range dilations {
		n.blocks = append(n.blocks, newLayer(channels, channels, 3, d, 0.5, chance))
	}
	n.context = newLayer(channels, channels, 1, 1, 0.5, chance)
	n.last = newLayer(channels, Classes, 1, 1, 0.5, chance)
	return n
}

// Clone returns a copy that shares nothing.
func (n *Net) Clone() *Net {
	out := New(nil)
	for i, weights := range n.Weights() {
		copy(out.Weights()[i], weights)
	}
	return out
}

func (n *Net) layers() []*layer {
	return append(append([]*layer{n.stem}, n.blocks...), n.context, n.last)
}

// Weights returns the network's weights, layer by layer, to be read or
// changed.
func (n *Net) Weights() [][]float32 {
	var out [][]float32
	for _, l := range n.layers() {
		out = append(out, l.weights.Data, l.bias)
	}
	return out
}

// A run keeps what a pass through the network saw, for the way back.
type run struct {
	seen    []blas32.General // by block
	hidden  []blas32.General // by block: the rectified input
	stem    blas32.General
	pooled  blas32.General // by strip
	context blas32.General
	lastIn  blas32.General
	scores  blas32.General
}

func (n *Net) forward(features []float32) *run {
	r := &run{}
	x := blas32.General{Rows: len(features) / Features, Cols: Features, Stride: Features, Data: features}
	strips := x.Rows / Columns
	x, r.stem = n.stem.forward(x, Columns)
	for i, block := range n.blocks {
		h := rectified(x)
		y, seen := block.forward(h, Columns)
		r.hidden, r.seen = append(r.hidden, h), append(r.seen, seen)
		for j, v := range y.Data {
			x.Data[j] += v
		}
		if i != contextAfter {
			continue
		}
		r.pooled = matrix(strips, channels)
		r.context = rectified(x)
		for j, v := range r.context.Data {
			r.pooled.Data[j/(Columns*channels)*channels+j%channels] += v / Columns
		}
		g, _ := n.context.forward(r.pooled, 1)
		for j := range x.Data {
			x.Data[j] += g.Data[j/(Columns*channels)*channels+j%channels]
		}
	}
	r.lastIn = rectified(x)
	r.scores, _ = n.last.forward(r.lastIn, Columns)
	return r
}

// backward adds the slopes of the weights to slope, given that of the scores.
func (n *Net) backward(r *run, dScores blas32.General, slope *Net) {
	d := n.last.backward(dScores, r.lastIn, slope.last, Columns)
	mask(d, r.lastIn)
	for i := len(n.blocks) - 1; i >= 0; i-- {
		if i == contextAfter {
			dg := matrix(r.pooled.Rows, channels)
			for j, v := range d.Data {
				dg.Data[j/(Columns*channels)*channels+j%channels] += v
			}
			dPooled := n.context.backward(dg, r.pooled, slope.context, 1)
			for j := range d.Data {
				if r.context.Data[j] > 0 {
					d.Data[j] += dPooled.Data[j/(Columns*channels)*channels+j%channels] / Columns
				}
			}
		}
		dh := n.blocks[i].backward(d, r.seen[i], slope.blocks[i], Columns)
		for j, v := range dh.Data {
			if r.hidden[i].Data[j] > 0 {
				d.Data[j] += v
			}
		}
	}
	n.stem.backward(d, r.stem, slope.stem, Columns)
}

// mask clears the slopes where the rectified value was nothing.
func mask(d, rectified blas32.General) {
	for i, v := range rectified.Data {
		if v <= 0 {
			d.Data[i] = 0
		}
	}
}

// A Target is what the columns of a strip show in truth: for each column the
// share of each class.
type Target [Columns][Classes]float32

// Learn adds to slope the slopes of the loss over some strips and returns the
// loss per column: the cross entropy between the truth and the likelihoods.
func (n *Net) Learn(strips []*Strip, targets []*Target, slope *Net) float64 {
	var features []float32
	for _, s := range strips {
		features = append(features, s.features()...)
	}
	r := n.forward(features)
	d := matrix(r.scores.Rows, Classes)
	loss := 0.0
	scale := 1 / float32(r.scores.Rows)
	for i := range r.scores.Rows {
		p := logSoftmax(r.scores.Data[i*Classes:][:Classes])
		target := &targets[i/Columns][i%Columns]
		for k := range p {
			loss -= float64(target[k] * p[k] * scale)
			d.Data[i*Classes+k] = (float32(math.Exp(float64(p[k]))) - target[k]) * scale
		}
	}
	n.backward(r, d, slope)
	return loss
}

func logSoftmax(scores []float32) []float32 {
	out := make([]float32, len(scores))
	most := scores[0]
	for _, s := range scores {
		most = max(most, s)
	}
	sum := 0.0
	for _, s := range scores {
		sum += math.Exp(float64(s - most))
	}
	top := most + float32(math.Log(sum))
	for i, s := range scores {
		out[i] = s - top
	}
	return out
}

// LogLikelihoods are, for each column, the logarithms of the probabilities of
// the classes.
type LogLikelihoods [Columns][Classes]float32

// See says what the columns of a strip show.
func (n *Net) See(s *Strip) *LogLikelihoods {
	x, h, y := matrix(Columns, channels), matrix(Columns, channels), matrix(Columns, channels)
	n.stem.apply(blas32.General{Rows: Columns, Cols: Features, Stride: Features, Data: s.features()}, x)
	rectify := func() {
		for i, v := range x.Data {
			h.Data[i] = max(0, v)
		}
	}
	for i, block := range n.blocks {
		rectify()
		block.apply(h, y)
		for j, v := range y.Data {
			x.Data[j] += v
		}
		if i != contextAfter {
			continue
		}
		rectify()
		pooled, g := matrix(1, channels), matrix(1, channels)
		for j, v := range h.Data {
			pooled.Data[j%channels] += v / Columns
		}
		n.context.apply(pooled, g)
		for j := range x.Data {
			x.Data[j] += g.Data[j%channels]
		}
	}
	rectify()
	scores := matrix(Columns, Classes)
	n.last.apply(h, scores)
	out := new(LogLikelihoods)
	for c := range Columns {
		copy(out[c][:], logSoftmax(scores.Data[c*Classes:][:Classes]))
	}
	return out
}
