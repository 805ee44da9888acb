package decode

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// A Specimen is what is known, besides its rings, of a part that was measured.
type Specimen struct {
	Kind Kind
	// Age is how old the part is.
	Age Age
}

// Age is how long ago a part was made, as far as a person can tell.
type Age uint8

// The ages. Old means made some decades ago: out of valve radios and the like.
const (
	AgeUnknown Age = iota
	New
	Old
)

// Fit says how a measured value goes with a reading.
type Fit uint8

// The fits, the worst first.
const (
	Off          Fit = iota // it does not go with this reading
	LowInCircuit            // below, as its neighbours in the circuit may make it
	Drifted                 // beyond the tolerance, as parts age
	Within                  // within the tolerance, give or take the meter
)

// String returns the fit in words: "within tolerance", "drifted",
// "low in circuit", "off".
func (f Fit) String() string {
	switch f {
	case Within:
		return "within tolerance"
	case Drifted:
		return "drifted"
	case LowInCircuit:
		return "low in circuit"
	}
	return "off"
}

// A Testimony is what a measurement says of a ranking.
type Testimony struct {
	// Ranking has the candidates weighed anew. A measurement never makes a
	// reading sure that was not, for rings say more than ohms.
	Ranking
	// Fits says of each candidate how the measured value goes with it.
	Fits []Fit
	// Contradiction says that rings and meter do not agree, and what may be
	// the cause: that no candidate goes with the measured value, or only ones
	// that are hardly likely even so. Empty if they agree.
	Contradiction string
	// Notes are what else to know of the measurement, plain sentences.
	Notes []string
}

const (
	// elseAtLeast is the least probability that the part is none of the
	// candidates, before it was measured. Judged, no source.
	elseAtLeast = 0.01
	// decades is over how many powers of ten values spread, about evenly, if
	// nothing is known of a part. Judged, no source.
	decades = 8
	// evenOdds is the probability below which what agrees with the meter is
	// outweighed by what does not.
	evenOdds = 0.5
)

// anyValue is the density, per unit of the natural logarithm, of the value of
// a part of which nothing is known.
var anyValue = 1 / (decades * math.Ln10)

// Hear weighs the candidates of a ranking by how likely a part of each
// reading, of the specimen's kind and age, would measure so (Bayes' rule).
// What is left over of the confidences stands for a part that is none of them.
func (r Ranking) Hear(m Measurement, s Specimen) Testimony {
	t := Testimony{Ranking: r}
	t.Candidates = slices.Clone(r.Candidates)
	if m.InCircuit {
		t.Notes = append(t.Notes, NoteInCircuit)
	}
	otherwise := 1.0
	for _, c := range t.Candidates {
		otherwise -= c.Confidence
	}
	sum := math.Max(otherwise, elseAtLeast) * anyValue
	for i := range t.Candidates {
		c := &t.Candidates[i]
		c.Confidence *= likelihood(c.Reading, m, s)
		sum += c.Confidence
	}
	for i := range t.Candidates {
		t.Candidates[i].Confidence /= sum
	}
	slices.SortStableFunc(t.Candidates, func(a, b Candidate) int { return cmp.Compare(b.Confidence, a.Confidence) })
	agreeing := 0.0
	for _, c := range t.Candidates {
		fit := FitOf(c.Reading, m, s)
		t.Fits = append(t.Fits, fit)
		if fit != Off {
			agreeing += c.Confidence
		}
	}
	t.judge(r, m, s, agreeing)
	return t
}

// judge sets the verdict and says what does not agree. before is the ranking
// without the meter, agreeing the probability of all that goes with it.
func (t *Testimony) judge(before Ranking, m Measurement, s Specimen, agreeing float64) {
	if len(t.Candidates) == 0 {
		return
	}
	if agreeing < evenOdds {
		t.Contradiction = contradiction(before.Candidates[0].Reading, m, s)
		if t.Verdict == Sure {
			t.Verdict = Check
		}
		if t.Verdict == Check {
			t.Why = t.Contradiction
		}
		return
	}
	if t.Fits[0] == Drifted {
		t.Notes = append(t.Notes, fmt.Sprintf(noteDrifted, FormatOhms(m.Ohms), FormatOhms(t.Candidates[0].Ohms)))
	}
	same := slices.Equal(before.Candidates[0].Rings, t.Candidates[0].Rings)
	switch {
	case t.Verdict == Sure && (!same || t.Candidates[0].Confidence < surelyAt):
		t.Verdict, t.Why = Check, "the meter and the rings do not quite agree: compare the rings with the part"
	case t.Verdict == Check && !same:
		t.Why = "the meter speaks for another reading than the rings alone: compare the rings with the part"
	}
}

// NoteInCircuit goes with a value measured in a circuit. noteDrifted goes with
// one beyond the tolerance, given the measured and the nominal value.
const (
	NoteInCircuit = "Measured in its circuit, where its neighbours make it read low: lift one lead to be certain."
	noteDrifted   = "It measures %s, beyond the tolerance of %s: it has drifted with age or heat; do not use it where the value matters."
)
