package main

import (
	"context"
	"flag"
	"math"
	"slices"
	"strconv"
	"strings"

	"ringwise/decode/network"
)

const dividerBrief = "find two parts that divide a voltage"

const dividerHelp = `usage: ringwise divider --in VOLTS --out VOLTS [--load OHMS] [--source OHMS]
                        [--most AMPS] [--least AMPS] [--from stock|SERIES]
       ringwise divider --ratio RATIO [--load OHMS] …

Finds the two parts, upper from the input to the output and lower from there to
the common end, whose output comes nearest to the one wanted, with source and
load: the output at all corners of the tolerances, the currents, and the power
in each part.

  --in, --out    voltage of the source without a load, and the one wanted
  --ratio        output to input in place of them, such as 0.25 or 1/4
  --load         resistance from the output to the common end; none without it
  --source       resistance of the source itself; none without it
  --most         the most current from the source, such as 5mA. Without it as
                 much as makes 125 mW
  --least        the least current from the source
  --best         how many pairs; 3 without it
` + marginHelp + choiceHelp + formsHelp + `
A divider is no supply: the output moves with every change of the load.

Exit code: 0 answered, 1 no pair keeps within the limits or there are no parts,
2 wrong use.

Examples:
  ringwise divider --in 12V --out 3.3V --load 10k
  ringwise divider --ratio 1/10 --from E96 --range 1k..1M
  ringwise divider --in 9V --out 4.5V --most 1mA --from stock
`

// divider finds two parts that divide a voltage.
func divider(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("divider", flag.ContinueOnError)
	out := answerOptions(set, std.out)
	from := choiceOptions(set)
	var q network.DividerQuestion
	quantityOption(set, "in", network.Volt, &q.InVolts)
	quantityOption(set, "out", network.Volt, &q.OutVolts)
	quantityOption(set, "most", network.Ampere, &q.MostAmps)
	quantityOption(set, "least", network.Ampere, &q.LeastAmps)
	ohmsOption(set, "load", &q.LoadOhms)
	ohmsOption(set, "source", &q.SourceOhms)
	marginOption(set, &q.Margin)
	ratio := set.String("ratio", "", "")
	set.IntVar(&q.Best, "best", 3, "")
	words, err := parse(set, args)
	switch {
	case err != nil:
		return 0, err
	case len(words) > 0:
		return 0, usage("%q is too much: name voltages with --in and --out", words[0])
	case q.Best < 1:
		return 0, usage("--best must be 1 or more")
	}
	if *ratio != "" {
		if q.Ratio, err = parseRatio(*ratio); err != nil {
			return 0, err
		}
	}
	if err := q.Check(); err != nil {
		return 0, usageError{err}
	}
	parts, origin, err := from.parts(ctx)
	if err != nil {
		return 0, err
	}
	found, err := network.Divide(q, parts)
	if err != nil {
		return 0, err
	}
	if out.asJSON {
		return allWell, out.object(found)
	}
	printDividers(out, q, found, origin)
	return allWell, nil
}

// parseRatio reads a ratio such as 0.25 or 1/4.
func parseRatio(text string) (float64, error) {
	above, below, divided := strings.Cut(text, "/")
	ratio, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(above), ",", ".", 1), 64)
	if divided && err == nil {
		var d float64
		d, err = strconv.ParseFloat(strings.TrimSpace(below), 64)
		ratio /= d
	}
	if err != nil || !(ratio > 0) {
		return 0, usage("%q for --ratio is no ratio: write one above 0 and below 1, such as 0.25 or 1/4", text)
	}
	return ratio, nil
}

func printDividers(out *answer, q network.DividerQuestion, found network.Dividers, origin string) {
	if q.InVolts > 0 {
		out.line("%s from %s, ratio %s, from parts of %s", network.FormatQuantity(found.Ratio*q.InVolts, network.Volt), network.FormatQuantity(q.InVolts, network.Volt),
			network.FormatFigures(found.Ratio, 4), origin)
	} else {
		out.line("ratio %s from parts of %s", network.FormatFigures(found.Ratio, 4), origin)
	}
	var conditions, cautions []string
	for i, d := range found.Best {
		if i > 0 && math.Abs(d.ErrorPercent) > network.FarOff {
			continue
		}
		out.line("  %d. upper %s, lower %s", i+1, partText(d.Upper.Part), partText(d.Lower.Part))
		ratios := make([]string, len(d.Corners))
		for k, c := range d.Corners {
			ratios[k] = network.FormatFigures(c.Ratio, 4)
			if q.InVolts > 0 {
				ratios[k] = network.FormatQuantity(c.OutVolts, network.Volt)
			}
		}
		if q.InVolts > 0 {
			out.line("     gives %s, %s; by the tolerances %s to %s (%s to %s)", network.FormatQuantity(d.OutVolts, network.Volt), network.FormatOff(d.ErrorPercent),
				network.FormatQuantity(d.LowVolts, network.Volt), network.FormatQuantity(d.HighVolts, network.Volt), network.FormatOff(d.LowPercent), network.FormatOff(d.HighPercent))
		} else {
			out.line("     gives ratio %s, %s; by the tolerances %s to %s", network.FormatFigures(d.Ratio, 4), network.FormatOff(d.ErrorPercent),
				network.FormatOff(d.LowPercent), network.FormatOff(d.HighPercent))
		}
		if len(ratios) == 4 {
			out.line("     corners: both low %s; upper low, lower high %s; upper high, lower low %s; both high %s", ratios[0], ratios[1], ratios[2], ratios[3])
		}
		if q.InVolts > 0 {
			out.line("     source gives %s%s", network.FormatQuantity(d.Amps, network.Ampere), loadAmpsText(d))
			out.line("     upper bears %s", armText(d.Upper))
			out.line("     lower bears %s", armText(d.Lower))
		}
		out.line("     the load sees a source of %s", about(d.Output))
		if d.Answer == network.No {
			out.lines("     NO: ", d.Conditions)
		} else {
			conditions = appendNew(conditions, d.Conditions)
		}
		cautions = appendNew(cautions, d.Cautions)
	}
	out.lines("note: ", found.Notes)
	printLeftOut(out, found.LeftOut)
	out.lines("only if ", conditions)
	out.lines("CAUTION: ", cautions)
}

func loadAmpsText(d network.Divider) string {
	if d.LoadAmps == 0 {
		return ", and nothing is loaded"
	}
	return ", of which the load takes " + network.FormatQuantity(d.LoadAmps, network.Ampere)
}

func armText(a network.Arm) string {
	text := network.FormatQuantity(a.Watts, network.Watt) + " at " + network.FormatQuantity(a.Volts, network.Volt) +
		", at worst " + network.FormatQuantity(a.MostWatts, network.Watt)
	if a.Part.RatedWatts > 0 {
		text += ", rated " + network.FormatRating(a.Part.RatedWatts)
	}
	return text
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

// ohmsOption adds an option that reads a resistance above zero.
func ohmsOption(set *flag.FlagSet, name string, to *float64) {
	set.Func(name, "", func(text string) error {
		v, err := network.ParseValue(text)
		if err == nil && !v.Ohms.IsPositive() {
			return errNotAboveZero
		}
		*to = v.Ohms.InexactFloat64()
		return err
	})
}
