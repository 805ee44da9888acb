package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/cmd/ringwise/internal/report"
	"ringwise/decode"
	"ringwise/decode/network"
)

const codeBrief = "say which rings write a value"

const codeHelp = `usage: ringwise code VALUE [--tolerance PERCENT] [--tempco PPM]
                    [--failure-rate PERCENT] [--high-voltage] [--forms]

Says which rows of rings write a value by IEC 60062, the usual one first, in
letters of IEC 60757 and in words. VALUE is a marking such as 5K6, R33 or 5K6J,
or a value such as "5.6 kΩ", 5600 or 2.2M.

  --tolerance     in percent either side, or its letter. Without it, and without
                  a letter in the marking, ±5 % and ±1 % are shown.
  --tempco        temperature coefficient in ppm/K, for a sixth ring
  --failure-rate  in percent per 1000 h, for a ring behind a four-ring code
  --high-voltage  yellow for gold and grey for silver
` + formsLine + `
Exit code: 0 there are such rings, 1 there are none, 2 wrong use.

Examples:
  ringwise code 5K6 --tolerance 5
  ringwise code 4.99 kΩ --tolerance F --tempco 50
`

// code says which rings write a value.
func code(_ context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("code", flag.ContinueOnError)
	var tolerances []decimal.Decimal
	set.Func("tolerance", "", func(text string) error {
		percent, err := parseTolerance(text)
		tolerances = []decimal.Decimal{percent}
		return err
	})
	var options decode.RingOptions
	tempco := set.Int("tempco", 0, "")
	set.Func("failure-rate", "", func(text string) error {
		percent, err := parsePercent(text)
		options.FailureRate = decimal.NewNullDecimal(percent)
		return err
	})
	formsOption(set, &std.out)
	set.BoolVar(&options.HighVoltage, "high-voltage", false, "")
	words, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	if len(words) == 0 {
		return 0, usage("name a value such as 5K6")
	}
	set.Visit(func(f *flag.Flag) {
		if f.Name == "tempco" {
			options.TempcoPPM = tempco
		}
	})

	text := strings.Join(words, " ")
	value, err := network.ParseValue(text)
	if err != nil {
		return 0, usageError{err}
	}
	ohms := value.Ohms
	if ohms.IsZero() {
		for _, name := range []string{"tolerance", "tempco", "failure-rate", "high-voltage"} {
			if given(set, name) {
				return 0, usage("--%s says nothing of a link of 0 Ω, which has a single black ring: leave it out", name)
			}
		}
	}
	if own := value.TolerancePercent; len(tolerances) == 1 && own.Valid && !own.Decimal.Equal(tolerances[0]) {
		return 0, usage("%s has another tolerance than --tolerance, %s %%: leave one out", value, tolerances[0])
	}
	if len(tolerances) == 0 && value.TolerancePercent.Valid {
		tolerances = []decimal.Decimal{value.TolerancePercent.Decimal}
	}
	if len(tolerances) == 0 {
		tolerances = []decimal.Decimal{decimal.New(5, 0), decimal.New(1, 0)}
	}

	ink := paint.InkFor(std.out)
	var failure error // of the last tolerance, which allows most figures
	shown := 0
	for _, tolerance := range tolerances {
		rows, err := decode.Rings(ohms, tolerance, options)
		if err != nil {
			failure = err
			continue
		}
		shown += len(rows)
		if ohms.IsZero() {
			fmt.Fprintln(std.out, "0 Ω link")
			printRows(std.out, ink, rows)
			break
		}
		value := decode.Reading{Ohms: ohms, TolerancePercent: decimal.NewNullDecimal(tolerance),
			TempcoPPM: options.TempcoPPM, FailureRate: options.FailureRate}
		fmt.Fprintf(std.out, "%s, marked %s\n", report.Meaning(value), value.RKMWithToleranceLetter())
		printRows(std.out, ink, rows)
	}
	if shown == 0 {
		return 0, failure
	}
	return allWell, nil
}

// printRows writes each row in letters and in words.
func printRows(w io.Writer, ink paint.Ink, rows [][]decode.Colour) {
	widest := 0
	for _, row := range rows {
		_, columns := ink.Rings(row)
		widest = max(widest, columns)
	}
	for _, row := range rows {
		letters, columns := ink.Rings(row)
		fmt.Fprintf(w, "  %s%s  %s\n", letters, strings.Repeat(" ", widest-columns), names(row))
	}
}

// parseTolerance reads percent, with or without a sign for it, or a letter of
// IEC 60062.
func parseTolerance(text string) (decimal.Decimal, error) {
	if percent, err := decode.ToleranceOfLetter(text); err == nil {
		return percent, nil
	}
	return parsePercent(strings.TrimPrefix(text, "±"))
}

// parsePercent reads a positive number of percent.
func parsePercent(text string) (decimal.Decimal, error) {
	plain := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	percent, err := decimal.NewFromString(strings.Replace(plain, ",", ".", 1))
	if err != nil || !percent.IsPositive() || percent.GreaterThan(decimal.New(100, 0)) {
		return decimal.Decimal{}, errors.New("it must be a number of percent above 0, such as 5")
	}
	return percent, nil
}
