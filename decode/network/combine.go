package network

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
)

// MostParts is the most parts that Combine joins.
const MostParts = 4

// A CombineQuestion asks which parts join to a value.
type CombineQuestion struct {
	// Target is the value wanted. Its tolerance, if it has one, is how far
	// the whole may be off; Fewest goes by it.
	Target Value `json:"target"`
	// MostParts is the most parts to join, 1 to 4; 0 for 3.
	MostParts int `json:"most_parts,omitempty"`
	// Best is how many circuits of each count to return, up to 50; 0 for 3.
	Best int `json:"best,omitempty"`
	// Volts is what lies across the whole, or Watts the power in it; 0 if
	// unknown. Only one of them may be given.
	Volts float64 `json:"volts,omitempty"`
	Watts float64 `json:"watts,omitempty"`
	// Margin is how many times a part's power its rating is to be at the least;
	// 0 for UsualMargin.
	Margin float64 `json:"margin,omitempty"`
}

// Combinations are the circuits nearest to a value.
type Combinations struct {
	Target Value              `json:"target"`
	Counts []CombinationCount `json:"counts"` // by count of parts, from 1
	// Fewest is the least count of parts of which a circuit among the 200 nearest
	// stays within the target's tolerance even at its worst and bears its load; 0
	// if none does or the target has no tolerance. It may not be among the best.
	Fewest   int       `json:"fewest"`
	LeftOut  []LeftOut `json:"left_out"`
	Cautions []string  `json:"cautions"`
}

// CombinationCount holds the circuits of one count of parts, nearest first.
type CombinationCount struct {
	Parts int           `json:"parts"`
	Best  []Combination `json:"best"`
	// Better says whether the first is nearer than the first of any fewer parts.
	Better bool   `json:"better"`
	Note   string `json:"note,omitempty"`
}

// FormatOff says how far off the value wanted something is, and whether that is farther
// than it may be.
func (q CombineQuestion) FormatOff(percent float64) string {
	if !q.Target.TolerancePercent.Valid {
		return FormatOff(percent)
	}
	return FormatOffFrom(percent, q.Target.TolerancePercent.Decimal.InexactFloat64())
}

// A Combination is one circuit and what it amounts to.
type Combination struct {
	Circuit Circuit `json:"circuit"`
	Text    string  `json:"text"` // the circuit in words
	Nominal Value   `json:"nominal"`
	// ErrorPercent is how far nominal is off the target.
	ErrorPercent float64 `json:"error_percent"`
	// Low and High are the bounds by the parts' tolerances at their worst,
	// LowPercent and HighPercent how far those are off the target.
	Low         Value   `json:"low"`
	High        Value   `json:"high"`
	LowPercent  float64 `json:"low_percent"`
	HighPercent float64 `json:"high_percent"`
	// ExpectedPercent is the spread round nominal if the parts are off
	// independently (RSS).
	ExpectedPercent float64 `json:"expected_percent"`
	Loads           []Load  `json:"loads"`
	// BearsWatts is the most power in the whole at which no part gets more
	// than its rating at the worst of the tolerances, without a margin; 0 if a
	// rating is unknown.
	BearsWatts float64 `json:"bears_watts"`
	// Answer is OnlyIf where the kind or rating of a part is unknown, or its
	// limiting element voltage where that matters, or where the tolerances allow
	// for more than it bears; No where a part is overloaded.
	Answer     Answer   `json:"answer"`
	Conditions []string `json:"conditions"`
}

// Bounds of what Combine keeps.
const (
	mostBest = 50
	// closest is how many of the nearest circuits of each count are looked at
	// for some that bear the load.
	closest = 200
)

// Check refuses a question that makes no sense.
func (q CombineQuestion) Check() error {
	if err := checkValue("the value wanted", q.Target); err != nil {
		return err
	}
	switch {
	case q.MostParts < 0 || q.MostParts > MostParts:
		return fmt.Errorf("%d parts are out of range: use 1 to %d", q.MostParts, MostParts)
	case q.Best < 0 || q.Best > mostBest:
		return fmt.Errorf("the best %d are out of range: use 1 to %d", q.Best, mostBest)
	case !isAmountOrNone(q.Volts):
		return errAboveZero("the voltage")
	case !isAmountOrNone(q.Watts):
		return errAboveZero("the power")
	case q.Volts > 0 && q.Watts > 0:
		return fmt.Errorf("voltage and power are both given: give the one you know")
	}
	_, err := marginOf(q.Margin)
	return err
}

