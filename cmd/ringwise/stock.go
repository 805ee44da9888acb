package main

import (
	"cmp"
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode/network"
)

const stockBrief = "keep confirmed parts: list, find, take, export"

const stockHelp = `usage: ringwise stock [ACTION …] [--stock FILE]

Works with the stock, the file of parts that a person has confirmed (with
ringwise read --confirm or ringwise bench). Without an ACTION it lists the bins.

  bins               all parts by value and tolerance
  find VALUE         the entries of a value; if there are none, the nearest
                       --tolerance PERCENT  at most so loose
  take VALUE         take a part out for use; --entry N in place of VALUE
                     takes it of that entry
  put VALUE          put a part back that was taken, also with --entry N in
                     place of VALUE
                       --count N  with take and put: that many, of several
                                  entries if none has enough and all are alike
  remove             take out an entry that was wrong: --entry N
  undo, redo         undo the last thing that was done, or do it again
  journal            the last 50 things that were done, the last first
  summary            what was confirmed and what there is
                       --since DATE  such as 2026-03-01, or today
  export [FILE]      all entries as --csv or --json (JSON Lines); --json has
                     candidates and pictures too
  import FILE        add what export has written; what is there stays as it is
  labels [FILE]      a sheet of labels for the bins, to print (HTML)
  backup FILE        the whole stock, journal and pictures, in a new file
  restore FILE       put a backup in place of the stock, which is kept aside
  verify [FILE]      check the stock, or a backup, for damage

  --forms            with bins, find, take, put, undo, redo, journal: below each
                     line the values in it as a marking, as rings and in words
  --stock FILE       another stock than the usual one, which is
                     ringwise/stock.db in the user's data folder

Everything but restore can be undone. Nothing enters that nobody has confirmed.

Exit code: 0 done, 1 it could not be done or a fault was found, 2 wrong use,
3 nothing of that value is there.

Examples:
  ringwise stock
  ringwise stock find 5K6 --tolerance 5
  ringwise stock take 4.7k
  ringwise stock labels > labels.html
  ringwise stock backup stock-2026-03-01.db
`

// A stockCall is one call of the stock command.
type stockCall struct {
	action    stockAction
	words     []string // those behind the action
	path      string   // of the stock
	undo      string   // the call that undoes what was done in it
	std       streams
	asCSV     bool
	asJSON    bool
	count     int
	entry     int64 // 0 if none is named
	since     string
	tolerance decimal.NullDecimal
}

// A stockAction is one of the words that follow stock.
type stockAction struct {
	name    string
	options string // those it knows besides --stock, parted by spaces
	words   int    // the most words that may follow; -1 if any number
	makes   bool   // it makes a stock where there is none
	run     func(context.Context, *stockCall) (code int, err error)
}

func stockActions() []stockAction {
	return []stockAction{
		{"bins", "forms", 0, false, listBins},
		{"find", "tolerance forms", -1, false, findParts},
		{"take", "entry count tolerance forms", -1, false, takeParts},
		{"put", "entry count tolerance forms", -1, false, putParts},
		{"remove", "entry", 0, false, removeEntry},
		{"undo", "forms", 0, false, undoStep},
		{"redo", "forms", 0, false, redoStep},
		{"journal", "forms", 0, false, showJournal},
		{"summary", "since", 0, false, summarize},
		{"export", "csv json", 1, false, exportStock},
		{"import", "csv json", 1, true, importStock},
		{"labels", "", 1, false, writeLabels},
		{"backup", "", 1, false, backUp},
		{"restore", "", 1, true, restoreStock},
		{"verify", "", 1, false, verifyStock},
	}
}

func stockActionNames() []string {
	var names []string
	for _, a := range stockActions() {
		names = append(names, a.name)
	}
	return names
}

// keepStock works with the stock.
func keepStock(ctx context.Context, args []string, std streams) (int, error) {
	c := &stockCall{std: std}
	set := flag.NewFlagSet("stock", flag.ContinueOnError)
	set.StringVar(&c.path, "stock", "", "")
	set.BoolVar(&c.asCSV, "csv", false, "")
	set.BoolVar(&c.asJSON, "json", false, "")
	formsOption(set, &c.std.out)
	set.IntVar(&c.count, "count", 1, "")
	set.Int64Var(&c.entry, "entry", 0, "")
	set.StringVar(&c.since, "since", "", "")
	set.Func("tolerance", "", func(text string) error {
		percent, err := parseTolerance(text)
		c.tolerance = decimal.NewNullDecimal(percent)
		return err
	})
	words, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	if len(words) == 0 {
		words = []string{"bins"}
	}
	actions := stockActions()
	i := slices.IndexFunc(actions, func(a stockAction) bool { return a.name == words[0] })
	if i < 0 {
		mend := "use one of " + strings.Join(stockActionNames(), ", ")
		if _, err := network.ParseValue(strings.Join(words, " ")); err == nil {
			mend = "to look for a value write ringwise stock find " + strings.Join(words, " ")
		}
		return 0, usage("there is no action %q: %s", words[0], mend)
	}
	c.action, c.words = actions[i], words[1:]
	if c.action.words >= 0 && len(c.words) > c.action.words {
		text := fmt.Sprintf("%s takes no %q", c.action.name, c.words[c.action.words])
		if slices.Contains(strings.Fields(c.action.options), "entry") {
			text += ": name an entry by its number, such as --entry 3"
		}
		return 0, usage("%s", text)
	}
	set.Visit(func(f *flag.Flag) {
		if f.Name != "stock" && !slices.Contains(strings.Fields(c.action.options), f.Name) {
			err = cmp.Or(err, usage("%s has no option --%s", c.action.name, f.Name))
		}
	})
	if err != nil {
		return 0, err
	}
	c.undo = undoCall(c.path)
	if c.path == "" {
		if c.path, err = stock.DefaultPath(); err != nil {
			return 0, err
		}
	}
	return c.action.run(ctx, c)
}

// open opens the stock. Only an action that makes one does so.
func (c *stockCall) open(ctx context.Context) (*stock.Store, error) {
	if _, err := os.Stat(c.path); errors.Is(err, fs.ErrNotExist) && !c.action.makes {
		return nil, fmt.Errorf("there is no stock at %s yet: confirm parts with ringwise read --confirm or ringwise bench, or name a file with --stock", c.path)
	}
	return stock.Open(ctx, c.path)
}
