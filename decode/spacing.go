package decode

import (
	"math"
	"slices"
)

// logSpacing says how well the rings' places fit reading in one direction:
// rings are evenly wide and evenly spaced, but for a wider gap before the
// tolerance ring, and the first ring sits nearer to its end of the body.
// Common practice, no source: IEC 60062 asks only that the first ring be the
// nearer to its end.
func logSpacing(rings []SeenRing, reversed bool) float64 {
	n := len(rings)
	if n < 3 {
		return 0
	}
	gaps := make([]float64, n-1)
	for i := range gaps {
		gaps[i] = math.Max(0.01, rings[i+1].Centre-rings[i].Centre)
	}
	first, last := rings[0].Centre, 1-rings[n-1].Centre
	if reversed {
		slices.Reverse(gaps)
		first, last = last, first
	}
	weight := 0.5 * math.Max(-1, math.Min(1, (last-first)/0.12))
	widths := 0.0
	for _, r := range rings {
		widths += math.Log(r.Width) / float64(n)
	}
	for _, r := range rings {
		weight += odd(math.Log(r.Width)-widths, 0.25)
	}
	if n == 3 {
		// Where a tolerance ring would be the body is bare.
		bare := math.Max(0, 1.4-last/gaps[1])
		return weight + odd(math.Log(gaps[1]/gaps[0]), 0.2) - 8*math.Min(1, bare/0.6)
	}
	value := gaps[:n-2] // the gaps between digits and multiplier
	wide := math.Log(gaps[n-2])
	if n == 6 {
		value = gaps[:3]
		wide = math.Log(max(gaps[3], gaps[4]))
	}
	pitch := 0.0
	for _, g := range value {
		pitch += math.Log(g) / float64(len(value))
	}
	for _, g := range value {
		weight += odd(math.Log(g)-pitch, 0.1)
	}
	if n == 6 {
		weight += odd(math.Log(min(gaps[3], gaps[4]))-pitch, 0.15)
	}
	even, apart := wide-pitch, wide-pitch-0.5
	spread := 0.22
	if apart > 0 {
		spread = 0.7 // the gap may be several times the pitch
	}
	return weight + logSum(math.Log(0.3)-0.5*even*even/0.12/0.12, math.Log(0.7)-0.5*apart*apart/spread/spread)
}

// odd is the weight, at most zero, of a difference that is usually no larger
// than the given spread; its tails are heavy, since odd parts exist.
func odd(difference, spread float64) float64 {
	d := difference / spread
	return -2 * math.Log1p(d*d/4)
}
