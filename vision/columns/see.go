package columns

import (
	"math"

	"ringwise/vision/layers"
)

// LogLikelihoods are, for each column, the logarithms of the probabilities of
// the classes.
type LogLikelihoods [Columns][Classes]float32

// Glance says what the columns of a strip show, at little cost.
func Glance(s *Strip) *LogLikelihoods { return see(glancers, s, Glancing.Pixels) }

// See says more surely than Glance what the columns of a strip show.
func See(s *Strip) *LogLikelihoods { return see(readers, s, Reading.Pixels) }

var glancers, readers = runners(Glancing), runners(Reading)

func runners(shape Shape) *layers.Runners {
	return layers.NewRunners(func() []byte { return Taught(shape).graph() })
}

// The names of a network's inputs.
const (
	featuresInput = "features"
	pixelsInput   = "pixels"
)

func see(by *layers.Runners, s *Strip, pixels bool) *LogLikelihoods {
	seen := new(LogLikelihoods)
	by.Use(func(r *layers.Runner) {
		r.Set(featuresInput, s.Features(), Features, 1, Columns)
		if pixels {
			r.Set(pixelsInput, s.Lab(), 3, Rows, Columns)
		}
		r.Out(func(scores []float32) {
			for c := range Columns {
				var of [Classes]float32
				for k := range of {
					of[k] = scores[k*Columns+c]
				}
				seen[c] = LogSoftmax(of)
			}
		})
	})
	return seen
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
