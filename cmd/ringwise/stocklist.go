package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// listBins lists the parts by value and tolerance.
func listBins(ctx context.Context, c *stockCall) (int, error) {
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	bins, err := s.Bins(ctx)
	if err != nil {
		return 0, err
	}
	if len(bins) == 0 {
		fmt.Fprintln(c.std.out, "the stock is empty")
		return allWell, nil
	}
	printBins(c.std.out, bins)
	return allWell, nil
}

// printBins writes a line a bin: count, value, marking, rings, entries.
func printBins(w io.Writer, bins []stock.Bin) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, b := range bins {
		fmt.Fprintf(table, "%d\t%s\t%s\t%s\t%s\n", b.Count, stock.Meaning(b.Reading), b.Reading.RKMWithToleranceLetter(),
			decode.RowLetters(b.Reading.Rings), entriesOf(b.Entries))
	}
	table.Flush()
}

// entriesOf names entries, and what is special about them.
func entriesOf(entries []stock.Part) string {
	words := make([]string, len(entries))
	for i, p := range entries {
		words[i] = fmt.Sprintf("#%d", p.ID)
		if p.Kind.Special() {
			words[i] += " " + p.Kind.String()
		}
	}
	return strings.Join(words, ", ")
}

// nearestShown is how many of the nearest values are named where a value is
// not there.
const nearestShown = 3

// findParts lists the entries of a value.
func findParts(ctx context.Context, c *stockCall) (int, error) {
	ohms, tolerance, err := c.value()
	if err != nil {
		return 0, err
	}
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	parts, err := s.Parts(ctx, stock.Filter{Ohms: decimal.NewNullDecimal(ohms), TolerancePercent: tolerance})
	if err != nil {
		return 0, err
	}
	if len(parts) > 0 {
		printEntries(c.std.out, parts)
		return allWell, nil
	}
	bins, err := s.Bins(ctx)
	if err != nil {
		return 0, err
	}
	fmt.Fprintf(c.std.out, "there is no %s in the stock\n", wanted(ohms, tolerance))
	if len(bins) > 0 {
		fmt.Fprintln(c.std.out, "nearest:")
		printBins(c.std.out, nearest(bins, ohms)[:min(nearestShown, len(bins))])
	}
	return nothingIn, nil
}

func wanted(ohms decimal.Decimal, tolerance decimal.NullDecimal) string {
	text := decode.FormatOhms(ohms)
	if tolerance.Valid {
		text += fmt.Sprintf(" of ±%s %% or tighter", tolerance.Decimal)
	}
	return text
}

// nearest orders bins by how far their value is from another, as a ratio.
func nearest(bins []stock.Bin, ohms decimal.Decimal) []stock.Bin {
	far := func(b stock.Bin) float64 {
		if b.Reading.Ohms.IsZero() || ohms.IsZero() {
			return b.Reading.Ohms.Sub(ohms).Abs().InexactFloat64() + 1e6 // a link is near to nothing
		}
		return math.Abs(math.Log(b.Reading.Ohms.InexactFloat64() / ohms.InexactFloat64()))
	}
	slices.SortStableFunc(bins, func(a, b stock.Bin) int { return cmp.Compare(far(a), far(b)) })
	return bins
}

// printEntries writes a line an entry: number, count, value, rings, what else
// is known, where it comes from.
func printEntries(w io.Writer, parts []stock.Part) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, p := range parts {
		rings := decode.RowLetters(p.Reading.Rings)
		if p.Origin == stock.ByHand {
			rings = "entered by hand"
		}
		fmt.Fprintf(table, "#%d\t%d of\t%s\t%s\t%s\n", p.ID, p.Count, stock.Meaning(p.Reading), rings, facts(p))
	}
	table.Flush()
}

// facts says what else is known of an entry, and on what basis.
func facts(p stock.Part) string {
	var list []string
	fact := func(text string, basis stock.Basis) {
		if basis == stock.Unknown {
			return
		}
		if basis == stock.Estimated {
			text += " (estimated)"
		}
		list = append(list, text)
	}
	fact(p.Kind.String(), p.KindBasis)
	fact("size "+string(p.Size), p.SizeBasis)
	fact(p.RatingWatts.Decimal.String()+" W", p.RatingBasis)
	if p.Meter != nil {
		list = append(list, "measured "+decode.FormatOhms(p.Meter.Ohms))
	}
	if p.Photo != "" {
		list = append(list, fmt.Sprintf("part %d of %s", p.PhotoPart, p.Photo))
	}
	if p.Note != "" {
		list = append(list, strings.ReplaceAll(p.Note, "\n", " / "))
	}
	return strings.Join(list, "; ")
}

// showJournal lists what was done.
func showJournal(ctx context.Context, c *stockCall) (int, error) {
	const most = 50
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	steps, err := s.Steps(ctx, most)
	if err != nil {
		return 0, err
	}
	for _, step := range steps {
		text := step.What
		if step.Undone {
			text += " (undone)"
		}
		fmt.Fprintf(c.std.out, "%s  %s\n", step.At.Local().Format("2006-01-02 15:04"), text)
	}
	if len(steps) == 0 {
		fmt.Fprintln(c.std.out, "nothing was done yet")
	}
	return allWell, nil
}

// summarize says what was confirmed since a day and what there is.
func summarize(ctx context.Context, c *stockCall) (int, error) {
	since, err := parseDay(c.since, time.Now())
	if err != nil {
		return 0, err
	}
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	sum, err := s.Summary(ctx, since)
	if err != nil {
		return 0, err
	}
	printSummary(c.std.out, sum)
	return allWell, nil
}

// printSummary writes a summary in plain lines.
func printSummary(w io.Writer, sum stock.Summary) {
	from := "since the beginning"
	if !sum.Since.IsZero() {
		from = "since " + sum.Since.Local().Format("2006-01-02 15:04")
	}
	fmt.Fprintf(w, "confirmed %s: %s, of %s; %s in them now\n", from, plural(sum.Entries, "entry"), plural(sum.Values, "value"), plural(sum.Parts, "part"))
	fmt.Fprintf(w, "  first reading confirmed: %d; another confirmed: %d; entered by hand: %d; measured: %d\n",
		sum.AsOffered, sum.Corrected, sum.ByHand, sum.Measured)
	fmt.Fprintf(w, "  sure, but another was confirmed: %d\n", sum.SureButWrong)
	fmt.Fprintf(w, "in the stock: %s in %s, of %s\n", plural(sum.TotalParts, "part"), plural(sum.TotalEntries, "entry"), plural(sum.TotalValues, "value"))
}

func plural(n int, word string) string {
	switch {
	case n == 1:
		return "1 " + word
	case strings.HasSuffix(word, "y"):
		return fmt.Sprintf("%d %sies", n, strings.TrimSuffix(word, "y"))
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// parseDay reads a day, or "today", as its beginning where the program runs.
func parseDay(text string, now time.Time) (time.Time, error) {
	switch text {
	case "":
		return time.Time{}, nil
	case "today":
		return time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, now.Location()), nil
	}
	day, err := time.ParseInLocation("2006-01-02", text, now.Location())
	if err != nil {
		return time.Time{}, usage("%q is no day for --since: use one such as 2026-03-01, or today", text)
	}
	return day, nil
}
