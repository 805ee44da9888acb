package network

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sort"
)

// A search finds the circuits of a count of parts whose resistance is nearest
// to a target.
//
// It is complete: for every shape and every choice of the parts that stand
// before the pair, the resistance rises with that of the pair, so that the
// best pairs lie on both sides of one place in the list of all pairs by
// resistance. From there it walks outwards for as long as a pair is no worse
// than the worst circuit kept. With n values there are n(n+1)/2 pairs, and so
// three parts cost n walks a shape and four parts n² walks.
type search struct {
	target float64
	values []float64 // distinct and rising
	counts []int     // how many there are of each, or AnyNumber
	pairs  map[Join]pairs
	keep   int
}

// pairs are all pairs of values in one join, by resistance, rising. Of each
// pair the ranks of its values are kept, the smaller first.
type pairs struct {
	ohms          []float64
	first, second []uint16
}

// A found circuit is a shape with the ranks of its values.
type found struct {
	off   float64 // how far off the target, in steps of 1e-12 of it
	shape int
	ranks [4]int
	parts int
}

// MostValues is the most different values that a search takes: all of E192 over
// ten decades. It bounds memory, some 100 bytes a pair, and time, a few seconds
// for four parts.
const MostValues = 2000

func newSearch(target float64, values []float64, counts []int, keep int) *search {
	s := &search{target: target, values: values, counts: counts, keep: keep, pairs: map[Join]pairs{}}
	s.pairs[Series] = s.pair(func(a, b float64) float64 { return a + b })
	s.pairs[Parallel] = s.pair(side)
	return s
}

// pair lists all pairs of values of which there are enough.
func (s *search) pair(resistance func(a, b float64) float64) pairs {
	type one struct {
		ohms          float64
		first, second uint16
	}
	n := len(s.values)
	all := make([]one, 0, n*(n+1)/2)
	for i, a := range s.values {
		for j := i; j < n; j++ {
			if i == j && s.counts[i] == 1 {
				continue
			}
			all = append(all, one{resistance(a, s.values[j]), uint16(i), uint16(j)})
		}
	}
	slices.SortFunc(all, func(x, y one) int {
		return cmp.Or(cmp.Compare(x.ohms, y.ohms), cmp.Compare(x.first, y.first), cmp.Compare(x.second, y.second))
	})
	p := pairs{make([]float64, len(all)), make([]uint16, len(all)), make([]uint16, len(all))}
	for i, one := range all {
		p.ohms[i], p.first[i], p.second[i] = one.ohms, one.first, one.second
	}
	return p
}

// off measures how far a resistance is off the target. Steps of 1e-12 of it
// keep rounding from deciding between equals.
func (s *search) off(ohms float64) float64 {
	return math.Round(math.Abs(ohms-s.target) / s.target * 1e12)
}

// best returns the best circuits of so many parts, nearest first; of equally
// near ones the simpler shape and the smaller values. It stops early with the
// context's error.
func (s *search) best(ctx context.Context, parts int) ([]found, error) {
	kept := &shortlist{keep: s.keep}
	if parts == 1 {
		for i, ohms := range s.values {
			kept.add(found{off: s.off(ohms), shape: -1, ranks: [4]int{i}, parts: 1})
		}
		return kept.list, nil
	}
	// What stands before the pair: nothing, one value or two.
	n := len(s.values)
	aEnd, bEnd := 1, 1
	if parts > 2 {
		aEnd = n
	}
	if parts > 3 {
		bEnd = n
	}
	for a := range aEnd {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for b := range bEnd {
			for i, shape := range shapes {
				if shape.parts == parts {
					s.walk(kept, i, a, b)
				}
			}
		}
	}
	return kept.list, nil
}

// walk tries the pairs of one shape with one choice of what stands before.
func (s *search) walk(kept *shortlist, at, a, b int) {
	shape := shapes[at]
	list := s.pairs[shape.pair]
	n := len(list.ohms)
	if n == 0 {
		return
	}
	ohmsA, ohmsB := s.values[a], s.values[b]
	whole := func(i int) float64 { return shape.resistance(ohmsA, ohmsB, list.ohms[i]) }
	// Often even the nearest end of the list is too far off.
	if low := whole(0); low > s.target && !kept.wants(s.off(low)) {
		return
	}
	if high := whole(n - 1); high < s.target && !kept.wants(s.off(high)) {
		return
	}
	try := func(i int) bool {
		off := s.off(whole(i))
		if !kept.wants(off) {
			return false
		}
		c, d := int(list.first[i]), int(list.second[i])
		if shape.ordered != nil && !shape.ordered(a, b, c, d) {
			return true
		}
		f := found{off: off, shape: at, parts: shape.parts}
		switch shape.parts {
		case 2:
			f.ranks = [4]int{c, d}
		case 3:
			f.ranks = [4]int{a, c, d}
		case 4:
			f.ranks = [4]int{a, b, c, d}
		}
		if s.enough(f) {
			kept.add(f)
		}
		return true
	}
	middle := sort.Search(n, func(i int) bool { return whole(i) >= s.target })
	for i := middle; i < n && try(i); i++ {
	}
	for i := middle - 1; i >= 0 && try(i); i-- {
	}
}

// enough reports whether there are enough of every value.
func (s *search) enough(f found) bool {
	for i, rank := range f.ranks[:f.parts] {
		need := 1
		for _, other := range f.ranks[:i] {
			if other == rank {
				need++
			}
		}
		if s.counts[rank] != AnyNumber && s.counts[rank] < need {
			return false
		}
	}
	return true
}

// A shortlist keeps the best circuits found so far, best first.
type shortlist struct {
	list []found
	keep int
}

// wants reports whether a circuit so far off may enter.
func (l *shortlist) wants(off float64) bool {
	return len(l.list) < l.keep || off <= l.list[len(l.list)-1].off
}

func (l *shortlist) add(f found) {
	at, _ := slices.BinarySearchFunc(l.list, f, compareFound)
	if at == l.keep {
		return
	}
	if len(l.list) == l.keep {
		l.list = l.list[:l.keep-1]
	}
	l.list = slices.Insert(l.list, at, f)
}

func compareFound(a, b found) int {
	return cmp.Or(cmp.Compare(a.off, b.off), cmp.Compare(a.shape, b.shape), slices.Compare(a.ranks[:], b.ranks[:]))
}
