package vision

import "math"

// How the colours of two rings bear on whether they have one paint: apartBy is how
// far they lie apart where they have; mixed is how much more of the body one may have
// taken on than the other, as a ratio's logarithm, where the narrower is mixedAt photo
// pixels wide; likelier is the most that likeness adds, and unlikelier how fast being
// apart takes away, in natural logarithms. Set by how likely they make the true readings
// of the scenes of the tune split, beside what the network and each ring's own colour
// say; where these leave a choice, the wider spreads were taken, since the rings of
// development photos that have one paint lie farther apart than those of scenes.
var apartBy = tint{4, 3, 4}

const (
	mixed      = 0.35
	mixedAt    = 8.0
	likelier   = 2.4
	unlikelier = 2.0
)

// alike says, for each pair of rings, how much likelier their colours are if they
// have the same paint, which comes from one pot, than if they had two paints that
// look like this: the logarithm of the ratio, with heavy tails. In a narrow or blurred
// ring some of the body is mixed, in one more than in another: what counts is which
// way from the body's colour both lie. detail is in photo pixels per column.
func (c cutting) alike(detail float64) [][]float64 {
	out := make([][]float64, len(c.rings))
	fromBody := make([]spot, len(c.rings))
	for i, r := range c.rings {
		out[i] = make([]float64, len(c.rings))
		fromBody[i] = r.seen.minus(c.near[(r.start+r.end)/2])
	}
	for i, r := range c.rings {
		for j, q := range c.rings {
			width := detail * float64(min(r.end-r.start, q.end-q.start))
			apart := apartMixed(fromBody[i], fromBody[j], mixed*math.Sqrt(mixedAt/width))
			out[i][j] = likelier - unlikelier*math.Log1p(apart)
		}
	}
	return out
}

// apartMixed is how far apart two colours lie, squared, in units of apartBy, with the
// ratio of their distances from the body for which that is least; ratios other than
// one count by how many spreads their logarithm is.
func apartMixed(p, q spot, spread float64) float64 {
	const step, most = 0.05, 0.8
	least := math.Inf(1)
	for log := -most; log <= most; log += step {
		d := p.times(math.Exp(-log / 2)).minus(q.times(math.Exp(log / 2)))
		l, a, b := d.l/apartBy.l, d.a/apartBy.a, d.b/apartBy.b
		least = min(least, l*l+a*a+b*b+log*log/spread/spread)
	}
	return least
}
