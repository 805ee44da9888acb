package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/onhand"
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

// A move is to take parts out, or to put them back.
type move struct {
	empty   bool // entries that have no part left are looked at, too
	free    func(context.Context, *stock.Store, stock.Part) (int, error)
	one     func(*stock.Store, context.Context, int64, int) (stock.Part, error)
	several func(*stock.Store, context.Context, string, []stock.Taking) (int64, error)
	did     string // such as "put 2 back into #3, 5.6 kΩ ±5 %; 4 there"
	lacking string // said of so many of a value where there are fewer
}

var (
	taking = move{
		free:    func(_ context.Context, _ *stock.Store, p stock.Part) (int, error) { return p.Count, nil },
		one:     (*stock.Store).Take,
		several: (*stock.Store).TakeSeveral,
		did:     "took %d of #%d, %s; %d left\n",
		lacking: "%d cannot be taken: left in the %d entries of %s: %d",
	}
	puttingBack = move{
		empty:   true,
		free:    func(ctx context.Context, s *stock.Store, p stock.Part) (int, error) { return s.Out(ctx, p) },
		one:     (*stock.Store).Put,
		several: (*stock.Store).PutSeveral,
		did:     "put %d back into #%d, %s; %d there\n",
		lacking: "%d cannot be put back: out of the %d entries of %s: %d; confirm new parts, or change the count of an entry on the bench",
	}
)

// pick returns which entries to move how many parts of: the one that the call
// names by its number, or one of its value, or several if none has enough. Where
// the entries of a value differ in more than their numbers it picks none, for
// one may be no substitute for the other.
func (c *stockCall) pick(ctx context.Context, s *stock.Store, m move) ([]stock.Taking, error) {
	if c.entry != 0 {
		if len(c.words) > 0 {
			return nil, usage("name a value or --entry, not both")
		}
		return []stock.Taking{{Entry: c.entry, Count: c.count}}, nil
	}
	if len(c.words) == 0 || strings.HasPrefix(c.words[0], "#") { // which is how lists show an entry
		return nil, usage("name a value such as 5K6, or an entry by its number, such as --entry 3")
	}
	ohms, tolerance, err := c.value()
	if err != nil {
		return nil, err
	}
	parts, err := s.Parts(ctx, stock.Filter{Ohms: decimal.NewNullDecimal(ohms), TolerancePercent: tolerance, Empty: m.empty})
	if err != nil {
		return nil, err
	}
	if len(parts) == 0 {
		fmt.Fprintf(c.std.out, "there is no %s in the stock\n", wanted(ohms, tolerance))
		return nil, errNoneThere
	}
	var from []stock.Part // those with anything to move
	var free []int
	total := 0
	for _, p := range parts {
		n, err := m.free(ctx, s, p)
		if err != nil {
			return nil, err
		}
		if n > 0 {
			from, free, total = append(from, p), append(free, n), total+n
		}
	}
	switch {
	case len(parts) == 1:
		return []stock.Taking{{Entry: parts[0].ID, Count: c.count}}, nil // the stock says if it cannot be
	case len(from) == 0:
		return nil, fmt.Errorf(m.lacking, c.count, len(parts), wanted(ohms, tolerance), 0)
	}
	for _, p := range from[1:] {
		if !alike(from[0], p) {
			printEntries(c.std.out, from)
			return nil, errors.New("several entries have that value and differ: choose one with --entry and its number")
		}
	}
	i := slices.IndexFunc(free, func(n int) bool { return n >= c.count })
	switch {
	case i >= 0:
		return []stock.Taking{{Entry: from[i].ID, Count: c.count}}, nil
	case total < c.count:
		return nil, fmt.Errorf(m.lacking, c.count, len(parts), wanted(ohms, tolerance), total)
	}
	var list []stock.Taking
	rest := c.count
	for i, p := range from {
		n := min(rest, free[i])
		if rest -= n; n > 0 {
			list = append(list, stock.Taking{Entry: p.ID, Count: n})
		}
	}
	return list, nil
}

// alike tells whether one entry's parts are as good as another's, by all that
// is known of them. No two bodies come out equal to a tenth of a millimetre where
// they are measured on a photo: they are alike if of one type size.
func alike(a, b stock.Part) bool {
	same := func(x, y decimal.NullDecimal) bool {
		return x.Valid == y.Valid && x.Decimal.Equal(y.Decimal)
	}
	return stock.Meaning(a.Reading) == stock.Meaning(b.Reading) && a.Kind == b.Kind && sizesAlike(a, b) && same(a.RatingWatts, b.RatingWatts)
}

func sizesAlike(a, b stock.Part) bool {
	if a.Size == b.Size {
		return true
	}
	x, known := onhand.Size(a.Size)
	y, both := onhand.Size(b.Size)
	return known && both && x.Name == y.Name && a.SizeBasis == stock.Estimated && b.SizeBasis == stock.Estimated
}

// takeParts takes parts out for use, and says what to beware of.
func takeParts(ctx context.Context, c *stockCall) (int, error) {
	parts, code, err := c.move(ctx, taking)
	var cautions []string
	for _, p := range parts {
		for _, caution := range p.CautionsBeforeUse() {
			if !slices.Contains(cautions, caution) {
				cautions = append(cautions, caution)
			}
		}
	}
	for _, caution := range cautions {
		fmt.Fprintf(c.std.out, "CAUTION: %s\n", caution)
	}
	return code, err
}

// putParts puts parts back.
func putParts(ctx context.Context, c *stockCall) (int, error) {
	_, code, err := c.move(ctx, puttingBack)
	return code, err
}

// move picks entries and changes their counts. It returns them as they are then.
func (c *stockCall) move(ctx context.Context, m move) (parts []stock.Part, code int, err error) {
	if c.count < 1 {
		return nil, 0, usage("--count must be 1 or more")
	}
	s, err := c.open(ctx)
	if err != nil {
		return nil, 0, err
	}
	defer s.Close()
	list, err := c.pick(ctx, s, m)
	switch {
	case errors.Is(err, errNoneThere):
		return nil, nothingIn, nil
	case err != nil:
		return nil, 0, err
	}
	if len(list) == 1 {
		_, err = m.one(s, ctx, list[0].Entry, c.count)
	} else {
		_, err = m.several(s, ctx, "", list)
	}
	if err != nil {
		return nil, 0, err
	}
	for _, t := range list {
		p, err := s.Part(ctx, t.Entry)
		if err != nil {
			return nil, 0, err
		}
		fmt.Fprintf(c.std.out, m.did, t.Count, p.ID, stock.Meaning(p.Reading), p.Count)
		parts = append(parts, p)
	}
	return parts, allWell, nil
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
