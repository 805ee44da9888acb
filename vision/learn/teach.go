package main

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"sync"
	"time"
)

const (
	batch  = 16 // examples a step, by worker
	report = 250
)

// A network is what is taught: one of strips or one of whole photos.
type network interface {
	comparable
	Weights() [][]float32
	Write(io.Writer) error
}

// A lesson is how a network is taught.
type lesson[N network] struct {
	fresh func(*rand.Rand) N // all zero where there is no chance
	read  func(io.Reader) (N, error)
	// learn adds to slope the slopes of the loss over an example drawn by chance
	// and returns the loss.
	learn   func(m *scratch, n N, chance *rand.Rand, slope N) float64
	measure func(n N) string // how it does on what was held back
}

// A teacher changes a network's weights step by step, by the method of Adam
// (Kingma and Ba, 2015).
type teacher[N network] struct {
	lesson[N]
	net, steady   N // the second is a running mean, which does better on what is new
	mean, squares [][]float32
	step, steps   int
	rate          float64
}

func newTeacher[N network](l lesson[N], chance *rand.Rand, rate float64, steps int) *teacher[N] {
	return &teacher[N]{lesson: l, net: l.fresh(chance), steady: l.fresh(nil), mean: l.fresh(nil).Weights(), squares: l.fresh(nil).Weights(), steps: steps, rate: rate}
}

// resume starts from the mean of earlier weights.
func (t *teacher[N]) resume(paths []string) error {
	for _, weights := range t.net.Weights() {
		clear(weights)
	}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		n, err := t.read(bytes.NewReader(data))
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		for i, weights := range n.Weights() {
			for j, w := range weights {
				t.net.Weights()[i][j] += w / float32(len(paths))
			}
		}
	}
	for i, weights := range t.net.Weights() {
		copy(t.steady.Weights()[i], weights)
	}
	return nil
}

// teach runs all steps and saves now and then.
func (t *teacher[N]) teach(save func(N) error) error {
	workers := runtime.GOMAXPROCS(0)
	slopes := make([]N, workers)
	scratches := make([]scratch, workers)
	chances := make([]*rand.Rand, workers)
	for i := range slopes {
		slopes[i] = t.fresh(nil)
		chances[i] = rand.New(rand.NewPCG(3, uint64(i)))
	}
	if t.steps == 0 {
		fmt.Printf("held back: %s\n", t.measure(t.steady))
		return save(t.steady)
	}
	losses := make([]float64, workers)
	loss, start := 0.0, time.Now()
	for t.step = 1; t.step <= t.steps; t.step++ {
		var group sync.WaitGroup
		for w := range workers {
			group.Go(func() {
				losses[w] = 0
				for range batch {
					losses[w] += t.learn(&scratches[w], t.net, chances[w], slopes[w]) / batch
				}
			})
		}
		group.Wait()
		for _, l := range losses {
			loss += l / float64(workers) / report
		}
		t.move(slopes)
		if t.step%report == 0 {
			fmt.Printf("step %d  loss %.4f  held back: %s  %.0f s\n", t.step, loss, t.measure(t.steady), time.Since(start).Seconds())
			loss = 0
			if err := save(t.steady); err != nil {
				return err
			}
		}
	}
	return nil
}

// move changes the weights by the workers' slopes and clears these.
func (t *teacher[N]) move(slopes []N) {
	const keepMean, keepSquares = 0.9, 0.999
	rate := t.rate * 0.5 * (1 + math.Cos(math.Pi*float64(t.step)/float64(t.steps)))
	rate *= math.Min(1, float64(t.step)/300)
	rate *= math.Sqrt(1-math.Pow(keepSquares, float64(t.step))) / (1 - math.Pow(keepMean, float64(t.step)))
	weights, steady := t.net.Weights(), t.steady.Weights()
	keep := float32(math.Min(0.998, float64(t.step)/float64(t.step+10)))
	parts := make([][][]float32, len(slopes))
	for i, s := range slopes {
		parts[i] = s.Weights()
	}
	for i := range weights {
		for j := range weights[i] {
			g := float32(0)
			for _, part := range parts {
				w := part[i]
				g += w[j] / float32(batch*len(slopes))
				w[j] = 0
			}
			t.mean[i][j] = keepMean*t.mean[i][j] + (1-keepMean)*g
			t.squares[i][j] = keepSquares*t.squares[i][j] + (1-keepSquares)*g*g
			weights[i][j] -= float32(rate) * (t.mean[i][j]/(float32(math.Sqrt(float64(t.squares[i][j])))+1e-8) + 1e-4*weights[i][j])
			steady[i][j] = keep*steady[i][j] + (1-keep)*weights[i][j]
		}
	}
}
