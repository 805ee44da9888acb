package ordered

import (
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

func TestRunKeepsTheOrder(t *testing.T) {
	const n = 50
	var got []int
	Run(n, func(i int) int {
		time.Sleep(time.Duration(n-i) * 100 * time.Microsecond) // the first take longest
		return i * i
	}, func(i, square int) {
		assert.Equal(t, i*i, square)
		got = append(got, i)
	})
	assert.Len(t, got, n)
	assert.IsIncreasing(t, got)
}

func TestRunOfNothing(t *testing.T) {
	Run(0, func(int) int { panic("no work") }, func(int, int) { panic("no result") })
}

func TestRunHandsOverEarly(t *testing.T) {
	var worked atomic.Int32
	first := true
	Run(1000, func(i int) int {
		worked.Add(1)
		time.Sleep(10 * time.Microsecond)
		return i
	}, func(int, int) {
		if first {
			assert.Less(t, worked.Load(), int32(1000), "the first result waits for no other")
			first = false
		}
	})
}
