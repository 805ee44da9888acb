package vision

import "math"

// isMasked tells whether one of the body's ends cannot be told from what lies beyond it,
// and no lead comes out of it: something may cover rings there, or two bodies lie end
// to end. The ground is that beside the other half, since what covers an end may reach
// farther to the sides than the ground is looked for.
func (l look) isMasked(v view, stand plane) bool {
	const (
		reach = 1.3 // of the ground, in half lengths of the body from its middle
		over  = 0.2 // and how far the other half's reaches over the middle
	)
	sides := l.strip.sides(l.strip.bend)
	masked := func(from, to float64, end func(*[stripColumns]float64) []float64) bool {
		const most = 0.6 // of what lies beyond an end; a lead is thinner than what is looked at
		ground := groundAlong(v, stand, l.box, from, to)
		return len(ground) > 0 && mean(end(sides.solid(l.body, ground))) > most
	}
	lead := l.strip.leads(l.strip.bend, sides)
	return masked(-over, reach, l.before) && mean(l.before(lead)) < 0.5 ||
		masked(-reach, over, l.behind) && mean(l.behind(lead)) < 0.5
}

// leads tells of each column whether what lies on the axis looks other than what lies
// on either side of it, as a lead does beyond the ends of a body: 1 or 0.
func (s *strip) leads(b bend, beside *sides) *[stripColumns]float64 {
	const clear = 12 // Lab units
	out := new([stripColumns]float64)
	for c := range out {
		least := math.Inf(1)
		for _, r := range [...]int{stripRows/2 - 1, stripRows / 2} {
			shift := int(math.Round(b.shift(r)))
			axis := toTint(toLinear(s.pixels[r][min(max(c+shift, 0), stripColumns-1)]))
			for _, t := range beside[c] {
				least = min(least, axis.from(t))
			}
		}
		if least > clear {
			out[c] = 1
		}
	}
	return out
}
