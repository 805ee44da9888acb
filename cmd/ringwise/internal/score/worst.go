package score

import (
	"cmp"
	"slices"
)

// WronglySure returns the labelled parts that were called sure but are wrong,
// the surest first.
func (c *Card) WronglySure() []Labelled {
	return c.those(Labelled.WronglySure, Labelled.Confidence)
}

// Wrong returns the labelled parts that were found and not called sure, whose
// first candidate is wrong or missing, those of high confidence first.
func (c *Card) Wrong() []Labelled {
	return c.those(func(l Labelled) bool { return l.Found && !l.Sure() && !l.First() }, Labelled.Confidence)
}

// Missed returns the labelled parts that were not found, long bodies first.
func (c *Card) Missed() []Labelled {
	return c.those(func(l Labelled) bool { return !l.Found }, func(l Labelled) float64 { return l.Truth.Body.Length })
}

// those returns the labelled parts that are asked for, those that are rated
// high first, else in the order of the truth.
func (c *Card) those(asked func(Labelled) bool, rate func(Labelled) float64) []Labelled {
	var parts []Labelled
	for _, l := range c.Labelled {
		if asked(l) {
			parts = append(parts, l)
		}
	}
	slices.SortStableFunc(parts, func(a, b Labelled) int { return cmp.Compare(rate(b), rate(a)) })
	return parts
}

// FalseBodies returns the false bodies that show a reading, those that were
// called sure first, then those of high confidence.
func (c *Card) FalseBodies() []FalseBody {
	var bodies []FalseBody
	for _, f := range c.False {
		if _, shown := f.Reported.Best(); shown {
			bodies = append(bodies, f)
		}
	}
	slices.SortStableFunc(bodies, func(a, b FalseBody) int {
		return cmp.Or(cmp.Compare(b.Reported.Verdict, a.Reported.Verdict), cmp.Compare(b.Confidence(), a.Confidence()))
	})
	return bodies
}
