package vision

import (
	"math"
)

// A ring is a stretch of the strip that a cut takes for a ring: columns from
// start up to end.
type ring struct {
	start, end int
	tint       tint // the mean colour inside, edges left out
}

// A cutting is one way to cut the strip into rings.
type cutting struct {
	rings []ring
	body  tint
	cost  float64 // negative logarithm of its likelihood, up to a constant
}

const (
	mostRings  = 7
	leastWidth = 3  // columns of the narrowest ring
	mostWidth  = 34 // columns of the widest
)

// sums holds running sums of tints and of their squares, so that the spread
// within any stretch is known at once.
type sums struct {
	first  [stripColumns + 1]tint
	second [stripColumns + 1]float64
}

func runningSums(tints *[stripColumns]tint) *sums {
	s := new(sums)
	for i, t := range tints {
		s.first[i+1] = s.first[i].plus(t)
		s.second[i+1] = s.second[i] + t.l*t.l + t.a*t.a + t.b*t.b
	}
	return s
}

// stretch returns the mean tint of columns from start up to end and the sum of
// squared distances to it.
func (s *sums) stretch(start, end int) (mean tint, squares float64) {
	n := float64(end - start)
	total := s.first[end].minus(s.first[start])
	mean = total.times(1 / n)
	squares = s.second[end] - s.second[start] - n*(mean.l*mean.l+mean.a*mean.a+mean.b*mean.b)
	return mean, math.Max(0, squares)
}

// cuts returns, for each number of rings, the best way to cut the strip. It is
// a segmental model solved by dynamic programming: body and ring stretches
// alternate, body stretches look like the body, ring stretches look like
// themselves. soft is the number of columns over which an edge is smeared.
func cuts(tints *[stripColumns]tint, body tint, soft int) []cutting {
	running := runningSums(tints)
	const never = math.MaxFloat64 / 4

	ringCost := func(start, end int) float64 {
		trim := min(soft, (end-start-1)/2)
		_, squares := running.stretch(start+trim, end-trim)
		inner := float64(end - start - 2*trim)
		return 0.5 * squares / inner * float64(end-start) / ringSpread / ringSpread
	}
	bodyCost := func(start, end int) float64 {
		if start == end {
			return 0
		}
		trim := 0
		if end-start > 2*soft {
			trim = soft
		} else {
			trim = (end - start - 1) / 2
		}
		from, to := start+trim, end-trim
		if start == 0 {
			from = min(endCap, end-1)
		}
		if end == stripColumns {
			to = max(stripColumns-endCap, from+1)
		}
		cost := 0.0
		for i := from; i < to; i++ {
			cost += math.Min(bodyCap, bodyMisfit(tints[i], body))
		}
		return cost
	}

	// best[k][i]: least cost of columns 0 to i with k rings, the last just
	// ended; from remembers its start and where the ring before it ended.
	var best [mostRings + 1][stripColumns + 1]float64
	var from, before [mostRings + 1][stripColumns + 1]int
	var bodyTable [stripColumns + 1][stripColumns + 1]float32
	for i := 0; i <= stripColumns; i++ {
		for j := i; j <= stripColumns; j++ {
			bodyTable[i][j] = float32(bodyCost(i, j))
		}
	}
	for k := 1; k <= mostRings; k++ {
		var entry [stripColumns + 1]float64 // least cost up to a ring's start
		var entryFrom [stripColumns + 1]int
		for start := range stripColumns {
			entry[start] = never
			if k == 1 {
				if start >= endCap/2 {
					entry[start] = float64(bodyTable[0][start])
				}
				continue
			}
			for previous := leastWidth; previous <= start-leastGap; previous++ {
				if c := best[k-1][previous] + float64(bodyTable[previous][start]); c < entry[start] {
					entry[start], entryFrom[start] = c, previous
				}
			}
		}
		for end := 0; end <= stripColumns; end++ {
			best[k][end] = never
			for width := leastWidth; width <= mostWidth && width <= end; width++ {
				start := end - width
				if entry[start] >= never {
					continue
				}
				if c := entry[start] + ringCost(start, end) + widthCost(width); c < best[k][end] {
					best[k][end], from[k][end], before[k][end] = c, start, entryFrom[start]
				}
			}
		}
	}

	var out []cutting
	for k := 1; k <= mostRings; k++ {
		least, at := never, -1
		for end := leastWidth; end <= stripColumns-endCap/2; end++ {
			if c := best[k][end] + float64(bodyTable[end][stripColumns]); c < least {
				least, at = c, end
			}
		}
		if at < 0 {
			continue
		}
		c := cutting{body: body, cost: least, rings: make([]ring, k)}
		for j, end := k, at; j >= 1; j-- {
			start := from[j][end]
			trim := min(soft, (end-start-1)/2)
			mean, _ := running.stretch(start+trim, end-trim)
			c.rings[j-1] = ring{start, end, mean}
			end = before[j][end]
		}
		out = append(out, c)
	}
	return out
}

const (
	ringSpread = 4.5 // spread of tint within a ring, in Lab units
	bodyCap    = 9.0 // the most that one column that is no body costs
	endCap     = 8   // columns at either end that may be cap, lead or ground
	leastGap   = 2   // columns of body between two rings
)

// bodyMisfit says how unlike the body a column is. Lightness counts for less,
// since bodies bulge.
func bodyMisfit(t, body tint) float64 {
	d := t.minus(body)
	return 0.5 * (d.l*d.l/64 + (d.a*d.a+d.b*d.b)/20)
}

// widthCost is the price of a ring of the given width: rings are about a
// fourteenth of the body wide.
func widthCost(width int) float64 {
	d := math.Log(float64(width)/9.5) / 0.42
	return 0.5*d*d + 3
}

// bodyTints guesses the body's colour: the tints with most of the strip like
// them, the commonest first.
func bodyTints(tints *[stripColumns]tint) []tint {
	var votes [stripColumns]float64
	for i := endCap; i < stripColumns-endCap; i++ {
		for j := endCap; j < stripColumns-endCap; j++ {
			votes[i] += math.Exp(-bodyMisfit(tints[i], tints[j]))
		}
	}
	var out []tint
	for range 2 {
		top := endCap
		for i := range votes {
			if votes[i] > votes[top] {
				top = i
			}
		}
		if votes[top] <= 6 {
			break
		}
		var sum tint
		total := 0.0
		for j := endCap; j < stripColumns-endCap; j++ {
			w := math.Exp(-bodyMisfit(tints[top], tints[j]))
			sum = sum.plus(tints[j].times(w))
			total += w
		}
		out = append(out, sum.times(1/total))
		centre := tints[top]
		for i := range votes {
			if bodyMisfit(tints[i], centre) < 4 {
				votes[i] = 0
			}
		}
	}
	return out
}
