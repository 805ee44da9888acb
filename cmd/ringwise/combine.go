package main

import (
	"context"
	"flag"
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"ringwise/decode/network"
)

const combineBrief = "find parts that join to a value"

const combineHelp = `usage: ringwise combine VALUE [--tolerance PERCENT] [--parts N]
                        [--from stock|SERIES] [--volts V | --watts W]

Finds the one, two, three or four parts that in series, in parallel or both come
nearest to VALUE, fewest first, with the bounds by their tolerances at the worst
and what share of power and voltage each bears. No other circuit of so many
parts is nearer.

  --tolerance    how far the whole may be off, in percent either side: then the
                 fewest parts that keep within it are named
  --parts        the most parts, 1 to 4; 3 without it
  --best         how many circuits of each count; 3 without it
  --volts, --watts  voltage across the whole, or power in it: circuits that
                 overload a part, with the margin, come last
` + marginHelp + choiceHelp + formsHelp + `
Parts are taken from the stock no more often than they are there, and none is
taken out of it. Links and fusible, flameproof, wire-wound, high-voltage and
safety parts are left out.

Exit code: 0 answered, 1 there are no parts to choose from, 2 wrong use.

Examples:
  ringwise combine 5.23k
  ringwise combine 12K3 --from E24 --tolerance 5
  ringwise combine 100 --from E12 --range 10..10k --parts 4 --volts 10
`

// combine finds parts that join to a value.
func combine(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("combine", flag.ContinueOnError)
	out := answerOptions(set, std.out)
	from := choiceOptions(set)
	var q network.CombineQuestion
	var tolerance decimal.NullDecimal
	set.Func("tolerance", "", func(text string) error {
		percent, err := network.ParseTolerance(text)
		tolerance = decimal.NewNullDecimal(percent)
		return err
	})
	set.IntVar(&q.MostParts, "parts", 3, "")
	set.IntVar(&q.Best, "best", 3, "")
	quantityOption(set, "volts", network.Volt, &q.Volts)
	quantityOption(set, "watts", network.Watt, &q.Watts)
	marginOption(set, &q.Margin)
	words, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	if q.Target, err = valueOf(words, tolerance); err != nil {
		return 0, err
	}
	if q.MostParts < 1 || q.Best < 1 {
		return 0, usage("--parts and --best must be 1 or more")
	}
	if err := q.Check(); err != nil {
		return 0, usageError{err}
	}
	parts, origin, err := from.parts(ctx)
	if err != nil {
		return 0, err
	}
	found, err := network.Combine(ctx, q, parts)
	if err != nil {
		return 0, err
	}
	if out.asJSON {
		return allWell, out.object(found)
	}
	printCombinations(out, q, found, origin)
	return allWell, nil
}

func printCombinations(out *answer, q network.CombineQuestion, found network.Combinations, origin string) {
	out.line("%s from parts of %s", q.Target, origin)
	var conditions []string
	loaded := q.Volts > 0 || q.Watts > 0
	for _, group := range found.Counts {
		switch {
		case len(group.Best) == 0:
			out.line("%s: %s", plural(group.Parts, "part"), group.Note)
			continue
		case !group.Better && !loaded:
			out.line("%s: no nearer than fewer", plural(group.Parts, "part"))
			continue
		case group.Note != "":
			out.line("%s: %s", plural(group.Parts, "part"), group.Note)
		default:
			out.line("%s:", plural(group.Parts, "part"))
		}
		for i, c := range group.Best {
			if i > 0 && math.Abs(c.ErrorPercent) > network.FarOff {
				continue
			}
			if group.Parts == 1 {
				out.line("  %d. %s, %s", i+1, partText(c.Loads[0].Part), network.FormatOff(c.ErrorPercent))
			} else {
				out.line("  %d. %s", i+1, c.Text)
				out.line("     makes %s, %s", about(c.Nominal), network.FormatOff(c.ErrorPercent))
			}
			out.line("     at worst %s (%s to %s); expected ±%s (RSS)", network.FormatBounds(c.Low, c.High),
				q.FormatOff(c.LowPercent), q.FormatOff(c.HighPercent), network.FormatPercent(c.ExpectedPercent))
			if group.Parts > 1 || loaded {
				out.lines("     ", loadTexts(out, c.Loads))
			}
			if c.BearsWatts > 0 {
				out.line("     by the ratings the whole bears %s at the worst of the tolerances, without a margin", network.FormatQuantity(c.BearsWatts, network.Watt))
			}
			if c.Answer == network.No {
				out.lines("     NO: ", c.Conditions)
				continue
			}
			conditions = appendNew(conditions, c.Conditions)
		}
	}
	if q.Target.TolerancePercent.Valid {
		if found.Fewest > 0 {
			out.line("fewest that keep within ±%s %% at their worst: %s", q.Target.TolerancePercent.Decimal, plural(found.Fewest, "part"))
		} else {
			out.line("none of these keeps within ±%s %% at its worst%s", q.Target.TolerancePercent.Decimal, loadOrTolerance(q))
		}
	}
	printLeftOut(out, found.LeftOut)
	out.lines("only if ", conditions)
	out.lines("CAUTION: ", found.Cautions)
}

// loadOrTolerance is what is to be done where no circuit keeps within the tolerance.
func loadOrTolerance(q network.CombineQuestion) string {
	if q.Volts > 0 || q.Watts > 0 {
		return " and bears its load: choose parts of a tighter tolerance or a higher rating"
	}
	return ": choose parts of a tighter tolerance, or measure"
}

// loadTexts says what each part of a circuit bears, parts that are alike in one
// line.
func loadTexts(out *answer, loads []network.Load) []string {
	var texts []string
	counts := map[string]int{}
	for _, load := range loads {
		text := loadText(out, load)
		if counts[text]++; counts[text] == 1 {
			texts = append(texts, text)
		}
	}
	for i, text := range texts {
		if n := counts[text]; n > 1 {
			texts[i] = fmt.Sprintf("each of %d: %s", n, text)
		}
	}
	return texts
}

// loadText says what one part of a circuit bears.
func loadText(out *answer, load network.Load) string {
	text := partText(load.Part) + " bears " + share(load.PowerShare) + " of the power and " + share(load.VoltageShare) + " of the voltage"
	if load.Volts > 0 {
		text += ": " + network.FormatQuantity(load.Watts, network.Watt) + " at " + network.FormatQuantity(load.Volts, network.Volt) +
			", at worst " + network.FormatQuantity(load.MostWatts, network.Watt)
		if load.Part.RatedWatts > 0 {
			text += ", rated " + network.FormatRating(load.Part.RatedWatts)
		}
	}
	return text
}

// printLeftOut names the parts that were not considered, and why.
func printLeftOut(out *answer, left []network.LeftOut) {
	const most = 5
	for i, l := range left {
		if i == most {
			out.line("left out: %d more", len(left)-most)
			return
		}
		out.line("left out: %s, %s: %s", partText(l.Part), l.Part.Kind, l.Why)
	}
}
