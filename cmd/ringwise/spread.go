package main

import (
	"cmp"
	"context"
	"errors"
	"flag"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/decode"
	"ringwise/decode/network"
)

const spreadBrief = "say what a marked value may really be"

const spreadHelp = `usage: ringwise spread VALUE [--tolerance PERCENT] [--tempco PPM]
                       [--temperature LOW..HIGH] [--measured VALUE]

Says between which bounds a part marked VALUE may really lie: by its tolerance,
with the drift over a range of temperature on top, and what to expect under
stated assumptions. With a meter reading it says whether that lies inside. In a
circuit no reading can say so, since what lies beside the part lowers it.
VALUE is a marking such as 5K6 or 5K6J, or a value such as "5.6 kΩ ±5 %".

  --tolerance    in percent either side, or its letter; ±20 % without it
  --tempco       temperature coefficient in ppm/K; without it the one of the
                 sixth ring or of the letter behind the tolerance, as in 5K6JS
  --temperature  how cold and hot the part gets in °C, such as -10..60
  --reference    temperature for which the value holds; 20 °C without it
  --measured     what the meter shows, with all its digits, such as 5.58k
  --accuracy     of the meter, in percent of the reading; 1 % without it
  --counts       of the last digit that come on top; 3 without it
  --leads        resistance of the test leads, on top; 0.2 without it
  --in-circuit   it was measured with both leads connected
` + formsHelp + `
Exit code: 0 answered, 2 wrong use.

Examples:
  ringwise spread 5K6J
  ringwise spread 5K6 --tolerance 5 --tempco 100 --temperature -10..60
  ringwise spread 5K6J --measured 5.31k --accuracy 0.8 --counts 3
`

// spread says what a marked value may really be.
func spread(_ context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("spread", flag.ContinueOnError)
	out := answerOptions(set, std.out)
	var q network.SpreadQuestion
	var tolerance decimal.NullDecimal
	set.Func("tolerance", "", func(text string) error {
		percent, err := network.ParseTolerance(text)
		tolerance = decimal.NewNullDecimal(percent)
		return err
	})
	set.Func("tempco", "", func(text string) error {
		ppm, err := strconv.Atoi(text)
		q.TempcoPPM = &ppm
		if err != nil {
			return errors.New("it must be a whole number of ppm/K, such as 100")
		}
		return nil
	})
	reference := set.Float64("reference", network.ReferenceTemperature, "")
	set.Func("temperature", "", func(text string) error {
		low, high, err := parseTemperatures(text)
		q.Temperature = &network.TemperatureRange{LowC: low, HighC: high}
		return err
	})
	measured := set.String("measured", "", "")
	meter := decode.UsualMeter
	set.Func("accuracy", "", func(text string) error {
		percent, err := decimal.NewFromString(strings.Replace(strings.TrimRight(text, " %"), ",", ".", 1))
		if err != nil || len(text) > 12 || percent.IsNegative() {
			return errors.New("it must be percent of the reading, such as 0.8")
		}
		meter.Percent = percent
		return nil
	})
	set.Int64Var(&meter.Counts, "counts", meter.Counts, "")
	set.Func("leads", "", func(text string) error {
		leads, err := network.ParseValue(text)
		meter.Ohms = leads.Ohms
		return err
	})
	inCircuit := set.Bool("in-circuit", false, "")
	words, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	if err := cmp.Or(needs(set, "measured", "in-circuit", "accuracy", "counts", "leads"), needs(set, "temperature", "tempco", "reference")); err != nil {
		return 0, err
	}
	if q.Value, err = valueOf(words, tolerance); err != nil {
		return 0, err
	}
	if q.Temperature != nil {
		q.Temperature.ReferenceC = *reference
		if q.TempcoPPM, err = tempcoOf(words, q.TempcoPPM); err != nil {
			return 0, err
		}
	}
	if *measured != "" {
		if meter.Counts < 0 {
			return 0, usage("--counts must not be below zero")
		}
		shown, err := meter.Shows(*measured)
		if err != nil {
			return 0, usageError{err}
		}
		shown.InCircuit = *inCircuit
		q.Meter = &shown
	}
	s, err := network.SpreadOf(q)
	if err != nil {
		return 0, usageError{err}
	}
	if out.asJSON {
		return allWell, out.object(s)
	}
	printSpread(out, q, s)
	return allWell, nil
}

