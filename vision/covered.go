package vision

import (
	"math"
	"slices"

	"ringwise/vision/columns"
)

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

// How bars are looked for beside a body: as far as they may slant, in columns along for
// each half width across, and in how many rows they may not be seen.
const (
	steepestBar = 30
	slantStep   = 2
	mostUnseen  = 1
)

// besideRows tell of some rows of the surroundings in which columns something narrow
// is seen.
type besideRows [len(barRows[0])][columns.Columns]bool

// barsBeside tells over which columns of the body's axis a bar that is seen beyond one of
// its sides would run, straight on or at a slant.
func (l look) barsBeside() (crossed [columns.Columns]bool) {
	for _, rows := range barRows {
		var lines [len(rows)][columns.Columns]tint
		for i, r := range rows {
			for c, p := range l.strip.wide.Pixels[r] {
				lines[i][c] = labOf(p)
			}
		}
		for _, aside := range [...]int{8, 16, 28} { // columns
			var narrow besideRows
			empty := 0
			for i := range rows {
				for c := aside; c < columns.Columns-aside; c++ {
					narrow[i][c] = standsOut(lines[i][c], lines[i][c-aside], lines[i][c+aside])
				}
				if !slices.Contains(narrow[i][:], true) {
					empty++
				}
			}
			if empty <= mostUnseen { // on plain ground all are
				narrow.cross(rows, &crossed)
			}
		}
	}
	return crossed
}

// cross adds the columns of the axis over which bars seen in the rows would run.
func (n *besideRows) cross(rows [len(barRows[0])]int, crossed *[columns.Columns]bool) {
	for slant := -steepestBar; slant <= steepestBar; slant += slantStep {
		var shift [len(rows)]int
		for i, r := range rows {
			shift[i] = int(math.Round(float64(slant) * columns.Aside(float64(r)+0.5)))
		}
		for c := range crossed {
			unseen := 0
			for i := range rows {
				if at := c + shift[i]; at < 0 || at >= columns.Columns || !n[i][at] {
					unseen++
				}
			}
			crossed[c] = crossed[c] || unseen <= mostUnseen
		}
	}
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
