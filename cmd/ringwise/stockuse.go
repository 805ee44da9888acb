package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode/network"
)

// value reads the value that the words name, with a tolerance if a letter or
// the option gives one.
func (c *stockCall) value() (decimal.Decimal, decimal.NullDecimal, error) {
	if len(c.words) == 0 {
		return decimal.Decimal{}, decimal.NullDecimal{}, usage("name a value such as 5K6")
	}
	v, err := network.ParseValue(strings.Join(c.words, " "))
	if err != nil {
		return decimal.Decimal{}, decimal.NullDecimal{}, usageError{err}
	}
	if c.tolerance.Valid {
		v.TolerancePercent = c.tolerance
	}
	return v.Ohms, v.TolerancePercent, nil
}

// errNoneThere ends a call with nothingIn.
var errNoneThere = errors.New("none there")

// pick returns the one entry that the call names, by its number or its value.
// Where several entries differ in more than their numbers it picks none, for
// one may be no substitute for the other.
func (c *stockCall) pick(ctx context.Context, s *stock.Store, empty bool) (stock.Part, error) {
	if c.entry != 0 {
		if len(c.words) > 0 {
			return stock.Part{}, usage("name a value or --entry, not both")
		}
		return s.Part(ctx, c.entry)
	}
	ohms, tolerance, err := c.value()
	if err != nil {
		return stock.Part{}, err
	}
	parts, err := s.Parts(ctx, stock.Filter{Ohms: decimal.NewNullDecimal(ohms), TolerancePercent: tolerance, Empty: empty})
	if err != nil {
		return stock.Part{}, err
	}
	if len(parts) == 0 {
		fmt.Fprintf(c.std.out, "there is no %s in the stock\n", wanted(ohms, tolerance))
		return stock.Part{}, errNoneThere
	}
	for _, p := range parts[1:] {
		if !alike(parts[0], p) {
			printEntries(c.std.out, parts)
			return stock.Part{}, errors.New("several entries have that value and differ: choose one with --entry and its number")
		}
	}
	for _, p := range parts {
		if p.Count >= c.count {
			return p, nil
		}
	}
	return parts[0], nil
}

// alike tells whether one entry's parts are as good as another's, by all that
// is known of them.
func alike(a, b stock.Part) bool {
	same := func(x, y decimal.NullDecimal) bool {
		return x.Valid == y.Valid && x.Decimal.Equal(y.Decimal)
	}
	return stock.Meaning(a.Reading) == stock.Meaning(b.Reading) && a.Kind == b.Kind && a.Size == b.Size && same(a.RatingWatts, b.RatingWatts)
}

// takeParts takes parts out for use, and says what to beware of.
func takeParts(ctx context.Context, c *stockCall) (int, error) {
	return c.move(ctx, false, func(s *stock.Store, p stock.Part) error {
		p, err := s.Take(ctx, p.ID, c.count)
		if err != nil {
			return err
		}
		fmt.Fprintf(c.std.out, "took %d of #%d, %s; %d left\n", c.count, p.ID, stock.Meaning(p.Reading), p.Count)
		for _, caution := range p.CautionsBeforeUse() {
			fmt.Fprintf(c.std.out, "CAUTION: %s\n", caution)
		}
		return nil
	})
}

// putParts puts parts back.
func putParts(ctx context.Context, c *stockCall) (int, error) {
	return c.move(ctx, true, func(s *stock.Store, p stock.Part) error {
		p, err := s.Put(ctx, p.ID, c.count)
		if err == nil {
			fmt.Fprintf(c.std.out, "put %d back into #%d, %s; %d there\n", c.count, p.ID, stock.Meaning(p.Reading), p.Count)
		}
		return err
	})
}

// move picks an entry and changes its count.
func (c *stockCall) move(ctx context.Context, empty bool, do func(*stock.Store, stock.Part) error) (int, error) {
	if c.count < 1 {
		return 0, usage("--count must be 1 or more")
	}
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	p, err := c.pick(ctx, s, empty)
	switch {
	case errors.Is(err, errNoneThere):
		return nothingIn, nil
	case err != nil:
		return 0, err
	}
	return allWell, do(s, p)
}

// removeEntry takes out an entry that was wrong.
func removeEntry(ctx context.Context, c *stockCall) (int, error) {
	if c.entry == 0 {
		return 0, usage("name the entry with --entry and its number")
	}
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	p, err := s.Part(ctx, c.entry)
	if err != nil {
		return 0, err
	}
	if err := s.Remove(ctx, c.entry); err != nil {
		return 0, err
	}
	fmt.Fprintf(c.std.out, "removed %s; %s brings it back\n", p.Title(), c.undo)
	return allWell, nil
}

// undoCall is the call that undoes the last step in a stock, in the usual one if
// none is named. Another one is named in it, lest it undo a step elsewhere.
func undoCall(named string) string {
	switch {
	case named == "":
		return "ringwise stock undo"
	case strings.Contains(named, " "):
		return fmt.Sprintf(`ringwise stock undo --stock "%s"`, named)
	}
	return "ringwise stock undo --stock " + named
}

// undoStep undoes the last thing that was done.
func undoStep(ctx context.Context, c *stockCall) (int, error) {
	return c.shift(ctx, "undone", (*stock.Store).Undo)
}

// redoStep does again what was undone.
func redoStep(ctx context.Context, c *stockCall) (int, error) {
	return c.shift(ctx, "done again", (*stock.Store).Redo)
}

func (c *stockCall) shift(ctx context.Context, word string, do func(*stock.Store, context.Context) (stock.Step, error)) (int, error) {
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	step, err := do(s, ctx)
	if err != nil {
		return 0, err
	}
	fmt.Fprintf(c.std.out, "%s: %s\n", word, step.What)
	return allWell, nil
}
