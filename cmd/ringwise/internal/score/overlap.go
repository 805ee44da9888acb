package score

import "math"

// overlap returns the area common to the polygons a and b over the area of
// their union, 0 to 1. b must be convex; either may run either way round.
func overlap(a, b [][2]float64) float64 {
	common := math.Abs(area(clip(a, b)))
	union := math.Abs(area(a)) + math.Abs(area(b)) - common
	if union <= 0 {
		return 0
	}
	return common / union
}

// area returns the signed area of a polygon by the shoelace formula.
func area(p [][2]float64) float64 {
	sum := 0.0
	for i, q := range p {
		r := p[(i+1)%len(p)]
		sum += q[0]*r[1] - r[0]*q[1]
	}
	return sum / 2
}

// clip returns the part of subject that lies within the convex polygon window
// (I. E. Sutherland and G. W. Hodgman, Communications of the ACM 17, 1974).
func clip(subject, window [][2]float64) [][2]float64 {
	turn := math.Copysign(1, area(window))
	for i, a := range window {
		b := window[(i+1)%len(window)]
		// side is positive on the inner side of the edge from a to b.
		side := func(p [2]float64) float64 {
			return turn * ((b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0]))
		}
		var kept [][2]float64
		for j, p := range subject {
			q := subject[(j+1)%len(subject)]
			from, to := side(p), side(q)
			if from >= 0 {
				kept = append(kept, p)
			}
			if (from >= 0) != (to >= 0) {
				t := from / (from - to)
				kept = append(kept, [2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
			}
		}
		subject = kept
	}
	return subject
}
