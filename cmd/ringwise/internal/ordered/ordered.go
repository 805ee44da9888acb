// Package ordered spreads work over all cores and hands back the results in
// the order of the work.
package ordered

import (
	"runtime"
	"sync"
)

// Run calls work(0) … work(n-1), one call per core at a time, and done with
// each result in that order, from the calling goroutine, as soon as the
// result and all before it are there. It returns after the last done.
func Run[T any](n int, work func(i int) T, done func(i int, result T)) {
	ready := make([]chan T, n)
	for i := range ready {
		ready[i] = make(chan T, 1)
	}
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		wait.Go(func() {
			for i := range next {
				ready[i] <- work(i)
			}
		})
	}
	wait.Go(func() {
		defer close(next)
		for i := range n {
			next <- i
		}
	})
	for i := range n {
		done(i, <-ready[i])
	}
	wait.Wait()
}
