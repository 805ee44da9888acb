package vision

import (
	"cmp"
	"math"
	"slices"
)

// A ring is a stretch of the strip that a cut takes for a ring: columns from
// start up to end.
type ring struct {
	start, end int
	seen       spot // the mean inside, edges left out
}

// A cutting is one way to cut the strip into what lies outside the body, body
// and rings.
type cutting struct {
	left, right int // the body's columns: from left up to right
	rings       []ring
	body        spot
	near        *[stripColumns]spot // the body's colour along the strip
	cost        float64             // negative logarithm of its likelihood, up to a constant
	prices      float64             // the part of the cost that is no misfit
}

const (
	mostRings   = 6
	leastWidth  = 3   // columns of the narrowest ring
	mostWidth   = 32  // columns of the widest
	leastGap    = 2   // columns of body between two rings
	mostOutside = 54  // columns at either end that may be lead or ground
	bodyCap     = 7.0 // the most that one column that is no body costs
)

// Prices of what is unusual, in the units of the cost.
const (
	ringPrice   = 8.0  // of each ring
	faintPrice  = 16.0 // of a ring just like the body
	hollowPrice = 8.0  // of a ring beside whose middle there is ground
	ringMisfit  = 0.8  // weight of how unlike its own mean a ring is
	outsideMost = 3.2  // of a solid column outside the body
	scarcePrice = 10.0 // of having no body beyond the outermost ring
)

// Spreads of a column about what it belongs to.
var (
	looseBody = spot{tint{8, 4.5, 4.5}, 14} // about one colour for the whole body
	tightBody = spot{tint{4.5, 3, 3.2}, 9}  // about the body's colour near by
	withinOne = spot{tint{5, 4, 4.5}, 10}   // about a ring's own mean
)

// misfit is half the squared distance of two spots, in spreads.
func misfit(p, q, spread spot) float64 {
	l, a := (p.l-q.l)/spread.l, (p.a-q.a)/spread.a
	b, s := (p.b-q.b)/spread.b, (p.sheen-q.sheen)/spread.sheen
	return 0.5 * (l*l + a*a + b*b + s*s)
}

// cuts returns the best ways to cut the strip, one for each number of rings, given
// a guess at the body's colour and how solid each column is.
func (s *stretches) cuts(body *[stripColumns]spot, solid *[stripColumns]float64) []cutting {
	rough := s.cutter(body, looseBody, solid).cut()
	best := slices.MinFunc(rough, func(a, b cutting) int { return cmp.Compare(a.cost, b.cost) })
	near := bodyNear(s.spots, best, s.soft)
	out := s.cutter(near, tightBody, solid).cut()
	for i := range out {
		out[i].near = near
	}
	return out
}

// outsideCost is what a column costs as lying outside the body, where solid is
// the share of its rows that stand out from the ground.
func outsideCost(solid float64) float64 {
	return outsideMost * math.Max(0.06, math.Min(1, (solid-0.15)/0.5))
}

// usualOutside is how many columns at either end lie outside a body whose box
// fits well.
const usualOutside float64 = stripColumns * (1 - 1/stripAlong) / 2

// The stretches of a strip are what each costs as a ring, whatever the body's colour
// is and wherever the body ends.
type stretches struct {
	spots  *[stripColumns]spot
	soft   int                       // the columns over which an edge is smeared
	told   *told                     // what the network says, if it was asked
	first  [stripColumns + 1]spot    // running sums of the spots
	second [stripColumns + 1]float64 // and of their squares, in spreads
	rings  widths                    // what each stretch costs as a ring
}

// widths are values of the stretches that may be rings, by first column and by width.
type widths [stripColumns][mostWidth + 1]float64

func newStretches(spots *[stripColumns]spot, soft int, told *told) *stretches {
	s := &stretches{spots: spots, soft: soft, told: told}
	for i, p := range spots {
		s.first[i+1] = s.first[i].plus(p)
		s.second[i+1] = s.second[i] + misfit(p, spot{}, withinOne)
	}
	for start := range s.rings {
		for width := leastWidth; width <= mostWidth && start+width <= stripColumns; width++ {
			s.rings[start][width] = s.ringCost(start, start+width)
		}
	}
	return s
}

// trimmed leaves out the smeared edges of a stretch.
func (s *stretches) trimmed(start, end int) (from, to int) {
	trim := min(s.soft, (end-start-1)/2)
	return start + trim, end - trim
}

