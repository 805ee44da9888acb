package decode

import (
	"cmp"
	"math"
	"slices"
)

const (
	temper        = 1.25 // by which weights are divided: rings of one photo err together
	worthPursuing = 7.0  // how far below the best, in natural logarithms, a choice may lie
)

// A weighed code is a row of colours with its share of the probability.
type weighed struct {
	code  []Colour
	share float64
	total float64 // logarithm of its weight over all cuts
	best  float64 // the largest part of it
	cut   int
	order []int
}

// weigh returns the codes that the sighting may stand for, likeliest first.
func weigh(s Sighting, ways []bool) []weighed {
	ceilings := make([]float64, len(s.Cuts)) // the most that each cut could reach
	for i, cut := range s.Cuts {
		ceilings[i] = cut.LogWeight
		for j, r := range cut.Rings {
			ceilings[i] += slices.Max(r.LogLikelihood[:])
			if cut.Alike != nil {
				ceilings[i] += slices.Max(append(cut.Alike[j][:j:j], 0))
			}
		}
	}
	order := make([]int, len(s.Cuts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ceilings[b], ceilings[a]) })
	sum := tally{codes: map[uint32]*weighed{}, best: math.Inf(-1)}
	for _, i := range order {
		if math.IsNaN(ceilings[i]) || math.IsInf(ceilings[i], 1) {
			continue // no likelihood: of such a cut nothing can be said
		}
		if ceilings[i] < sum.best-worthPursuing {
			break
		}
		for _, reversed := range ways {
			sum.weighCut(s.Cuts[i], i, reversed)
		}
	}
	var all []weighed
	total := math.Inf(-1)
	for _, w := range sum.codes {
		all = append(all, *w)
	}
	slices.SortFunc(all, func(a, b weighed) int {
		return cmp.Or(cmp.Compare(b.total, a.total), slices.Compare(a.code, b.code))
	})
	for _, w := range all {
		total = logSum(total, w.total/temper)
	}
	for i := range all {
		all[i].share = math.Exp(all[i].total/temper - total)
	}
	return all
}

// A tally sums up the weight of each code over all cuts.
type tally struct {
	codes map[uint32]*weighed
	best  float64 // the largest weight of any code in any cut
}

// weighCut adds what one cut, read in one direction, says for each code. What
// can't come within worthPursuing of the best is left out; the bound on what
// the rings ahead can add makes that quick.
func (t *tally) weighCut(cut Cut, index int, reversed bool) {
	n := len(cut.Rings)
	if n >= len(shareOfRings) || shareOfRings[n] == 0 {
		return
	}
	s := search{tally: t, cut: index, alike: cut.Alike, code: make([]Colour, n), order: make([]int, n), ahead: make([]float64, n+1), digits: digitsOf[n]}
	for i := range s.order {
		s.order[i] = i
		if reversed {
			s.order[i] = n - 1 - i
		}
		s.likelihood[i] = &cut.Rings[s.order[i]].LogLikelihood
	}
	for i := n - 1; i >= 0; i-- {
		most := math.Inf(-1)
		for c, l := range s.likelihood[i] {
			most = max(most, l+logRole[n][i][c])
		}
		alike := 0.0
		for j := range i {
			alike = max(alike, s.alikeness(i, j))
		}
		s.ahead[i] = s.ahead[i+1] + most + alike
	}
	start := cut.LogWeight + logSpacing(cut.Rings, reversed) + math.Log(shareOfRings[n])
	s.choose(0, start, mostDigits[s.digits])
}

// A search runs through the codes that one cut may stand for.
type search struct {
	*tally
	cut        int
	alike      [][]float64
	code       []Colour
	order      []int
	likelihood [6]*[ColourCount]float64
	ahead      []float64 // the most that the rings from here on can add
	digits     int
}

// alikeness is what two places of the code add if they have the same colour.
func (s *search) alikeness(p, q int) float64 {
	if s.alike == nil {
		return 0
	}
	return s.alike[s.order[p]][s.order[q]]
}

// choose tries each colour for the ring at a place. weight is what the rings
// before it and the account as a whole add up to, digits the most that the
// value's digits can add.
func (s *search) choose(at int, weight, digits float64) {
	if at == len(s.code) {
		if prior := logPrior(s.code); !math.IsInf(prior, -1) {
			for i, c := range s.code {
				weight -= logRole[len(s.code)][i][c]
			}
			s.add(s.code, weight+prior, s.cut, s.order)
		}
		return
	}
	if at == s.digits && at > 0 {
		number := 0
		for _, c := range s.code[:at] {
			number = 10*number + int(min(c, White)) // a multiplier may stand third
		}
		digits = logDigitsAny[at][number]
	}
	for c, l := range s.likelihood[at] {
		l += logRole[len(s.code)][at][c] + s.likeEarlier(at, Colour(c))
		if weight+l+s.ahead[at+1]+digits > s.best-worthPursuing {
			s.code[at] = Colour(c)
			s.choose(at+1, weight+l, digits)
		}
	}
}

// likeEarlier is what a colour at a place adds for being that of an earlier place: of
// the nearest of them, or rings of one paint would count for more than the links
// between them.
func (s *search) likeEarlier(at int, c Colour) float64 {
	for earlier := at - 1; earlier >= 0; earlier-- {
		if s.code[earlier] == c {
			return s.alikeness(at, earlier)
		}
	}
	return 0
}

func (t *tally) add(code []Colour, weight float64, cut int, order []int) {
	key := uint32(0)
	for _, c := range code {
		key = key<<4 | uint32(c) + 1
	}
	w := t.codes[key]
	if w == nil {
		w = &weighed{code: slices.Clone(code), total: math.Inf(-1), best: math.Inf(-1)}
		t.codes[key] = w
	}
	w.total = logSum(w.total, weight)
	if weight > w.best {
		w.best, w.cut, w.order = weight, cut, order
		t.best = max(t.best, weight)
	}
}
