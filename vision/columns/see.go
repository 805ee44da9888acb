package columns

import (
	"fmt"
	"math"
	"runtime"
	"sync"

	"gocv.io/x/gocv"
)

// LogLikelihoods are, for each column, the logarithms of the probabilities of
// the classes.
type LogLikelihoods [Columns][Classes]float32

// Glance says what the columns of a strip show, at little cost.
func Glance(s *Strip) *LogLikelihoods { return glancers.see(s) }

// See says more surely than Glance what the columns of a strip show.
func See(s *Strip) *LogLikelihoods { return readers.see(s) }

// A runner runs a network in OpenCV, one strip at a time.
type runner struct {
	net    gocv.Net
	pixels bool // whether it is to be given them
}

// A pool holds the runners of one network that are not in use.
type pool struct{ sync.Pool }

var glancers, readers = newPool(Glancing), newPool(Reading)

func newPool(shape Shape) *pool {
	taught := sync.OnceValue(func() *Net { return Taught(shape) })
	return &pool{sync.Pool{New: func() any { return newRunner(taught()) }}}
}

func (p *pool) see(s *Strip) *LogLikelihoods {
	r := p.Get().(*runner)
	defer p.Put(r)
	return r.see(s)
}

func newRunner(n *Net) *runner {
	net, err := gocv.ReadNetFromONNXBytes(n.onnx())
	if err != nil || net.Empty() {
		panic(fmt.Sprintf("OpenCV does not take the network: %v", err)) // it is part of the program
	}
	if err := net.SetPreferableBackend(gocv.NetBackendOpenCV); err != nil {
		panic(err) // it comes with OpenCV
	}
	r := &runner{net, n.Pixels}
	runtime.AddCleanup(r, func(net gocv.Net) { net.Close() }, net)
	return r
}

func (r *runner) see(s *Strip) *LogLikelihoods {
	r.set(featuresInput, s.Features(), Features, 1)
	if r.pixels {
		r.set(pixelsInput, s.Lab(), 3, Rows)
	}
	out := r.net.Forward("")
	defer out.Close()
	scores := floats(out)
	seen := new(LogLikelihoods)
	for c := range Columns {
		var of [Classes]float32
		for k := range of {
			of[k] = scores[k*Columns+c]
		}
		seen[c] = LogSoftmax(of)
	}
	return seen
}

// set gives the network an input, with the channels first.
func (r *runner) set(name string, values []float32, channels, rows int) {
	m := gocv.NewMatWithSizes([]int{1, channels, rows, Columns}, gocv.MatTypeCV32F)
	defer m.Close()
	to := floats(m)
	for place := range rows * Columns {
		for k, v := range values[place*channels:][:channels] {
			to[k*rows*Columns+place] = v
		}
	}
	r.net.SetInput(m, name)
}

func floats(m gocv.Mat) []float32 {
	data, err := m.DataPtrFloat32()
	if err != nil {
		panic(err) // it is made of floats
	}
	return data
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