// mean is the mean spot of a stretch without its edges.
func (s *stretches) mean(start, end int) spot {
	from, to := s.trimmed(start, end)
	return s.first[to].minus(s.first[from]).times(1 / float64(to-from))
}

// ringCost is what a stretch costs as a ring, but for what depends on the body: how
// unlike its own mean it is, how odd its width is, and what the network says.
func (s *stretches) ringCost(start, end int) float64 {
	from, to := s.trimmed(start, end)
	n := float64(to - from)
	mean := s.mean(start, end)
	inner := math.Max(0, s.second[to]-s.second[from]-n*misfit(mean, spot{}, withinOne))
	return s.told.own()*ringMisfit*inner/n*float64(end-start) + oddWidth[end-start] + s.told.ring(start, end)
}

// oddWidth is the price of a ring of so many columns, by how unusual that is.
var oddWidth = func() (prices [mostWidth + 1]float64) {
	for columns := 1; columns <= mostWidth; columns++ {
		d := math.Log(float64(columns)/8.5) / 0.5
		prices[columns] = 0.5 * d * d
	}
	return prices
}()

// A cutter holds the costs of one strip's stretches, given the body's colour.
type cutter struct {
	*stretches
	body    *[stripColumns]spot
	misfits [stripColumns + 1]float64 // running sums of what columns cost as body
	outside [stripColumns + 1]float64 // and as outside
	solids  [stripColumns + 1]float64 // and of how solid they are
}

func (s *stretches) cutter(body *[stripColumns]spot, spread spot, solid *[stripColumns]float64) *cutter {
	c := &cutter{stretches: s, body: body}
	for i, p := range s.spots {
		c.misfits[i+1] = c.misfits[i] + s.told.own()*math.Min(bodyCap, misfit(p, body[i], spread))
		c.outside[i+1] = c.outside[i] + s.told.own()*outsideCost(solid[i]) + s.told.outside(i)
		c.solids[i+1] = c.solids[i] + solid[i]
	}
	return c
}

// ringCost is what a stretch costs as a ring of this body: also how little it differs
// from it, and how much ground is beside it.
func (c *cutter) ringCost(start, end int) float64 {
	hollow := 1 - (c.solids[end]-c.solids[start])/float64(end-start)
	return c.rings[start][end-start] + c.price(start, end) + hollowPrice*hollow
}

// price is what of a ring's cost is no misfit.
func (c *cutter) price(start, end int) float64 {
	return ringPrice + c.told.doubted()*faintPrice*c.faint(start, end)
}

// faint is 1 for a stretch just like the body near by and 0 for one unlike it.
func (c *cutter) faint(start, end int) float64 {
	const nothing = 120 // the misfit from which there is no telling it from 0
	unlike := misfit(c.mean(start, end), c.body[(start+end)/2], tightBody)
	if unlike > nothing {
		return 0
	}
	return math.Exp(-unlike / 4)
}

// bodyCost is what a stretch costs as body.
func (c *cutter) bodyCost(start, end int) float64 {
	if start >= end {
		return 0
	}
	from, to := c.trimmed(start, end)
	return c.misfits[to] - c.misfits[from] + c.told.body(start, end)
}

