package vision

import (
	"math"
	"slices"

	"ringwise/vision/columns"
)

// isCrossed tells whether something lies across the body, as a wire, a lead or tape
// may: what the likeliest cutting takes for a ring runs on past both sides of the
// body, or a network sees something over it.
func (l look) isCrossed() bool {
	c, ok := l.likeliest()
	return ok && (slices.ContainsFunc(c.rings, l.runsOn) || l.isCovered())
}

// runsOn tells whether a ring is seen beyond both sides of the body, straight on or
// at a slant.
func (l look) runsOn(r ring) bool {
	const (
		beyond = 1.2 // half widths of the body from its axis
		slants = 8   // columns at the body's side
	)
	for slant := -slants; slant <= slants; slant++ {
		var rows, shown [2]int // on either side
		for row := range columns.Rows {
			place := columns.Aside(float64(row) + 0.5)
			if math.Abs(place) < beyond {
				continue
			}
			side := 0
			if place > 0 {
				side = 1
			}
			rows[side]++
			if l.showsBeside(r, row, int(math.Round(float64(slant)*place))) {
				shown[side]++
			}
		}
		if 2*shown[0] > rows[0] && 2*shown[1] > rows[1] {
			return true
		}
	}
	return false
}

// showsBeside tells whether a row of the surroundings shows, where a ring shifted
// along would cross it, what stands out from the ground to the left and to the right
// and is more like the ring than they are. Through tape the ground still shows.
func (l look) showsBeside(r ring, row, shift int) bool {
	const (
		plain  = 15 // Lab units
		levels = 12 // of sRGB, by which colours that far apart differ in one channel at least
		nearer = 0.85
	)
	middle := (r.start+r.end)/2 + marginColumns + shift
	aside := r.end - r.start + 4
	if middle-aside < 0 || middle+aside >= columns.Columns {
		return false
	}
	pixels := &l.strip.wide.Pixels[row]
	here, ground := pixels[middle], [2][3]float32{pixels[middle-aside], pixels[middle+aside]}
	for _, g := range ground {
		if max(abs(here[0]-g[0]), abs(here[1]-g[1]), abs(here[2]-g[2])) < levels {
			return false
		}
	}
	seen := labOf(here)
	for _, g := range ground {
		if beside := labOf(g); seen.from(beside) < plain || seen.from(r.seen.tint) > nearer*beside.from(r.seen.tint) {
			return false
		}
	}
	return true
}

func abs(x float32) float32 { return max(x, -x) }
