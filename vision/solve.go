package vision

import (
	"math"
	"slices"
)

// solve solves linear equations by Gauss's method with pivoting. It leaves what
// it is given as it was.
func solve(matrix [][]float64, right []float64) []float64 {
	n := len(right)
	a := make([][]float64, n)
	for r := range a {
		a[r] = slices.Clone(matrix[r])
	}
	x := slices.Clone(right)
	for p := range n {
		best := p
		for r := p + 1; r < n; r++ {
			if math.Abs(a[r][p]) > math.Abs(a[best][p]) {
				best = r
			}
		}
		a[p], a[best] = a[best], a[p]
		x[p], x[best] = x[best], x[p]
		if a[p][p] == 0 {
			continue
		}
		for r := p + 1; r < n; r++ {
			f := a[r][p] / a[p][p]
			for c := p; c < n; c++ {
				a[r][c] -= f * a[p][c]
			}
			x[r] -= f * x[p]
		}
	}
	for p := n - 1; p >= 0; p-- {
		for c := p + 1; c < n; c++ {
			x[p] -= a[p][c] * x[c]
		}
		if a[p][p] != 0 {
			x[p] /= a[p][p]
		}
	}
	return x
}
