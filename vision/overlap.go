package vision

import "math"

// overlaps tells whether two boxes share more than a quarter of the smaller.
func (b box) overlaps(o box) bool { return b.shared(o) > 0.25 }

// shared is how much of the smaller of two boxes lies in the other.
func (b box) shared(o box) float64 {
	if b.half*b.rise > o.half*o.rise {
		b, o = o, b
	}
	const steps = 8
	shared := 0
	other := o.extent()
	for i := range steps {
		for j := range steps {
			if other.holds(b.at((2*(float64(i)+0.5)/steps-1)*b.half, (2*(float64(j)+0.5)/steps-1)*b.rise)) {
				shared++
			}
		}
	}
	return float64(shared) / (steps * steps)
}

// like tells whether two boxes are nearly the same.
func (b box) like(o box) bool {
	turn := math.Abs(math.Sin(b.angle - o.angle))
	return math.Hypot(b.x-o.x, b.y-o.y) < 0.15*b.rise && turn < 0.06 &&
		math.Abs(b.half-o.half) < 0.06*b.half && math.Abs(b.rise-o.rise) < 0.08*b.rise
}
