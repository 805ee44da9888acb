package layers

import (
	"fmt"
	"runtime"
	"sync"

	"gocv.io/x/gocv"
)

// A Runner runs a network in OpenCV, one input after another.
type Runner struct{ net gocv.Net }

// Runners hold those of one network that are not in use. They keep as many as were
// in use at once: to make one takes longer than to run it.
type Runners struct {
	network func() []byte
	lock    sync.Mutex
	free    []*Runner
}

// NewRunners returns the runners of a network given as ONNX text, which is asked
// for once, when first needed.
func NewRunners(network func() []byte) *Runners {
	return &Runners{network: sync.OnceValue(network)}
}

func newRunner(network []byte) *Runner {
	net, err := gocv.ReadNetFromONNXBytes(network)
	if err != nil || net.Empty() {
		panic(fmt.Sprintf("OpenCV does not take the network: %v", err)) // it is part of the program
	}
	if err := net.SetPreferableBackend(gocv.NetBackendOpenCV); err != nil {
		panic(err) // it comes with OpenCV
	}
	r := &Runner{net}
	runtime.AddCleanup(r, func(net gocv.Net) { net.Close() }, net)
	return r
}

// Use lends a runner.
func (p *Runners) Use(do func(*Runner)) {
	r := p.take()
	if r == nil {
		r = newRunner(p.network())
	}
	defer p.giveBack(r)
	do(r)
}

// take is a free runner, nil where there is none.
func (p *Runners) take() (r *Runner) {
	p.lock.Lock()
	defer p.lock.Unlock()
	if last := len(p.free) - 1; last >= 0 {
		r, p.free = p.free[last], p.free[:last]
	}
	return r
}

func (p *Runners) giveBack(r *Runner) {
	p.lock.Lock()
	defer p.lock.Unlock()
	p.free = append(p.free, r)
}

// Set gives the network an input: the values of one place after another, row by
// row.
func (r *Runner) Set(name string, values []float32, channels, rows, columns int) {
	m := gocv.NewMatWithSizes([]int{1, channels, rows, columns}, gocv.MatTypeCV32F)
	defer m.Close()
	to := floats(m)
	places := rows * columns
	for place := range places {
		for k, v := range values[place*channels:][:channels] {
			to[k*places+place] = v
		}
	}
	r.net.SetInput(m, name)
}

// Out runs the network and calls read with the values that come out, all places
// of the first channel first. They must not be kept.
func (r *Runner) Out(read func([]float32)) {
	out := r.net.Forward("")
	defer out.Close()
	read(floats(out))
}

func floats(m gocv.Mat) []float32 {
	data, err := m.DataPtrFloat32()
	if err != nil {
		panic(err) // it is made of floats
	}
	return data
}
