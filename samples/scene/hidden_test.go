package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A wire over a ring hides what the ring's span tells, where the camera looks along the
// body too: it sees an end face, and the outline is longer than the axis.
func TestHiddenSpansLieAlongTheOutline(t *testing.T) {
	for seed := uint64(1); seed <= 8; seed++ {
		for _, way := range []float64{-1, 1} {
			s := compose(seed, "heap", 1)
			s.cam = lookDown(1280, 960, 0.8, 0.4, 20)
			p := s.parts[0]
			p.middle, p.along = vec{0, p.radius, 0}, vec{0, 0, way}
			up := s.cam.at.minus(p.middle)
			up = up.minus(p.along.times(up.dot(p.along))).unit()
			m := p.marks[0]
			ring := p.end(0).plus(p.along.times(m.centre * p.length)).plus(up.times(p.radius))
			over := ring.plus(s.cam.at.minus(ring).unit())
			side := p.along.cross(up).times(5)
			wire := &part{middle: vec{1000, 0, 0}, along: vec{1, 0, 0}, leadRadius: 0.3,
				leads: [2][]vec{{over.minus(side), over.plus(side)}}}
			s.parts = []*part{p, wire}

			hidden, span := s.hiddenSpans(p, s.outlineOf(p)), s.ringSpans(p, s.outlineOf(p))[0]
			require.Len(t, hidden, 1, "seed %d", seed)
			assert.InDelta(t, (span[0]+span[1])/2, (hidden[0][0]+hidden[0][1])/2, 0.1, "seed %d", seed)
		}
	}
}