// cut finds the cheapest cutting for each number of rings by dynamic
// programming over a segmental model: outside, body, ring, body, ring, …,
// body, outside.
func (c *cutter) cut() []cutting {
	const never = math.MaxFloat64 / 4
	// opening[i]: least cost of columns 0 to i as outside and then body;
	// closing[i]: of columns i to the end as body and then outside.
	var opening, closing [stripColumns + 1]float64
	var left, right [stripColumns + 1]int
	for i := range stripColumns + 1 {
		opening[i], closing[i] = never, never
		for out := 0; out <= min(i, mostOutside); out++ {
			if cost := c.outside[out] + oddOutside(out) + c.bodyCost(out, i) + c.scarce(i-out); cost < opening[i] {
				opening[i], left[i] = cost, out
			}
		}
		for out := 0; out <= min(stripColumns-i, mostOutside); out++ {
			if cost := c.outside[stripColumns] - c.outside[stripColumns-out] + oddOutside(out) + c.bodyCost(i, stripColumns-out) + c.scarce(stripColumns-out-i); cost < closing[i] {
				closing[i], right[i] = cost, stripColumns-out
			}
		}
	}

	// ended[i][k]: least cost of columns 0 to i with k rings, the last just ended;
	// from is where it started. begun[i][k]: likewise with ring k about to start;
	// before is where the ring before it ended.
	var ended, begun [stripColumns + 1][mostRings + 1]float64
	var from, before [stripColumns + 1][mostRings + 1]int
	for i := range stripColumns + 1 {
		for k := range mostRings + 1 {
			ended[i][k], begun[i][k] = never, never
		}
		for width := leastWidth; width <= min(mostWidth, i); width++ {
			start := i - width
			cost := c.ringCost(start, i)
			for k := 1; k <= mostRings; k++ {
				if cost := begun[start][k] + cost; cost < ended[i][k] {
					ended[i][k], from[i][k] = cost, start
				}
			}
		}
		begun[i][1] = opening[i]
		for previous := leastWidth; previous <= i-leastGap; previous++ {
			cost := c.bodyCost(previous, i)
			for k := 2; k <= mostRings; k++ {
				if cost := ended[previous][k-1] + cost; cost < begun[i][k] {
					begun[i][k], before[i][k] = cost, previous
				}
			}
		}
	}

	var out []cutting
	for k := 1; k <= mostRings; k++ {
		least, at := never, -1
		for end := leastWidth; end <= stripColumns; end++ {
			if cost := ended[end][k] + closing[end]; cost < least {
				least, at = cost, end
			}
		}
		if at < 0 {
			continue
		}
		cutting := cutting{cost: least, rings: make([]ring, k), right: right[at]}
		end := at
		for j := k; j >= 1; j-- {
			start := from[end][j]
			cutting.rings[j-1] = ring{start, end, c.mean(start, end)}
			cutting.prices += c.price(start, end)
			cutting.left = left[start]
			end = before[start][j]
		}
		cutting.body = c.body[(cutting.left+cutting.right)/2]
		out = append(out, cutting)
	}
	return out
}

// oddOutside is the price of having more or less outside the body than usual.
func oddOutside(columns int) float64 {
	d := (float64(columns) - usualOutside) / 9
	return 0.5 * d * d
}

// scarce is the price of having little or no body beyond the outermost ring.
func (c *cutter) scarce(columns int) float64 {
	return scarcePrice * math.Max(0, 1-float64(columns)/4)
}

// bodyGuesses guesses the body's colour: the spots with most of the strip like
// them, the commonest first.
func bodyGuesses(spots *[stripColumns]spot) []spot {
	const margin = 10
	inner := spots[margin : stripColumns-margin]
	votes := make([]float64, len(inner))
	for i := range inner {
		for j := range inner {
			votes[i] += math.Exp(-misfit(inner[i], inner[j], looseBody))
		}
	}
	var out []spot
	for range 2 {
		top := 0
		for i := range votes {
			if votes[i] > votes[top] {
				top = i
			}
		}
		if len(out) > 0 && votes[top] <= 11 {
			break
		}
		var sum spot
		total := 0.0
		for _, s := range inner {
			w := math.Exp(-misfit(inner[top], s, looseBody))
			sum = sum.plus(s.times(w))
			total += w
		}
		out = append(out, sum.times(1/total))
		for i := range votes {
			if misfit(inner[i], inner[top], looseBody) < 3 {
				votes[i] = 0
			}
		}
	}
	return out
}

// bodyNear follows the body's colour along the strip: at each column the
// weighted mean of the columns near by that a cutting takes for body.
func bodyNear(spots *[stripColumns]spot, c cutting, soft int) *[stripColumns]spot {
	const reach = 16.0 // columns
	var body [stripColumns]float64
	for i := c.left + 2; i < c.right-2; i++ {
		body[i] = math.Exp(-misfit(spots[i], c.body, looseBody)/2) + 1e-6
	}
	for _, r := range c.rings {
		for i := max(0, r.start-2*soft); i < min(stripColumns, r.end+2*soft); i++ {
			clear := float64(max(r.start-i, i-r.end+1)) / float64(2*soft) // of the ring's smeared edge
			body[i] *= max(0.02, clear*clear*clear)
			if i >= r.start && i < r.end {
				body[i] = 0
			}
		}
	}
	out := new([stripColumns]spot)
	for i := range out {
		sum, total := c.body.times(0.3), 0.3
		for j, w := range body {
			if w > 0 {
				d := float64(i-j) / reach
				w *= math.Exp(-0.5 * d * d)
				sum = sum.plus(spots[j].times(w))
				total += w
			}
		}
		out[i] = sum.times(1 / total)
	}
	return out
}