// Combine finds the parts, one to four, that join in series, parallel and both
// to a value: for each count of parts the nearest circuits. No circuit of a
// count is nearer than the first.
//
// Of equal values the tighter tolerance is used first. Links and parts of
// special kinds are left out. With a voltage or power, circuits that overload
// a part, with the margin, come last, among the 200 nearest of each count, but
// for those that are too far off to be of use.
//
// It returns an error if the question makes no sense, there are no parts, or
// there are more than MostValues different values, and the context's if that
// ends first.
func Combine(ctx context.Context, q CombineQuestion, parts []Part) (Combinations, error) {
	if err := q.Check(); err != nil {
		return Combinations{}, err
	}
	q.MostParts, q.Best, q.Margin = cmp.Or(q.MostParts, 3), cmp.Or(q.Best, 3), cmp.Or(q.Margin, UsualMargin)
	out := Combinations{Target: q.Target, LeftOut: []LeftOut{}, Cautions: Cautions(q.operation(), false)}
	use, left := usable(parts)
	out.LeftOut = append(out.LeftOut, left...)
	if len(use) == 0 {
		return Combinations{}, errNoParts
	}
	shelf := newShelf(use)
	if len(shelf.values) > MostValues {
		return Combinations{}, fmt.Errorf("%d different values are too many to search: narrow their range to at most %d", len(shelf.values), MostValues)
	}
	loaded := q.Volts > 0 || q.Watts > 0
	keep := q.Best
	if loaded || q.Target.TolerancePercent.Valid {
		keep = closest
	}
	s := newSearch(q.Target.ohms(), shelf.values, shelf.counts, keep)
	nearest := math.Inf(1)
	for count := 1; count <= q.MostParts; count++ {
		group := CombinationCount{Parts: count, Best: []Combination{}}
		list, err := s.best(ctx, count)
		if err != nil {
			return Combinations{}, err
		}
		type circuit struct {
			Combination
			off float64
		}
		var circuits []circuit
		for _, f := range list {
			circuits = append(circuits, circuit{shelf.combination(q, f), f.off})
		}
		if loaded {
			slices.SortStableFunc(circuits, func(a, b circuit) int {
				return cmp.Compare(q.unfit(a.Combination), q.unfit(b.Combination))
			})
		}
		if len(circuits) == 0 {
			group.Note = "there are not enough parts"
		} else {
			group.Better = circuits[0].off < nearest
			nearest = min(nearest, circuits[0].off)
			if loaded && circuits[0].Answer == No {
				group.Note = "every one that is near enough overloads a part, with the margin"
			}
		}
		for i, c := range circuits {
			if i < q.Best {
				q.finish(&c.Combination)
				group.Best = append(group.Best, c.Combination)
			}
			if out.Fewest == 0 && q.meets(c.Combination) {
				out.Fewest = count
			}
		}
		out.Counts = append(out.Counts, group)
	}
	return out, nil
}

// operation is the whole at work, as far as it is known.
func (q CombineQuestion) operation() Operation {
	ohms := q.Target.ohms()
	if q.Watts > 0 {
		return Operation{Volts: math.Sqrt(q.Watts * ohms), Watts: q.Watts}
	}
	return Operation{Volts: q.Volts, Watts: q.Volts * q.Volts / ohms}
}

// meets reports whether a circuit stays within the target's tolerance and bears
// its load.
func (q CombineQuestion) meets(c Combination) bool {
	t := q.Target.TolerancePercent
	if !t.Valid || c.Answer == No {
		return false
	}
	bound := t.Decimal.InexactFloat64() * (1 + 1e-12)
	return c.LowPercent >= -bound && c.HighPercent <= bound
}

// unfit sorts circuits that overload a part, or are farther off than is of use,
// behind the others.
func (q CombineQuestion) unfit(c Combination) int {
	bearable := max(FarOff, q.Target.TolerancePercent.Decimal.InexactFloat64())
	if c.Answer == No || math.Abs(c.ErrorPercent) > bearable {
		return 1
	}
	return 0
}

// combination works out what a circuit found amounts to.
func (s shelf) combination(q CombineQuestion, f found) Combination {
	parts := s.take(f.ranks[:f.parts])
	circuits := make([]Circuit, len(parts))
	for i, p := range parts {
		circuits[i] = Of(p)
	}
	circuit := circuits[0]
	if f.parts > 1 {
		circuit = shapes[f.shape].build(circuits)
	}
	return newCombination(q, circuit)
}

// newCombination works out a circuit whose parts have what is marked on them.
func newCombination(q CombineQuestion, circuit Circuit) Combination {
	target, ohms := q.Target.ohms(), circuit.Ohms()
	low, high := circuit.Bounds()
	volts := q.Volts
	if q.Watts > 0 {
		volts = math.Sqrt(q.Watts * ohms)
	}
	percent := func(ohms float64) float64 { return (ohms - target) / target * 100 }
	c := Combination{Circuit: circuit, Text: circuit.String(), Nominal: About(ohms), ErrorPercent: exactly(percent(ohms)),
		Low: About(low), High: About(high), LowPercent: exactly(percent(low)), HighPercent: exactly(percent(high)),
		ExpectedPercent: circuit.ExpectedPercent(), Loads: circuit.marked(volts), Answer: Yes, Conditions: []string{}}
	c.Answer, c.Conditions = doubts(c.Loads, q.Margin)
	return c
}

