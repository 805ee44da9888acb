package main

import (
	"math"

	"ringwise/vision/columns"
	"ringwise/vision/layers"

	"gonum.org/v1/gonum/blas/blas32"
)

// A pass is what went through a layer, for the way back.
type pass struct {
	grid
	input blas32.General // rectified
	seen  blas32.General // as backward wants it
}

// A run keeps what went through a network.
type run struct {
	stem, context, last pass
	tower, blocks       []pass
	said                blas32.General
}

func send(m *scratch, l *layers.Layer, x blas32.General, g grid) (blas32.General, pass) {
	y, seen := layer{l}.forward(m, x, g)
	return y, pass{g, x, seen}
}

// back is the way back through a layer and the rectifier before it.
func (p pass) back(m *scratch, l, slope *layers.Layer, d blas32.General) blas32.General {
	d = layer{l}.backward(m, d, p.seen, layer{slope}, p.grid)
	mask(d, p.input)
	return d
}

var line = grid{1, columns.Columns}

// through sends a strip through the network.
func through(m *scratch, n *columns.Net, s *columns.Strip) *run {
	r := &run{}
	x, stem := send(m, n.Stem, part(s.Features(), 0, columns.Columns, columns.Features), line)
	r.stem = stem
	g := grid{columns.Rows, columns.Columns}
	y := part(s.Lab(), 0, g.places(), 3)
	for i, l := range n.Tower {
		if i > 0 {
			y = rectified(m, y)
		}
		var p pass
		y, p = send(m, l, y, g)
		g = layer{l}.after(g)
		r.tower = append(r.tower, p)
	}
	if n.Tower != nil {
		add(x, y)
	}
	for i, block := range n.Blocks {
		y, p := send(m, block, rectified(m, x), line)
		r.blocks = append(r.blocks, p)
		add(x, y)
		if i == columns.ContextAfter {
			h := rectified(m, x)
			whole, p := send(m, n.Context, sum(m, h, 1.0/columns.Columns), grid{1, 1})
			p.input = h
			r.context = p
			addToAll(x, whole, 1)
		}
	}
	r.said, r.last = send(m, n.Last, rectified(m, x), line)
	return r
}

// sum is the sum over all columns of the strip, times a share.
func sum(m *scratch, x blas32.General, share float32) blas32.General {
	out := m.matrix(1, x.Cols)
	for i, v := range x.Data {
		out.Data[i%x.Cols] += share * v
	}
	return out
}

// addToAll adds to all columns what there is for the whole strip, times a share.
func addToAll(to, x blas32.General, share float32) {
	for i := range to.Data {
		to.Data[i] += share * x.Data[i%x.Cols]
	}
}

// back adds the slopes of the weights to slope, given that of the scores.
func (r *run) back(m *scratch, n *columns.Net, d blas32.General, slope *columns.Net) {
	d = r.last.back(m, n.Last, slope.Last, d)
	for i := len(n.Blocks) - 1; i >= 0; i-- {
		if i == columns.ContextAfter {
			pooled := layer{n.Context}.backward(m, sum(m, d, 1), r.context.seen, layer{slope.Context}, grid{1, 1})
			to := m.matrix(d.Rows, d.Cols)
			addToAll(to, pooled, 1.0/columns.Columns)
			mask(to, r.context.input)
			add(d, to)
		}
		add(d, r.blocks[i].back(m, n.Blocks[i], slope.Blocks[i], d))
	}
	layer{n.Stem}.backward(m, d, r.stem.seen, layer{slope.Stem}, line)
	for i := len(r.tower) - 1; i >= 0; i-- {
		d = r.tower[i].back(m, n.Tower[i], slope.Tower[i], d)
	}
}

// loss is the loss per column over what went through. Its slope comes with it.
func (r *run) loss(m *scratch, shape columns.Shape, truth *target) (loss float64, slope blas32.General) {
	slope = m.matrix(r.said.Rows, r.said.Cols)
	scale := 1 / float32(r.said.Rows)
	for i := range r.said.Rows {
		said, d := r.said.Data[i*r.said.Cols:][:r.said.Cols], slope.Data[i*r.said.Cols:][:r.said.Cols]
		switch onBody := truth.shares[i][columns.Outside] == 0; {
		case shape.Outputs == columns.Classes:
			loss += crossEntropy(said, truth.shares[i][:], scale, d)
		case onBody && shape.Outputs == columns.Sides:
			loss += farOff(said, truth.edges[i][:], scale, d)
		case onBody:
			loss += misjudged(said[0], truth.over[i], scale, &d[0])
		}
	}
	return loss, slope
}

// crossEntropy is that between the truth and the likelihoods that scores stand for,
// to a scale. It writes its slope.
func crossEntropy(scores, truth []float32, scale float32, slope []float32) (loss float64) {
	p := columns.LogSoftmax([columns.Classes]float32(scores))
	for k := range p {
		loss -= float64(truth[k] * p[k] * scale)
		slope[k] = (float32(math.Exp(float64(p[k]))) - truth[k]) * scale
	}
	return loss
}

// farOff is how far off a body's edges are told, to a scale. It writes its slope.
func farOff(told, truth []float32, scale float32, slope []float32) (loss float64) {
	for k := range told {
		l, g := distanceLoss(float64(told[k] - truth[k]/columns.EdgeUnit))
		loss += l * float64(scale)
		slope[k] = float32(g) * scale
	}
	return loss
}

// misjudged is the logarithmic loss of log odds against a truth from 0 to 1, to a scale.
// It writes its slope.
func misjudged(odds, truth, scale float32, slope *float32) (loss float64) {
	p := 1 / (1 + math.Exp(-float64(odds)))
	*slope = (float32(p) - truth) * scale
	return float64(scale) * (math.Log1p(math.Exp(-math.Abs(float64(odds)))) + math.Max(float64(odds), 0) - float64(truth*odds))
}

// learnFrom adds to slope the slopes of the loss over a strip and returns the
// loss.
func learnFrom(m *scratch, n *columns.Net, s *columns.Strip, truth *target, slope *columns.Net) float64 {
	m.giveBack()
	r := through(m, n, s)
	loss, d := r.loss(m, n.Shape, truth)
	r.back(m, n, d, slope)
	return loss
}
