package main

import (
	"fmt"
	"math"
)

// pose is how a flat thing with wires at its back lies: its face, which looks
// up at lean 0, leans towards -x, and the wires leave towards x.
type pose struct {
	lean   float64 // radians, 0 to π/2, where it lies on its edge
	height float64 // of its middle, mm
}

// place is the place of a point of the upright thing, whose middle is the
// origin.
func (p pose) place(at vec) vec {
	sin, cos := math.Sincos(p.lean)
	return vec{at.x*cos - at.y*sin, at.x*sin + at.y*cos + p.height, at.z}
}

// pov puts objects about the origin into the pose.
func (p pose) pov(objects string) string {
	return fmt.Sprintf("union { %srotate z*%.3f translate y*%.4f }\n", objects, p.lean*180/math.Pi, p.height)
}

// pigtail is a wire that leaves the back of a posed thing at a point of it and
// then runs along the ground, by the given angle aside of x.
func (p pose) pigtail(d dice, from vec, length, radius, aside float64, style string) []vec {
	start := p.place(from)
	sin, cos := math.Sincos(p.lean)
	fall := 2.5
	if cos > 1e-6 {
		fall = min(fall, max(0, start.y-radius)/cos)
	}
	path := leadPath(d, start.plus(vec{sin, -cos, 0}.times(fall)), heading(aside), length, radius, style, 1)
	return append([]vec{start}, path...)
}

// pigtails are two of them, side by side with a gap between.
func (p pose) pigtails(d dice, from vec, gap, length, radius float64) [][]vec {
	style := pickWeighted(d, []weighted[string]{{"straight", 45}, {"curved", 40}, {"kinked", 15}})
	spread := d.between(0, 0.15)
	var both [][]vec
	for _, side := range []float64{-1, 1} {
		both = append(both, p.pigtail(d, from.plus(vec{0, 0, side * gap / 2}), length*d.between(0.9, 1.1), radius, side*spread, style))
	}
	return both
}