// finish works out what the tolerances of the parts allow for, which is not needed to
// choose a circuit: it makes no answer No.
func (q CombineQuestion) finish(c *Combination) {
	worsts := c.Circuit.worsts()
	c.BearsWatts = bears(c.Loads, worsts)
	for i, w := range worsts {
		switch load := &c.Loads[i]; {
		case q.Watts > 0:
			load.MostVolts, load.MostWatts = w.byWatts(q.Watts)
		case q.Volts > 0:
			load.MostVolts, load.MostWatts = w.byVolts(q.Volts)
		}
		c.Loads[i].Within = within(c.Loads[i], q.Margin)
	}
	c.Answer, c.Conditions = doubts(c.Loads, q.Margin)
}

// bears is the most power in the whole at which no part gets more than its
// rating at its worst, 0 if one is unknown.
func bears(loads []Load, worsts []worst) float64 {
	most := math.Inf(1)
	for i, w := range worsts {
		if loads[i].Part.RatedWatts == 0 {
			return 0
		}
		most = min(most, loads[i].Part.RatedWatts/w.mostShare())
	}
	return most
}

// exactly takes rounding for what it is: less than a millionth of a millionth
// of the whole is nothing.
func exactly(percent float64) float64 {
	if math.Abs(percent) < 1e-10 {
		return 0
	}
	return percent
}

// doubts says what has to be made sure of parts at work.
func doubts(loads []Load, margin float64) (Answer, []string) {
	v := &verdict{conditions: []string{}}
	unknownKind, unknownRating := false, false
	for _, load := range loads {
		v.load(load, margin)
		// Of parts that can be had in any number the person still chooses.
		unknownKind = unknownKind || load.Part.Kind == "" && load.Part.Count != AnyNumber
		unknownRating = unknownRating || load.Part.RatedWatts == 0 || load.Part.RatingEstimated
		if !load.Part.Value.TolerancePercent.Valid {
			v.onlyIf("the tolerance of %s, which is unknown, is within ±20 %%", load.Part.Value)
		}
	}
	if unknownKind {
		v.onlyIf("the parts of unknown kind are ordinary ones, not %s", specialNames())
	}
	if unknownRating {
		v.onlyIf("the power rating of each part, where unknown or estimated, is at least %sits share of the power", timesText(margin))
	}
	switch {
	case len(v.reasons) > 0:
		return No, v.reasons
	case len(v.conditions) > 0:
		return OnlyIf, v.conditions
	}
	return Yes, v.conditions
}

// load weighs what one part bears, alike parts once.
func (v *verdict) load(load Load, margin float64) {
	p, seen := load.Part, &verdict{}
	if tooWeak(p.RatedWatts, load.Watts, margin) {
		needed := FormatRating(roundUp(load.Watts * margin))
		if margin != 1 {
			needed += fmt.Sprintf(", %sthat", timesText(margin))
		}
		seen.no("%s bears %s, and its rating of %s is below %s", p.Value, FormatQuantity(load.Watts, Watt), FormatRating(p.RatedWatts), needed)
	}
	if tooHigh(load.Volts, p.LimitVolts) {
		seen.no("%s lie across %s, which bears %s (limiting element voltage)", FormatQuantity(load.Volts, Volt), p.Value, FormatQuantity(p.LimitVolts, Volt))
	}
	if len(seen.reasons) == 0 {
		seen.worst(load)
	}
	seen.askForLimit(load)
	v.reasons, v.conditions = appendNew(v.reasons, seen.reasons), appendNew(v.conditions, seen.conditions)
}

// worst doubts a part that bears its load as marked, but not all that the tolerances
// allow for.
func (v *verdict) worst(load Load) {
	const asMarked = "measuring shows that no part gets more than as marked: by the tolerances"
	p := load.Part
	if tooWeak(p.RatedWatts, load.MostWatts, 1) {
		v.onlyIf(asMarked+" %s may bear %s, and its rating is %s", p.Value, FormatRating(roundUp(load.MostWatts)), FormatRating(p.RatedWatts))
	}
	if tooHigh(load.MostVolts, p.LimitVolts) {
		v.onlyIf(asMarked+" %s may lie across %s, which bears %s (limiting element voltage)", FormatQuantity(roundUp(load.MostVolts), Volt), p.Value, FormatQuantity(p.LimitVolts, Volt))
	}
}

// askForLimit asks for the limiting element voltage of a part where it is unknown and
// matters.
func (v *verdict) askForLimit(load Load) {
	if load.Part.LimitVolts == 0 && asksForLimit(load.MostVolts) {
		v.onlyIf("the limiting element voltage of %s, which is unknown, is %s or more", load.Part.Value, FormatQuantity(load.MostVolts, Volt))
	}
}

// appendNew appends the texts that are not there yet.
func appendNew(list, texts []string) []string {
	for _, text := range texts {
		if !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}
