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

// How surely a network must see something over a column, and over how many columns
// of a body. Set by hand on generated scenes.
const (
	surelyOver = 0.4
	leastOver  = 3
)

// isCovered tells whether a network sees something lie over the body that runs on past
// one of its sides. Metal rings and highlights, which it may take for that, do not.
func (l look) isCovered() bool {
	crossed := l.barsBeside()
	from, to := l.left+marginColumns, l.right+marginColumns
	if !slices.Contains(crossed[from:to], true) {
		return false
	}
	covered := l.strip.seer().Covered()
	over, crossing := 0, false
	for c := from; c < to; c++ {
		if covered[c] > surelyOver {
			over++
			crossing = crossing || crossed[c]
		}
	}
	return over >= leastOver && crossing
}

// The rows of the surroundings, above the body and below it, in which bars are looked for.
var barRows = [2][5]int{{0, 1, 2, 3, 4}, {columns.Rows - 5, columns.Rows - 4, columns.Rows - 3, columns.Rows - 2, columns.Rows - 1}}

// barsBeside tells over which columns of the body's axis a bar that is seen beyond one of
// its sides would run, straight on or at a slant.
func (l look) barsBeside() (crossed [columns.Columns]bool) {
	const (
		steepest = 30 // columns along for each half width across
		step     = 2
		most     = 1 // rows in which a bar may not be seen
	)
	for _, rows := range barRows {
		var lines [len(rows)][columns.Columns]tint
		for i, r := range rows {
			for c, p := range l.strip.wide.Pixels[r] {
				lines[i][c] = labOf(p)
			}
		}
		for _, aside := range [...]int{8, 16, 28} {
			var narrow [len(rows)][columns.Columns]bool
			empty := 0
			for i := range rows {
				for c := aside; c < columns.Columns-aside; c++ {
					narrow[i][c] = standsOut(lines[i][c], lines[i][c-aside], lines[i][c+aside])
				}
				if !slices.Contains(narrow[i][:], true) {
					empty++
				}
			}
			if empty > most {
				continue // as on plain ground
			}
			for slant := -steepest; slant <= steepest; slant += step {
				var shift [len(rows)]int
				for i, r := range rows {
					shift[i] = int(math.Round(float64(slant) * (2*(float64(r)+0.5)/columns.Rows - 1) * columns.ReachAcross))
				}
				for c := range crossed {
					missed := 0
					for i := range rows {
						if at := c + shift[i]; at < 0 || at >= columns.Columns || !narrow[i][at] {
							missed++
						}
					}
					crossed[c] = crossed[c] || missed <= most
				}
			}
		}
	}
	return crossed
}

// standsOut tells whether something is unlike what lies to its left and to its right,
// while these are more like each other.
func standsOut(on, left, right tint) bool {
	const clear, alike = 12, 0.85 // Lab units; of the nearer side's distance
	apart := on.from(left)
	if apart <= clear {
		return false
	}
	apart = min(apart, on.from(right))
	return apart > clear && left.from(right) < alike*apart
}

// labOf is an sRGB colour, from 0 to 255 and red first, in CIELAB.
func labOf(p [3]float32) tint { return toTint(toLinear([3]float32{p[2], p[1], p[0]})) }

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
			place := (2*(float64(row)+0.5)/columns.Rows - 1) * columns.ReachAcross
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
