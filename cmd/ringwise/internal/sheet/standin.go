package sheet

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// wantedTolerances are the tolerances, in percent, that a circuit may ask for.
var wantedTolerances = []int64{2, 5, 10, 20}

// standIns picks what is wanted so that the first part fits, and the parts to
// choose from. It reports false if nothing can be asked of that part. At level
// 1 only one part fits.
func standIns(first Part, others []Part, level int, dice *rand.Rand) (wanted decode.Reading, choices []Part, ok bool) {
	wanted = decode.Reading{Ohms: first.Reading.Ohms}
	for _, t := range wantedTolerances {
		percent := decimal.New(t, 0)
		if percent.GreaterThan(first.Reading.TolerancePercent.Decimal) {
			wanted.TolerancePercent = decimal.NewNullDecimal(percent)
			if dice.IntN(2) == 0 {
				break
			}
		}
	}
	if !wanted.TolerancePercent.Valid {
		return wanted, nil, false
	}
	// The nearest in value make one think; they come first.
	near := slices.Clone(others)
	dice.Shuffle(len(near), func(i, k int) { near[i], near[k] = near[k], near[i] })
	distance := func(p Part) decimal.Decimal { return ratio(p.Reading.Ohms, wanted.Ohms) }
	slices.SortStableFunc(near, func(a, b Part) int { return distance(a).Cmp(distance(b)) })
	choices = []Part{first}
	for _, p := range near {
		if len(choices) == min(level+2, 4) {
			break
		}
		taken := slices.ContainsFunc(choices, func(c Part) bool { return slices.Equal(c.Reading.Rings, p.Reading.Rings) })
		if taken || level == 1 && fits(p.Reading, wanted) {
			continue
		}
		choices = append(choices, p)
	}
	return wanted, choices, len(choices) >= 3
}

// ratio is the larger of two resistances over the smaller.
func ratio(a, b decimal.Decimal) decimal.Decimal {
	if a.LessThan(b) {
		a, b = b, a
	}
	return divided(a, b)
}

// fits reports whether the whole span of a part lies within the wanted one.
func fits(part, wanted decode.Reading) bool {
	return !part.Low().LessThan(wanted.Low()) && !part.High().GreaterThan(wanted.High())
}

// askStandIn asks which parts fit what is wanted.
func (w Words) askStandIn(wanted decode.Reading, choices []Part) Question {
	ask := Question{
		Kind:     StandIn,
		Ask:      fmt.Sprintf(w.AskStandIn, w.valueWithTolerance(wanted)),
		Cautions: []string{w.CautionStandIn},
		Steps:    []string{fmt.Sprintf(w.WantedSpan, w.valueWithTolerance(wanted), w.ohms(wanted.Low()), w.ohms(wanted.High()))},
	}
	var right, nominal []string
	for i, p := range choices {
		letter := letterAt(i)
		ask.Figures = append(ask.Figures, Figure{Label: letter, Part: p})
		r := p.Reading
		low, high := r.Low().LessThan(wanted.Low()), r.High().GreaterThan(wanted.High())
		text := w.FitsSpan
		switch {
		case low && high:
			text = w.BothSpan
		case low:
			text = w.BelowSpan
		case high:
			text = w.AboveSpan
		default:
			right = append(right, letter)
		}
		if !r.Ohms.LessThan(wanted.Low()) && !r.Ohms.GreaterThan(wanted.High()) {
			nominal = append(nominal, letter)
		}
		ask.Steps = append(ask.Steps, fmt.Sprintf(text, letter, w.valueWithTolerance(r), w.ohms(r.Low()), w.ohms(r.High())))
	}
	box := Box{Label: w.WhichFits, Form: FormLetters, Want: setOf(right), Shown: strings.Join(right, ", ")}
	box.addSlip(SlipNominal, setOf(nominal))
	ask.Boxes = []Box{box}
	return ask
}

// setOf is a set of letters as it is compared.
func setOf(letters []string) string {
	if len(letters) == 0 {
		return NoneOfThem
	}
	return strings.Join(letters, " ")
}

// letterAt names the figures of a question: A, B, C …
func letterAt(i int) string { return string(rune('A' + i)) }
