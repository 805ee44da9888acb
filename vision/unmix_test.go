package vision

import (
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// smeared blurs one channel of a row with OpenCV's Gaussian.
func smeared(t *testing.T, values []float64, spread float64) []float64 {
	t.Helper()
	m := gocv.NewMatWithSize(1, len(values), gocv.MatTypeCV32F)
	defer m.Close()
	for i, v := range values {
		m.SetFloatAt(0, i, float32(v))
	}
	gocv.GaussianBlur(m, &m, image.Pt(31, 1), spread, spread, gocv.BorderReplicate)
	out := make([]float64, len(values))
	for i := range out {
		out[i] = float64(m.GetFloatAt(0, i))
	}
	return out
}

// Once a row of boxes is smeared, the colours of its rings are recovered far
// closer than their plain means come. The smear is OpenCV's.
func TestUnmix(t *testing.T) {
	starts := []int{26, 42, 58, 92}
	for _, c := range []struct {
		width int
		blur  float64 // of lightness, in columns; colour is smeared more
		most  float64 // of the plain mean's error that may be left
	}{
		{5, 1.2, 0.4}, {5, 1.8, 0.5}, {6, 1.8, 0.4}, {7, 2.6, 0.4}, {8, 1.8, 0.4},
	} {
		t.Run(fmt.Sprintf("%d columns smeared over %v", c.width, c.blur), func(t *testing.T) {
			sharp := *everywhere(rowTan)
			for r, start := range starts {
				for i := start; i < start+c.width; i++ {
					sharp[i] = rowRings[r]
				}
			}
			var l, a, b []float64
			for _, s := range sharp {
				l, a, b = append(l, s.l), append(a, s.a), append(b, s.b)
			}
			const coarser = 0.9 // what storing colour coarsely adds, in photo pixels
			colour := math.Hypot(c.blur, coarser)
			l, a, b = smeared(t, l, c.blur), smeared(t, a, colour), smeared(t, b, colour)
			spots := new([stripColumns]spot)
			for i := range spots {
				spots[i] = spot{tint{l[i], a[i], b[i]}, rowTan.sheen}
			}

			cut := cutting{left: 13, right: 115, near: everywhere(rowTan)}
			var plain []spot
			for _, start := range starts {
				var sum spot
				for i := start; i < start+c.width; i++ {
					sum = sum.plus(spots[i].times(1 / float64(c.width)))
				}
				plain = append(plain, sum)
				cut.rings = append(cut.rings, ring{start, start + c.width, sum})
			}
			cut.unmix(spots, 1)
			for r, ring := range cut.rings {
				before := distanceOf(plain[r].minus(rowRings[r]).tint)
				after := distanceOf(ring.seen.minus(rowRings[r]).tint)
				require.Greater(t, before, 4.0, "the smear is felt")
				assert.Less(t, after, c.most*before, "ring %d, %v before", r, before)
				assert.Equal(t, plain[r].sheen, ring.seen.sheen, "sheen stays")
			}
		})
	}
}

// Linear equations with known solutions. The first is a worked example printed
// in many introductions to Gauss's method, from memory; the others are checked
// by putting the solution in.
func TestSolve(t *testing.T) {
	for _, c := range []struct {
		name   string
		matrix [][]float64
		right  []float64
		want   []float64
	}{
		{"worked example", [][]float64{{2, 1, -1}, {-3, -1, 2}, {-2, 1, 2}}, []float64{8, -11, -3}, []float64{2, 3, -1}},
		{"one", [][]float64{{4}}, []float64{10}, []float64{2.5}},
		{"zero first", [][]float64{{0, 2}, {3, 0}}, []float64{8, 9}, []float64{3, 4}},
		{"tiny first", [][]float64{{1e-20, 1}, {1, 1}}, []float64{1, 2}, []float64{1, 1}},
		{"Hilbert", [][]float64{{1, 1. / 2, 1. / 3}, {1. / 2, 1. / 3, 1. / 4}, {1. / 3, 1. / 4, 1. / 5}},
			[]float64{11. / 6, 13. / 12, 47. / 60}, []float64{1, 1, 1}},
		{"unknown that plays no part", [][]float64{{2, 0}, {0, 0}}, []float64{6, 0}, []float64{3, 0}},
		{"none", nil, nil, nil},
	} {
		var before [][]float64
		for _, r := range c.matrix {
			before = append(before, append([]float64(nil), r...))
		}
		right := append([]float64(nil), c.right...)
		got := solve(c.matrix, c.right)
		require.Len(t, got, len(c.want), c.name)
		for i := range c.want {
			assert.InDelta(t, c.want[i], got[i], 1e-9, "%s, unknown %d", c.name, i)
		}
		assert.Equal(t, before, c.matrix, "%s: the matrix stays", c.name)
		assert.Equal(t, right, c.right, "%s: the right side stays", c.name)
	}
}
