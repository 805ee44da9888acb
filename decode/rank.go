package decode

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

// mostCandidates is how many candidates a ranking has at most.
const mostCandidates = 5

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
