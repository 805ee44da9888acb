package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"sync"
	"time"

	"ringwise/vision/columns"
)

const (
	batch  = 16 // strips a step, by worker
	report = 250
)

// A teacher changes a network's weights step by step, by the method of Adam
// (Kingma and Ba, 2015).
type teacher struct {
	net           *columns.Net
	steady        *columns.Net // a running mean of the network, which does better on what is new
	mean, squares [][]float32
	step, steps   int
	rate          float64
	chance        *rand.Rand
}

func newTeacher(shape columns.Shape, chance *rand.Rand, rate float64, steps int) *teacher {
	return &teacher{net: columns.New(shape, chance), steady: columns.New(shape, nil), mean: columns.New(shape, nil).Weights(), squares: columns.New(shape, nil).Weights(),
		steps: steps, rate: rate, chance: chance}
}

// resume starts from the mean of earlier weights.
func (t *teacher) resume(paths []string) error {
	sum := columns.New(t.net.Shape, nil)
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		n, err := columns.Read(t.net.Shape, bytes.NewReader(data))
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		for i, weights := range n.Weights() {
			for j, w := range weights {
				sum.Weights()[i][j] += w / float32(len(paths))
			}
		}
	}
	t.net, t.steady = sum, sum.Clone()
	return nil
}

// teach runs all steps and saves now and then.
func (t *teacher) teach(taught, held []example, save func() error) error {
	workers := runtime.GOMAXPROCS(0)
	slopes := make([]*columns.Net, workers)
	scratches := make([]scratch, workers)
	chances := make([]*rand.Rand, workers)
	for i := range slopes {
		slopes[i] = columns.New(t.net.Shape, nil)
		chances[i] = rand.New(rand.NewPCG(3, uint64(i)))
	}
	if t.steps == 0 {
		right, rings := t.measure(held)
		fmt.Printf("held back: columns right %.4f, ring columns right %.4f\n", right, rings)
		return save()
	}
	losses := make([]float64, workers)
	loss, start := 0.0, time.Now()
	for t.step = 1; t.step <= t.steps; t.step++ {
		var group sync.WaitGroup
		for w := range workers {
			group.Go(func() {
				losses[w] = 0
				for range batch {
					s, truth := taught[chances[w].IntN(len(taught))].vary(chances[w])
					losses[w] += learnFrom(&scratches[w], t.net, s, truth, slopes[w]) / batch
				}
			})
		}
		group.Wait()
		for _, l := range losses {
			loss += l / float64(workers) / report
		}
		t.move(slopes)
		if t.step%report == 0 {
			right, rings := t.measure(held)
			fmt.Printf("step %d  loss %.4f  held back: columns right %.4f, ring columns right %.4f  %.0f s\n",
				t.step, loss, right, rings, time.Since(start).Seconds())
			loss = 0
			if err := save(); err != nil {
				return err
			}
		}
	}
	return nil
}

// move changes the weights by the workers' slopes and clears these.
func (t *teacher) move(slopes []*columns.Net) {
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

// measure is the share of columns, and of ring columns, whose likeliest class
// is the true one.
func (t *teacher) measure(held []example) (right, rings float64) {
	var m scratch
	n, ringColumns := 0.0, 0.0
	for i := 0; i < len(held); i += max(1, len(held)/300) {
		e := &held[i]
		s := &columns.Strip{Detail: e.detail}
		for r := range s.Pixels {
			for c := range s.Pixels[r] {
				for k := range 3 {
					s.Pixels[r][c][k] = float32(e.pixels[r][c][k])
				}
			}
		}
		m.giveBack()
		seen := through(&m, t.steady, s).scores
		for c := range columns.Columns {
			scores := seen.Data[c*columns.Classes:][:columns.Classes]
			likeliest, truly := 0, 0
			for k := range scores {
				if scores[k] > scores[likeliest] {
					likeliest = k
				}
				if e.target[c][k] > e.target[c][truly] {
					truly = k
				}
			}
			n++
			if likeliest == truly {
				right++
			}
			if truly >= columns.Ring {
				ringColumns++
				if likeliest == truly {
					rings++
				}
			}
		}
	}
	return right / n, rings / ringColumns
}
