package vision

import "math"

// unmix estimates what each ring's colour would be without blur. Where a photo
// is soft or its colour is stored coarsely, a narrow ring takes on some of the
// body's colour. Each ring is taken for a box of one colour, smeared with a
// Gaussian; the boxes' colours that explain the strip best follow by least
// squares, lightness and colour apart, since JPEG smears colour more.
func (c *cutting) unmix(spots *[stripColumns]spot, detail float64) {
	body := c.near
	soft := math.Max(0.6, c.lightBlur(spots, body, detail))
	colour := math.Hypot(soft, 0.9/detail)
	light := c.shares(soft)
	tint := c.shares(colour)
	l := solveRings(light, func(i int) (float64, float64) { return spots[i].l, body[i].l }, c, func(s spot) float64 { return s.l })
	a := solveRings(tint, func(i int) (float64, float64) { return spots[i].a, body[i].a }, c, func(s spot) float64 { return s.a })
	b := solveRings(tint, func(i int) (float64, float64) { return spots[i].b, body[i].b }, c, func(s spot) float64 { return s.b })
	for i := range c.rings {
		c.rings[i].seen.l = math.Max(0, math.Min(100, l[i]))
		c.rings[i].seen.a, c.rings[i].seen.b = a[i], b[i]
	}
}

// shares returns, for each ring and column, how much of the column's colour is
// the ring's if edges are smeared by a Gaussian of the given spread.
func (c *cutting) shares(spread float64) [][stripColumns]float64 {
	out := make([][stripColumns]float64, len(c.rings))
	for r, ring := range c.rings {
		for i := max(0, ring.start-24); i < min(stripColumns, ring.end+24); i++ {
			x := float64(i) + 0.5
			out[r][i] = 0.5 * (math.Erf((x-float64(ring.start))/spread/math.Sqrt2) - math.Erf((x-float64(ring.end))/spread/math.Sqrt2))
		}
	}
	return out
}

// solveRings finds the rings' values of one channel by least squares over the
// columns near them. A pull towards the plain mean keeps noise down where rings
// are narrower than the blur.
func solveRings(shares [][stripColumns]float64, channel func(int) (seen, body float64), c *cutting, plain func(spot) float64) []float64 {
	n := len(shares)
	normal := make([][]float64, n)
	right := make([]float64, n)
	for r := range n {
		normal[r] = make([]float64, n)
		const pull = 0.6
		normal[r][r] = pull
		right[r] = pull * plain(c.rings[r].seen)
	}
	for i := c.left; i < c.right; i++ {
		seen, body := channel(i)
		rest := 1.0
		for r := range n {
			rest -= shares[r][i]
		}
		rest = math.Max(0, rest)
		for r := range n {
			if shares[r][i] < 0.02 {
				continue
			}
			for q := range n {
				normal[r][q] += shares[r][i] * shares[q][i]
			}
			right[r] += shares[r][i] * (seen - rest*body)
		}
	}
	return solve(normal, right)
}

// lightBlur picks the smear of edges, in columns, that explains the strip's
// lightness best.
func (c *cutting) lightBlur(spots, body *[stripColumns]spot, detail float64) float64 {
	best, least := 0.5/detail, math.Inf(1)
	for _, blur := range [...]float64{0.5, 0.8, 1.2, 1.8, 2.6} {
		shares := c.shares(blur / detail)
		values := solveRings(shares, func(i int) (float64, float64) { return spots[i].l, body[i].l }, c, func(s spot) float64 { return s.l })
		misfit := 0.0
		for i := c.left; i < c.right; i++ {
			rest, mixed := 1.0, 0.0
			for r := range shares {
				rest -= shares[r][i]
				mixed += shares[r][i] * values[r]
			}
			d := spots[i].l - mixed - math.Max(0, rest)*body[i].l
			misfit += d * d / (d*d + 36)
		}
		if misfit < least {
			best, least = blur/detail, misfit
		}
	}
	return math.Min(best, 6)
}
