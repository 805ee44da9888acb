package vision

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ringwise/decode"
	"ringwise/vision/columns"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Colours of made-up strips, in CIELAB: a tan body on paper and rings of plain
// colours, chosen by eye.
var (
	rowPaper = spot{tint{93, 0, 3}, 2}
	rowTan   = spot{tint{74, 6, 26}, 14}
	rowRings = []spot{
		{tint{43, 42, 22}, 12}, {tint{38, 20, -18}, 11}, {tint{42, -24, 16}, 12},
		{tint{36, 8, -30}, 13}, {tint{33, 10, 12}, 12}, {tint{26, 0, 2}, 16},
	}
)

// row is a strip of body from column left up to column right, between ground,
// with rings of one width that start at the given columns, and slight noise,
// the same each time. Only the body is solid.
func row(left, right, width int, starts []int) (*[stripColumns]spot, *[stripColumns]float64) {
	random := rand.New(rand.NewPCG(3, uint64(len(starts))))
	noise := func(most float64) float64 { return most * (2*random.Float64() - 1) }
	spots, solid := new([stripColumns]spot), new([stripColumns]float64)
	for i := range spots {
		spots[i] = rowPaper
		if i >= left && i < right {
			spots[i], solid[i] = rowTan, 1
		}
		for r, start := range starts {
			if i >= start && i < start+width {
				spots[i] = rowRings[r]
			}
		}
		spots[i] = spots[i].plus(spot{tint{noise(2), noise(1.5), noise(1.5)}, noise(2)})
	}
	return spots, solid
}

// everywhere is one colour all along the strip.
func everywhere(s spot) *[stripColumns]spot {
	out := new([stripColumns]spot)
	for i := range out {
		out[i] = s
	}
	return out
}

func cheapest(cuts []cutting) cutting {
	return slices.MinFunc(cuts, func(a, b cutting) int { return cmp.Compare(a.cost, b.cost) })
}

// The cheapest cutting of a made-up strip has the rings that were put there, and
// nothing of the body outside. Where rings lie is common practice, no source;
// their number is that of IEC 60062: three to six.
func TestCuts(t *testing.T) {
	const columns = 2 // by which an edge may be missed
	for _, c := range []struct {
		name               string
		left, right, width int
		starts             []int
	}{
		{"three rings", 13, 115, 8, []int{26, 46, 80}},
		{"four rings", 13, 115, 8, []int{24, 42, 60, 92}},
		{"five rings", 13, 115, 8, []int{22, 38, 54, 70, 96}},
		{"six rings", 13, 115, 7, []int{20, 34, 48, 62, 78, 98}},
		{"narrow rings", 13, 115, 4, []int{26, 40, 54, 90}},
		{"wide rings", 13, 115, 12, []int{22, 42, 62, 92}},
		{"much ground to the left", 30, 117, 6, []int{40, 54, 68, 98}},
		{"much ground to the right", 11, 98, 6, []int{22, 36, 50, 80}},
		{"body fills the strip", 2, 126, 9, []int{14, 36, 58, 100}},
	} {
		for _, soft := range []int{1, 2} {
			t.Run(fmt.Sprintf("%s, soft %d", c.name, soft), func(t *testing.T) {
				spots, solid := row(c.left, c.right, c.width, c.starts)
				best := cheapest(newStretches(spots, soft, nil).cuts(everywhere(rowTan), solid))
				require.Len(t, best.rings, len(c.starts))
				assert.InDelta(t, c.left, best.left, columns, "left end")
				assert.InDelta(t, c.right, best.right, columns, "right end")
				for i, r := range best.rings {
					assert.InDelta(t, c.starts[i], r.start, columns, "start of ring %d", i)
					assert.InDelta(t, c.starts[i]+c.width, r.end, columns, "end of ring %d", i)
					off := r.seen.minus(rowRings[i])
					assert.InDelta(t, 0, distanceOf(off.tint), 3, "colour of ring %d", i)
				}
				assert.InDelta(t, 0, distanceOf(best.body.minus(rowTan).tint), 3, "colour of the body")
			})
		}
	}
}

// distanceOf is the length of a difference of tints, which is CIE 1976 ΔE*ab.
func distanceOf(d tint) float64 {
	return math.Sqrt(d.l*d.l + d.a*d.a + d.b*d.b)
}

// Each number of rings is offered once, and each ring taken for one on a plain
// body makes the cutting dearer.
func TestCutsPlain(t *testing.T) {
	spots, solid := row(13, 115, 0, nil)
	cuts := newStretches(spots, 1, nil).cuts(everywhere(rowTan), solid)
	require.Len(t, cuts, mostRings)
	for i, c := range cuts {
		assert.Len(t, c.rings, i+1)
		if i > 0 {
			assert.Greater(t, c.cost, cuts[i-1].cost+ringPrice, "%d rings", i+1)
		}
	}
}

