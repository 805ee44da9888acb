package bench

import (
	"fmt"
	"slices"
	"strings"

	"ringwise/decode"
)

// spoken says of a part what a person would say who looks at it: "five point
// six kilo-ohm, plus or minus five percent; fairly sure; second ring may be
// violet; check: another reading is nearly as likely".
func spoken(p *part, j judgement) string {
	taken, ok := j.reading()
	switch {
	case p.said.status == noResistor || p.said.status == cannotTell:
		return string(p.said.status)
	case !ok && p.said.status == stocked:
		return "in the stock, with a value entered by hand"
	case !ok && len(j.Candidates) > 0:
		return fmt.Sprintf("no reading to trust: %s; %s to choose from", decode.SpokenText(j.Why), count(len(j.Candidates), "candidate", "candidates"))
	case !ok:
		return "no reading: " + decode.SpokenText(j.Why)
	}
	words := []string{taken.Spoken()}
	switch {
	case p.said.status == stocked:
		words = append(words, "in the stock")
	case p.said.taken != nil:
		words = append(words, "taken by you")
	default:
		words = append(words, trust(j.Verdict, taken.Confidence))
		if len(j.Candidates) > 1 && j.Candidates[1].Confidence >= worthSaying {
			words = append(words, rival(taken, j.Candidates[1]))
		}
	}
	if j.Verdict != decode.Sure && p.said.status != stocked {
		words = append(words, j.Verdict.String()+": "+decode.SpokenText(strings.TrimSuffix(j.Why, ".")))
	}
	if before := p.before(); before != "" && p.said.status == open {
		words = append(words, "changed by what you told of the light, before that "+before)
	}
	if m := p.said.meter; m.shown != nil {
		words = append(words, "by the meter "+fitWords(decode.FitOf(taken.Reading, *m.shown, p.specimen()), m.shown.InCircuit))
	}
	for _, caution := range p.cautions(taken) {
		words = append(words, "caution: "+strings.TrimSuffix(caution, "."))
	}
	return strings.Join(words, "; ")
}

// worthSaying is the least confidence at which another candidate is spoken of.
const worthSaying = 0.03

// trust says how sure a reading is, as a person would.
func trust(v decode.Verdict, confidence float64) string {
	switch {
	case v == decode.Sure:
		return "sure"
	case confidence >= 0.85:
		return "fairly sure"
	case confidence >= 0.5:
		return "likely"
	}
	return "a guess"
}

// rival says in what another candidate differs.
func rival(a, b decode.Candidate) string {
	back := slices.Clone(b.Rings)
	slices.Reverse(back)
	switch {
	case slices.Equal(a.Rings, back):
		return "or, from the other end, " + decode.SpokenOhms(b.Ohms)
	case len(a.Rings) != len(b.Rings):
		return fmt.Sprintf("or %s with %s", decode.SpokenOhms(b.Ohms), count(len(b.Rings), "ring", "rings"))
	}
	var words []string
	for i, c := range b.Rings {
		if c != a.Rings[i] {
			words = append(words, fmt.Sprintf("%s ring may be %s", decode.SpokenPlace(i+1), c))
		}
	}
	if len(words) > 2 {
		return "or " + decode.SpokenOhms(b.Ohms)
	}
	return strings.Join(words, ", ")
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
