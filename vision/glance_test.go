package vision

import (
	"math"
	"testing"

	"ringwise/vision/columns"

	"github.com/stretchr/testify/assert"
)

// toldOf is the word of a network that is certain to the given probability.
func toldOf(classes [columns.Columns]columns.Class, certain float64) *told {
	t := new(told)
	for c, class := range classes {
		for k := range t.sums {
			l := math.Log((1 - certain) / float64(columns.Classes-1))
			if k == class {
				l = math.Log(certain)
			}
			t.sums[k][c+1] = t.sums[k][c] + l
		}
	}
	return t
}

func TestGlance(t *testing.T) {
	var row [columns.Columns]columns.Class
	for c := 30; c < 130; c++ {
		row[c] = columns.Body
	}
	for i, start := range []int{40, 55, 70, 100} {
		for c := start; c < start+7; c++ {
			row[c] = columns.Ring + i + 1
		}
	}
	g := toldOf(row, 0.9).glance()
	assert.Equal(t, 30, g.left)
	assert.Equal(t, 130, g.right)
	assert.Equal(t, 4, g.rings)
	assert.Greater(t, g.gain, 100.0)

	row[85] = columns.Ring // a single odd column is no ring
	assert.Equal(t, 4, toldOf(row, 0.9).glance().rings)

	nothing := toldOf([columns.Columns]columns.Class{}, 0.9).glance()
	assert.Zero(t, nothing.rings)
	assert.LessOrEqual(t, nothing.gain, 0.0)
	assert.Less(t, nothing.right, nothing.left)
}

func TestToldColours(t *testing.T) {
	var row [columns.Columns]columns.Class
	for c := range row {
		row[c] = columns.Body
	}
	for c := marginColumns + 40; c < marginColumns+48; c++ {
		row[c] = columns.Ring + 3
	}
	var seen ringLikelihood
	toldOf(row, 0.9).colours(ring{start: 40, end: 48}, &seen)
	for colour, l := range seen {
		if colour == 3 {
			assert.InDelta(t, math.Log(0.9/(0.9+12*0.1/14)), l/colourTrust, 1e-9)
		} else {
			assert.Less(t, l, seen[3]-3)
		}
	}
	var none *told
	var untouched ringLikelihood
	none.colours(ring{start: 40, end: 48}, &untouched)
	assert.Zero(t, untouched)
}
