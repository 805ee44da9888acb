package marked

import (
	"cmp"
	"slices"
)

// spread moves places on a line so that neighbours are at least gap apart,
// keeping their order and their middle.
func spread(places []float64, gap float64) []float64 {
	order := make([]int, len(places))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(places[a], places[b]) })

	out := slices.Clone(places)
	moved := 0.0
	for k, i := range order {
		if k > 0 {
			out[i] = max(out[i], out[order[k-1]]+gap)
		}
		moved += out[i] - places[i]
	}
	for i := range out {
		out[i] -= moved / float64(len(out))
	}
	return out
}
