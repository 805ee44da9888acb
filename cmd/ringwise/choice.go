package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/onhand"
	"ringwise/decode/network"
	"ringwise/decode/series"
)

// choiceHelp describes the options of a choice, for the help of commands.
const choiceHelp = `  --from         stock, or a series of preferred numbers (IEC 60063) such as
                 E24; without it the stock, or E24 if there is none
  --range        from which to which value of the series; 1..10M without it
  --part-tolerance, --part-power  tolerance of the parts of the series, if not
                 the usual one, and their power rating such as 1/4W
  --stock        another stock than the usual one
`

// A choice is which parts a command may choose from, as its options say.
type choice struct {
	from, stock string
	low, high   decimal.Decimal
	tolerance   decimal.NullDecimal
	watts       float64
	ranged      bool
}

// choiceOptions adds the options of a choice to a command.
func choiceOptions(set *flag.FlagSet) *choice {
	c := &choice{low: decimal.New(1, 0), high: decimal.New(1, 7)}
	set.StringVar(&c.from, "from", "", "")
	set.StringVar(&c.stock, "stock", "", "")
	set.Func("range", "", func(text string) error {
		low, high, err := parseRange(text)
		c.low, c.high, c.ranged = low, high, true
		return err
	})
	quantityOption(set, "part-power", network.Watt, &c.watts)
	set.Func("part-tolerance", "", func(text string) error {
		percent, err := network.ParseTolerance(text)
		c.tolerance = decimal.NewNullDecimal(percent)
		return err
	})
	return c
}

// parseRange reads two values such as "10..1M".
func parseRange(text string) (low, high decimal.Decimal, err error) {
	first, second, found := strings.Cut(text, "..")
	if !found {
		return low, high, errors.New("it must be two values such as 10..1M")
	}
	a, err := network.ParseValue(first)
	if err != nil {
		return low, high, err
	}
	b, err := network.ParseValue(second)
	if err != nil {
		return low, high, err
	}
	if !a.Ohms.IsPositive() || b.Ohms.LessThan(a.Ohms) {
		return low, high, errors.New("it must be two values above zero, the lower first, such as 10..1M")
	}
	return a.Ohms, b.Ohms, nil
}

// parts returns the parts to choose from, and their origin in words.
func (c *choice) parts(ctx context.Context) (parts []network.Part, origin string, err error) {
	switch strings.ToLower(c.from) {
	case "stock", "":
		if c.ranged || c.tolerance.Valid || c.watts > 0 {
			if c.from != "" || c.stock != "" {
				return nil, "", usage("--range, --part-tolerance and --part-power go with a series, not with the stock")
			}
			return c.ofSeries(series.E24)
		}
		store, err := onhand.Open(ctx, c.stock)
		if errors.Is(err, onhand.ErrNoStock) && c.from == "" && c.stock == "" {
			parts, origin, err := c.ofSeries(series.E24)
			return parts, origin + " (there is no stock yet)", err
		}
		if err != nil {
			return nil, "", err
		}
		defer store.Close()
		parts, err := onhand.Parts(ctx, store)
		return parts, "the stock", err
	}
	e, err := series.Parse(c.from)
	if err != nil {
		return nil, "", usage("%q for --from is neither stock nor a series: use stock, E6, E12, E24, E48, E96 or E192", c.from)
	}
	if c.stock != "" {
		return nil, "", usage("--stock names a stock, and --from %s takes the parts of that series: leave one out", c.from)
	}
	return c.ofSeries(e)
}

func (c *choice) ofSeries(e series.E) ([]network.Part, string, error) {
	parts, err := network.FromSeries(e, c.low, c.high, c.tolerance)
	if err != nil {
		return nil, "", usageError{err}
	}
	for i := range parts {
		parts[i].RatedWatts = c.watts
	}
	origin := fmt.Sprintf("%s from %s to %s", e, network.Exact(c.low), network.Exact(c.high))
	return parts, origin, nil
}
