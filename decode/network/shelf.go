package network

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// errNoParts tells of an empty stock.
var errNoParts = errors.New("there are no parts to choose from: put parts into the stock, or choose from a series such as E24")

// A shelf sorts parts by value, for a search that cares for values only.
type shelf struct {
	values []float64 // distinct and rising
	counts []int     // how many there are of each, or AnyNumber
	parts  [][]Part  // of each value, in the order in which to take them
}

func newShelf(parts []Part) shelf {
	sorted := slices.Clone(parts)
	slices.SortStableFunc(sorted, func(a, b Part) int {
		return cmp.Or(a.Value.Ohms.Cmp(b.Value.Ohms), cmp.Compare(tolerance(a), tolerance(b)),
			cmp.Compare(b.RatedWatts, a.RatedWatts))
	})
	var s shelf
	for _, p := range sorted {
		last := len(s.values) - 1
		if last < 0 || s.values[last] != p.Value.ohms() {
			s.values, s.counts, s.parts = append(s.values, p.Value.ohms()), append(s.counts, 0), append(s.parts, nil)
			last++
		}
		s.parts[last] = append(s.parts[last], p)
		if p.Count == AnyNumber || s.counts[last] == AnyNumber {
			s.counts[last] = AnyNumber
		} else {
			s.counts[last] = min(s.counts[last]+p.Count, MostParts) // more are never asked for
		}
	}
	return s
}

// tolerance of a part in percent, endless if unknown.
func tolerance(p Part) float64 {
	if p.Value.TolerancePercent.Valid {
		return p.Value.TolerancePercent.Decimal.InexactFloat64()
	}
	return math.Inf(1)
}

// take returns a part for each rank of a value, of which there are enough.
func (s shelf) take(ranks []int) []Part {
	taken := make([]Part, len(ranks))
	for i, rank := range ranks {
		before := 0 // of the same value
		for _, other := range ranks[:i] {
			if other == rank {
				before++
			}
		}
		for _, p := range s.parts[rank] {
			if p.enough(before + 1) {
				taken[i] = p
				break
			}
			before -= p.Count
		}
	}
	return taken
}
