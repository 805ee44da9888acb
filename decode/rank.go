package decode

import (
	"cmp"
	"math"
	"slices"

	"ringwise/decode/series"
)

// A Candidate is one reading that the sighting may stand for.
type Candidate struct {
	Reading

	// Confidence is the probability, 0 to 1, that these are the rings on the
	// part, whichever of their readings is meant. The confidences of a ranking
	// sum to at most 1.
	Confidence float64

	// Cut is the index of the cut in the sighting that supports the
	// candidate best; Order holds the indices of that cut's rings in the
	// order in which they are read, so the last comes first where the strip
	// is read from right to left.
	Cut   int
	Order []int
}

// A Ranking is the answer to a sighting.
type Ranking struct {
	Candidates []Candidate // best first, at most 5
	Verdict    Verdict
	Why        string // why not sure, and what would help; empty when sure
}

// Best returns the likeliest candidate, or false where there is none worth
// showing: of an unreadable part the candidates are only for a person who has
// the part in hand to choose from.
func (r Ranking) Best() (Candidate, bool) {
	if r.Verdict == Unreadable || len(r.Candidates) == 0 {
		return Candidate{}, false
	}
	return r.Candidates[0], true
}

const (
	mostCandidates = 5
	hardlyAt       = 0.12  // the confidence below which nothing can be read
	surelyAt       = 0.965 // the confidence from which a reading is sure; see DEVELOPERS.md
	temper         = 1.25  // by which weights are divided: rings of one photo err together
	worthPursuing  = 7.0   // how far below the best, in natural logarithms, a choice may lie
)

// Rank weighs every legal code against what was seen, in both directions and
// over all cuts, and returns the likeliest.
func Rank(s Sighting) Ranking { return rank(s, bothWays) }

// bothWays are the directions of reading a cut: from its left end, and reversed.
var bothWays = []bool{false, true}

// rank is Rank for some of the directions.
func rank(s Sighting, ways []bool) Ranking {
	if s.Fault != "" {
		return Ranking{Verdict: Unreadable, Why: s.Fault}
	}
	found := weigh(s, ways)
	if len(found) == 0 {
		return Ranking{Verdict: Unreadable, Why: s.because(noCode, turnIt)}
	}
	var r Ranking
	for _, w := range found[:min(len(found), mostCandidates)] {
		readings, err := Readings(w.code)
		if err != nil {
			continue
		}
		r.Candidates = append(r.Candidates, Candidate{
			Reading: readings[0], Confidence: w.share * (1 - s.Doubt), Cut: w.cut, Order: w.order,
		})
	}
	calibrate(r.Candidates)
	r.judge(s, ways)
	return r
}

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
				for k := range j {
					ceilings[i] += max(0, cut.Alike[j][k])
				}
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
		for j := range i {
			most += max(0, s.alikeness(i, j))
		}
		s.ahead[i] = s.ahead[i+1] + most
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
		l += logRole[len(s.code)][at][c]
		for earlier := range at {
			if s.code[earlier] == Colour(c) {
				l += s.alikeness(at, earlier)
			}
		}
		if weight+l+s.ahead[at+1]+digits > s.best-worthPursuing {
			s.code[at] = Colour(c)
			s.choose(at+1, weight+l, digits)
		}
	}
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