// Rings explain a strip with rings better than two would, and explain nothing
// on a plain one. The colours are those of drawn scenes.
func TestLookGain(t *testing.T) {
	for _, c := range []struct {
		name   string
		starts []int
		rings  int
		gains  bool
	}{
		{"plain", nil, 1, false},
		{"one ring", []int{60}, 1, false},
		{"two rings", []int{44, 76}, 2, false},
		{"three rings", []int{26, 46, 80}, 3, true},
		{"four rings", []int{24, 42, 60, 92}, 4, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := drawStrip(func(_, column int) tint {
				for r, start := range c.starts {
					if column >= start && column < start+8 {
						return rowRings[r].tint
					}
				}
				if column < 13 || column >= 115 {
					return rowPaper.tint
				}
				return rowTan.tint
			})
			l := lookOnce(s, []tint{rowPaper.tint}, fit{}, nil)
			assert.Equal(t, c.gains, l.gain >= leastGain, "gain %v", l.gain)
			assert.Equal(t, c.rings, l.rings)
			if len(c.starts) == 0 {
				return // the ring that each cutting has lies anywhere, beyond the ends even
			}
			assert.InDelta(t, 13, l.left, 2)
			assert.InDelta(t, 115, l.right, 2)
			assert.Greater(t, l.solid, 0.95)
			assert.Less(t, l.open, 0.05)
		})
	}
}

// A ring that looks just like the body, as gold on tan does, is found where the
// network plainly tells it from the body, and not where it hardly does.
func TestCutFaintRing(t *testing.T) {
	for _, c := range []struct {
		gold  float64 // the probability of gold where the ring lies
		rings int
	}{
		{0.5, 3},
		{0.85, 4},
	} {
		spots, solid := row(13, 115, 8, []int{24, 42, 60})
		var seen columns.LogLikelihoods
		for i := range seen {
			likely := map[columns.Class]float64{}
			switch at := i - marginColumns; {
			case at < 13 || at >= 115:
				likely[columns.Outside] = 0.95
			case at >= 92 && at < 100:
				likely[columns.Ring+int(decode.Gold)], likely[columns.Body] = c.gold, 0.95-c.gold
			default:
				likely[columns.Body] = 0.95
				for r, start := range []int{24, 42, 60} {
					if at >= start && at < start+8 {
						likely = map[columns.Class]float64{columns.Ring + r: 0.95}
					}
				}
			}
			for k := range seen[i] {
				seen[i][k] = float32(math.Log(max(likely[k], 0.001)))
			}
		}
		best := cheapest(newStretches(spots, 1, tell(&seen)).cuts(everywhere(rowTan), solid))
		assert.Len(t, best.rings, c.rings, "gold with %v", c.gold)
		if c.rings == 4 && len(best.rings) == 4 {
			assert.InDelta(t, 92, best.rings[3].start, 2)
			assert.InDelta(t, 100, best.rings[3].end, 2)
		}
	}
}

// The commonest colour of a strip is the first guess at the body's, whatever
// the rings and the ground are.
func TestBodyGuesses(t *testing.T) {
	spots, _ := row(13, 115, 8, []int{24, 42, 60, 92})
	guesses := bodyGuesses(spots)
	require.NotEmpty(t, guesses)
	assert.InDelta(t, 0, distanceOf(guesses[0].minus(rowTan).tint), 3)
}

// Where the edges of rings are smeared, the middle of each still shows its own
// colour. The smear is OpenCV's.
func TestCutsSmeared(t *testing.T) {
	starts := []int{24, 42, 60, 92}
	spots, solid := row(13, 115, 10, starts)
	var l, a, b []float64
	for _, s := range spots {
		l, a, b = append(l, s.l), append(a, s.a), append(b, s.b)
	}
	l, a, b = smeared(t, l, 1.2), smeared(t, a, 1.2), smeared(t, b, 1.2)
	for i := range spots {
		spots[i].tint = tint{l[i], a[i], b[i]}
	}
	best := cheapest(newStretches(spots, 3, nil).cuts(everywhere(rowTan), solid))
	require.Len(t, best.rings, len(starts))
	for i, r := range best.rings {
		assert.InDelta(t, starts[i], r.start, 2, "start of ring %d", i)
		assert.InDelta(t, starts[i]+10, r.end, 2, "end of ring %d", i)
		assert.InDelta(t, 0, distanceOf(r.seen.minus(rowRings[i]).tint), 2, "colour of ring %d", i)
	}
}

// Where light falls off along a body, its colour is followed, under the rings
// too.
func TestBodyNear(t *testing.T) {
	starts := []int{24, 42, 60, 92}
	slope := func(i int) float64 { return 0.16 * float64(i-64) }
	spots, solid := row(13, 115, 8, starts)
	for i := range spots {
		spots[i].l += slope(i)
	}
	best := cheapest(newStretches(spots, 1, nil).cuts(everywhere(rowTan), solid))
	require.Len(t, best.rings, len(starts))
	for _, i := range []int{28, 38, 46, 54, 64, 76, 86, 96} {
		want := rowTan.tint
		want.l += slope(i)
		assert.InDelta(t, 0, distanceOf(best.near[i].tint.minus(want)), 2, "column %d", i)
	}
}
