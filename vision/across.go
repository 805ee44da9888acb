package vision

import (
	"math"

	"ringwise/vision/columns"
)

// across finds between which rows of the wide strip the body lies: rings run
// across all of it and end with it, so that its rows follow one pattern, which
// ground, shadow and neighbours do not. left and right are the columns of the
// cutter's strip between which the body lies. It reports false where the
// pattern is too faint to go by.
func across(s *columns.Strip, left, right int) (top, bottom int, ok bool) {
	const (
		middle  = columns.Rows / 2
		core    = 5    // rows to either side of the middle that give the pattern
		faint   = 12.0 // the pattern's spread in sRGB values below which it tells nothing
		follows = 0.5  // the correlation from which a row follows it
		breach  = 4    // rows, of glint perhaps, that need not
	)
	from, to := left+marginColumns, right+marginColumns
	row := func(r int) []float64 {
		out := make([]float64, 0, 3*(to-from))
		for k := range 3 {
			mean := 0.0
			for c := from; c < to; c++ {
				mean += float64(s.Pixels[r][c][k]) / float64(to-from)
			}
			for c := from; c < to; c++ {
				out = append(out, float64(s.Pixels[r][c][k])-mean)
			}
		}
		return out
	}
	pattern := make([]float64, 3*(to-from))
	for r := middle - core; r < middle+core; r++ {
		for i, v := range row(r) {
			pattern[i] += v / (2 * core)
		}
	}
	strength := dot(pattern, pattern)
	if strength < faint*faint*float64(len(pattern)) {
		return 0, 0, false
	}
	edge := func(step int) int {
		last := middle
		for r := middle; r >= 0 && r < columns.Rows && (r-last)*step < breach; r += step {
			if v := row(r); dot(v, pattern) > follows*math.Sqrt(dot(v, v)*strength) {
				last = r
			}
		}
		return last
	}
	top, bottom = edge(-1), edge(1)+1
	return top, bottom, bottom-top >= columns.Rows/5
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// patternShare is how much of a body's width its pattern is seen on: the rims
// are too dark.
const patternShare = 0.9

// evened is a box moved and sized across to where the pattern of its rings ends,
// and whether it lay far beside that. The strip was made for the box fitted; the
// body lies between two columns of it.
func evened(s *columns.Strip, fitted, body box, left, right int) (box, bool) {
	top, bottom, ok := across(s, left, right)
	if !ok {
		return body, false
	}
	row := 2 * stripAcross * fitted.rise / stripRows
	rise := float64(bottom-top) / 2 * row / patternShare
	off := (float64(top+bottom)/2 - columns.Rows/2) * row
	if math.Abs(off) < 0.2*body.rise && rise < 1.3*body.rise && rise > 0.65*body.rise {
		return body, false
	}
	body.x, body.y = body.at(0, off)
	body.rise = rise
	return body, true
}