// tempcoOf is the temperature coefficient in ppm/K that an option names or that a
// value written as rings or as a marking tells, nil if neither. It refuses one that
// the value contradicts.
func tempcoOf(words []string, named *int) (*int, error) {
	switch told := tempcosIn(strings.Join(words, " ")); {
	case named != nil && len(told) > 0 && !slices.Contains(told, *named):
		return nil, usage("the value tells %d ppm/K, which is another coefficient than --tempco, %d ppm/K: leave one out", slices.Max(told), *named)
	case named == nil && len(told) == 1:
		return &told[0], nil
	}
	return named, nil
}

// tempcosIn are the temperature coefficients in ppm/K that a value may tell by its
// sixth ring or by the last letter of its marking: two for the letter Z, none where
// it tells nothing of them.
func tempcosIn(value string) []int {
	if marking, err := decode.ParseRKM(value); err == nil {
		return marking.TempcoPPM
	}
	row, err := decode.ParseRow(value)
	if err != nil {
		return nil
	}
	if readings, err := decode.Readings(row); err == nil && readings[0].TempcoPPM != nil {
		return []int{*readings[0].TempcoPPM}
	}
	return nil
}

func printSpread(out *answer, q network.SpreadQuestion, s network.Spread) {
	out.line("%s", s.Value)
	out.line("  by its tolerance: %s to %s", s.Low, s.High)
	if s.DriftPercent > 0 {
		out.line("  drift from %g to %g °C, %d ppm/K from %g °C: ±%s", q.Temperature.LowC, q.Temperature.HighC, *q.TempcoPPM,
			q.Temperature.ReferenceC, network.FormatPercent(s.DriftPercent))
		out.line("  both at their worst: %s", network.FormatBounds(s.WorstLow, s.WorstHigh))
	}
	out.line("  to be expected:")
	for _, e := range s.Expected {
		holds := ""
		if e.Holds != "" {
			holds = " for " + e.Holds
		}
		out.line("    %s, ±%s%s, if %s", network.FormatBounds(e.Low, e.High), network.FormatPercent(e.Percent), holds, e.Assumption)
	}
	if m := s.Meter; m != nil {
		really := about(m.Low) + " or more"
		if m.High != nil {
			really = network.FormatBounds(m.Low, *m.High)
		}
		out.line("  measured: %s, so really %s: %s", m.Shown, really, strings.Replace(m.Says, "outside", "OUTSIDE", 1))
		out.line("    %s against the marked value", network.FormatOffFrom(m.ErrorPercent, s.Value.TolerancePercent.Decimal.InexactFloat64()))
		if m.Nearest != nil {
			out.line("    nearest of E24: %s; compare the rings, and measure with a lead free", m.Nearest)
		}
		out.lines("    note: ", m.Notes)
	}
	out.lines("  note: ", s.Notes)
	out.lines("CAUTION: ", s.Cautions)
}

// parseTemperatures reads a range such as -10..60.
func parseTemperatures(text string) (low, high float64, err error) {
	first, second, _ := strings.Cut(strings.TrimRight(strings.ReplaceAll(text, "−", "-"), " °C"), "..")
	low, err1 := strconv.ParseFloat(strings.TrimSpace(first), 64)
	high, err2 := strconv.ParseFloat(strings.TrimSpace(second), 64)
	if err1 != nil || err2 != nil {
		return 0, 0, errors.New("it must be two temperatures in °C such as -10..60")
	}
	return low, high, nil
}

// valueOf reads the value that the words of a command line name, with the
// tolerance of an option, which must not contradict the value's own.
func valueOf(words []string, tolerance decimal.NullDecimal) (network.Value, error) {
	if len(words) == 0 {
		return network.Value{}, usage("name a value such as 5K6")
	}
	v, err := network.ParseValue(strings.Join(words, " "))
	if err != nil {
		return network.Value{}, usageError{err}
	}
	if v.TolerancePercent.Valid && tolerance.Valid && !v.TolerancePercent.Decimal.Equal(tolerance.Decimal) {
		return network.Value{}, usage("%s has another tolerance than --tolerance, %s %%: leave one out", v, tolerance.Decimal)
	}
	if tolerance.Valid {
		v.TolerancePercent = tolerance
	}
	return v, nil
}
