package decode

import (
	"math"
	"slices"

	"ringwise/decode/series"
)

const (
	hardlyAt = 0.12 // the confidence below which nothing can be read
	surelyAt = 0.96 // the confidence from which a reading is sure; see DEVELOPERS.md
)

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
	if len(c.Order) < 3 {
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

// How much likelier than the other one direction must be for it to be plain, in
// natural logarithms: by the rings' places alone, or together with how common the
// codes are, which is known less well.
const (
	plainDirection = 2.0
	commonerByFar  = 5.0
)

// readsBothWays tells whether the candidate read from its other end is a code of
// preferred digits as well, or of three rings any code, while the rings' places do not
// plainly say which end comes first, nor, of more than three rings, do they together
// with how much rarer a part that would be.
func (c Candidate) readsBothWays(cut Cut) bool {
	other := reversed(c.Rings)
	if slices.Equal(other, c.Rings) {
		return false
	}
	if math.IsInf(logPrior(other), -1) || len(other) > 3 && oddDigits(other) {
		return false
	}
	reversed := c.Order[0] > c.Order[len(c.Order)-1]
	placed := logSpacing(cut.Rings, reversed) - logSpacing(cut.Rings, !reversed)
	if placed >= plainDirection {
		return false
	}
	return len(other) == 3 || placed+logPrior(c.Rings)-logPrior(other) < commonerByFar
}
