package columns

import (
	"math"

	"ringwise/vision/layers"
)

// LogLikelihoods are, for each column, the logarithms of the probabilities of
// the classes.
type LogLikelihoods [Columns][Classes]float32

// Sides is how many edges a body has along the strip: the upper and the lower.
const Sides = 2

// Edges are, for each column, where the upper and the lower edge of the body lie,
// from -1 in the strip's first row to 1 in its last, or beyond. They say something
// only where there is a body.
type Edges [Columns][Sides]float32

// EdgeUnit is the unit in which the network tells edges.
const EdgeUnit = 0.1

// Covered is, for each column, how likely something else lies over the body there, such
// as the lead of another part, from 0 to 1. It says something only where there is a body.
type Covered [Columns]float32

// Covers is how much is said of a column where only that is told.
const Covers = 1

// A Seer shows one strip to the networks.
type Seer struct {
	strip    *Strip
	features []float32
	lab      []float32
}

// NewSeer returns a seer of a strip, which must not be changed any more.
func NewSeer(s *Strip) *Seer { return &Seer{strip: s, features: s.Features()} }

// Glance says what the columns show, at little cost.
func (s *Seer) Glance() *LogLikelihoods { return s.likelihoods(glancers) }

// Read says more surely than Glance what the columns show.
func (s *Seer) Read() *LogLikelihoods { return s.likelihoods(readers) }

// Edges says where the edges of the body in the strip lie.
func (s *Seer) Edges() *Edges {
	seen := new(Edges)
	s.show(edgers, func(column int, said func(output int) float32) {
		for k := range seen[column] {
			seen[column][k] = EdgeUnit * said(k)
		}
	})
	return seen
}

// Covered says where something lies over the body in the strip.
func (s *Seer) Covered() *Covered {
	seen := new(Covered)
	s.show(coverers, func(column int, said func(output int) float32) {
		seen[column] = float32(1 / (1 + math.Exp(-float64(said(0))))) // from log odds
	})
	return seen
}

func (s *Seer) likelihoods(by runners) *LogLikelihoods {
	seen := new(LogLikelihoods)
	s.show(by, func(column int, said func(output int) float32) {
		var scores [Classes]float32
		for k := range scores {
			scores[k] = said(k)
		}
		seen[column] = LogSoftmax(scores)
	})
	return seen
}

// runners run a network of a shape.
type runners struct {
	*layers.Runners
	shape Shape
}

var glancers, readers, edgers, coverers = newRunners(Glancing), newRunners(Reading), newRunners(Edging), newRunners(Covering)

func newRunners(shape Shape) runners {
	return runners{layers.NewRunners(func() []byte { return Taught(shape).graph() }), shape}
}

// The names of a network's inputs.
const (
	featuresInput = "features"
	pixelsInput   = "pixels"
)

// show shows the strip to a network and hands over what it says of each column.
func (s *Seer) show(by runners, take func(column int, said func(output int) float32)) {
	by.Use(func(r *layers.Runner) {
		r.Set(featuresInput, s.features, Features, 1, Columns)
		if by.shape.Tower != nil {
			if s.lab == nil {
				s.lab = s.strip.Lab()
			}
			r.Set(pixelsInput, s.lab, 3, Rows, Columns)
		}
		r.Out(func(said []float32) {
			for c := range Columns {
				take(c, func(output int) float32 { return said[output*Columns+c] })
			}
		})
	})
}

// LogSoftmax turns scores into the logarithms of probabilities.
func LogSoftmax(scores [Classes]float32) (out [Classes]float32) {
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
