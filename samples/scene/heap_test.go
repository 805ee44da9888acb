package main

import (
	"math"
	"math/rand/v2"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The distance between stretches of chance is that of the nearest of many places on
// both; it is never less.
func TestApart(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 1))
	place := func() vec { return vec{chance.Float64(), chance.Float64(), chance.Float64()} }
	const steps = 60
	for range 200 {
		a0, a1, b0, b1 := place(), place(), place(), place()
		least := math.Inf(1)
		for i := range steps + 1 {
			a := a0.plus(a1.minus(a0).times(float64(i) / steps))
			for j := range steps + 1 {
				least = min(least, a.distance(b0.plus(b1.minus(b0).times(float64(j)/steps))))
			}
		}
		assert.LessOrEqual(t, apart(a0, a1, b0, b1), least+1e-9)
		assert.InDelta(t, least, apart(a0, a1, b0, b1), 0.03)
	}
	assert.InDelta(t, 2, apart(vec{0, 0, 0}, vec{1, 0, 0}, vec{3, 0, 0}, vec{5, 0, 0}), 1e-12, "in line")
	assert.InDelta(t, 1, apart(vec{0, 0, 0}, vec{1, 0, 0}, vec{0, 1, 0}, vec{1, 1, 0}), 1e-12, "side by side")
}

// Parts of a heap lie on each other and on the ground, not in each other.
func TestHeapedPartsTouchAtMost(t *testing.T) {
	for seed := uint64(1); seed <= 8; seed++ {
		s := compose(seed, "heap", 1)
		raised := 0
		for i, p := range s.parts {
			assert.GreaterOrEqual(t, p.middle.y, p.radius)
			if p.middle.y > p.radius {
				raised++
			}
			for _, q := range s.parts[:i] {
				assert.GreaterOrEqual(t, apart(p.end(0), p.end(1), q.end(0), q.end(1)), p.radius+q.radius, "seed %d", seed)
				assert.GreaterOrEqual(t, wiresFrom(p, q), q.radius, "seed %d: a lead in a body below", seed)
				assert.GreaterOrEqual(t, wiresFrom(q, p), p.radius, "seed %d: a lead in a body above", seed)
			}
		}
		assert.Positive(t, raised, "seed %d", seed)
	}
}

// wiresFrom is how near the leads of one part come to the axis of another.
func wiresFrom(p, other *part) float64 {
	least := math.Inf(1)
	for _, lead := range p.leads {
		for i := 1; i < len(lead); i++ {
			least = min(least, apart(lead[i-1], lead[i], other.end(0), other.end(1)))
		}
	}
	return least
}

// What is told to be covered shows less of its body in POV-Ray's picture than its
// outline has room for, and what is not shows more than half of it.
func TestCoveredPartsAreHiddenInTheRenderedMask(t *testing.T) {
	if _, err := exec.LookPath("povray"); err != nil {
		t.Skip("povray is not installed")
	}
	s := compose(4, "heap", 0.25)
	shown := func(p *part, beside []*part) (pixels int) {
		alone := *s
		alone.parts = []*part{p}
		for _, q := range beside {
			if q != p {
				black := *q
				black.kind = "other"
				alone.parts = append(alone.parts, &black)
			}
		}
		mask, err := alone.render(t.Context(), true)
		require.NoError(t, err)
		for _, v := range mask.planes[0] {
			if v > 0.5 {
				pixels++
			}
		}
		return pixels
	}
	const enough = 3 // of either kind
	covered, free := 0, 0
	for _, p := range s.parts {
		if p.covered && covered < enough {
			covered++
			assert.Less(t, float64(shown(p, s.parts)), 0.97*float64(shown(p, nil)))
		}
		if !p.covered && free < enough {
			free++
			assert.Greater(t, float64(shown(p, s.parts)), 0.5*float64(shown(p, nil)))
		}
	}
	assert.Positive(t, covered)
	assert.Positive(t, free)
}