// judge sets the verdict and says why a reading is not sure.
func (r *Ranking) judge(s Sighting, ways []bool) {
	if len(r.Candidates) == 0 {
		r.Verdict, r.Why = Unreadable, s.because(noCode, turnIt)
		return
	}
	best := &r.Candidates[0]
	lookAlike := s.mayBeOther(*best)
	if lookAlike {
		best.Notes = append(best.Notes, NoteLookAlike)
	}
	r.Verdict = Check
	switch {
	case best.Confidence < hardlyAt:
		r.Verdict = Unreadable
		r.Why = s.because("too many readings are as likely", "take the photo closer, in soft light, with the part turned")
		if len(s.Handicap) > 0 {
			r.Why = s.Handicap[0]
		}
	case len(s.Handicap) > 0:
		r.Why = s.Handicap[0]
	case len(best.Rings) == 1:
		r.Why = "one dark ring: a zero-ohm link, or a diode: measure it"
	case len(best.Rings) == 3 && (lookAlike || best.mayHideTolerance(s)):
		r.Why = "three rings: a fourth may be hidden or faint; turn the part"
	case lookAlike:
		r.Why = NoteLookAlike
	case best.hasOtherValue():
		r.Why = "as three digits no preferred number, so perhaps two and a failure rate: measure it"
	case best.mayHideRing(s.Cuts[best.Cut]):
		r.Why = "a gap is as wide as if a ring of the body's colour were hidden in it: look at the part"
	case len(ways) > 1 && best.readsBothWays(s.Cuts[best.Cut]):
		r.Why = "from the other end it is a code too, and the spacing does not tell: measure it"
	case best.Confidence >= surelyAt:
		r.Verdict = Sure
	case len(r.Candidates) > 1 && r.Candidates[1].Confidence > best.Confidence/3:
		r.Why = "another reading is nearly as likely: compare the candidates with the part"
	default:
		r.Why = s.because("not certain enough", "compare the rings with the part")
	}
}

// What is said where no code can be made of what was seen.
const (
	noCode = "no legal ring code fits what was seen"
	turnIt = "turn the part or take the photo closer"
)

// because adds to what is wrong what made the rings hard to see, or else some
// other help.
func (s Sighting) because(wrong, help string) string {
	if s.Hindrance != "" {
		return wrong + "; " + s.Hindrance
	}
	return wrong + ": " + help
}

// mostUneven is the most by which the gaps between digits and multiplier differ
// where no ring is hidden in the widest: half way, by ratio, from even gaps to one
// twice as wide, and some more for painting by hand. Common practice, no source.
const mostUneven = 1.6

// mayHideRing tells whether one of the gaps between digits and multiplier is so
// much wider than another that a ring of the body's colour may lie in it.
func (c Candidate) mayHideRing(cut Cut) bool {
	if len(c.Order) < 4 {
		return false
	}
	least, most := math.Inf(1), 0.0
	for i := range digitsOf[len(c.Order)] {
		gap := math.Abs(cut.Rings[c.Order[i+1]].Centre - cut.Rings[c.Order[i]].Centre)
		least, most = min(least, gap), max(most, gap)
	}
	return most > mostUneven*least
}

// mayHideTolerance tells whether a body of three rings may have a fourth that does not
// show. Gold hardly stands out from tan nor silver from grey, and a part made to 20 %,
// which has no fourth, has a value of E6 (IEC 60063). Which bodies hide what is common
// practice, no source.
func (c Candidate) mayHideTolerance(s Sighting) bool {
	coarsest, preferred := series.Lowest(100*int(c.Rings[0]) + 10*int(c.Rings[1]))
	hides := s.Body == BodyTan || s.Body == BodyGrey || s.Body == BodyUnknown
	return hides || !preferred || coarsest > series.E6
}

// hasOtherValue tells whether the rings were read as four and a failure rate though
// they are three digits and a tolerance as well, of another value.
func (c Candidate) hasOtherValue() bool {
	return c.FailureRate.Valid && len(c.Rings) == 5 && c.Rings[2] <= White
}

// plainDirection is how much better the rings' places must fit one direction
// than the other, in natural logarithms, for the direction to be plain.
const plainDirection = 2.0

// readsBothWays tells whether the candidate read from its other end is a code of
// preferred digits as well, or of three rings any code, while the rings' places do
// not plainly say which end comes first.
func (c Candidate) readsBothWays(cut Cut) bool {
	other := slices.Clone(c.Rings)
	slices.Reverse(other)
	if slices.Equal(other, c.Rings) {
		return false
	}
	if math.IsInf(logPrior(other), -1) || len(other) > 3 && oddDigits(other) {
		return false
	}
	reversed := c.Order[0] > c.Order[len(c.Order)-1]
	return logSpacing(cut.Rings, reversed)-logSpacing(cut.Rings, !reversed) < plainDirection
}
