package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"ringwise/cmd/ringwise/internal/onhand"
	"ringwise/cmd/ringwise/internal/picksheet"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

const projectBrief = "find the parts of a project's list in the stock"

const projectHelp = `usage: ringwise project LIST.csv [--pick-sheet FILE] [--take] [--stock FILE]

Goes through the parts list of a project and says for every line which parts of
the stock to take, what may stand in and why, what can be joined of several
parts, and what is missing. Nothing is taken out of the stock without --take.

The list is CSV, parted by commas, semicolons or tabs; "-" is standard input.
Its first line names the columns, in any order; only value must be there:

  reference   the places in the circuit, such as R3, "R3, R4" or R3-R6
  value       in any form, such as 5K6, "5.6 kΩ" or 5K6J
  tolerance   what the circuit bears, such as 5 or J; empty: that of the value
              or an ordinary place, but the very value of a wire-wound,
              fusible, flameproof, high-voltage or safety part
  power       rating asked for, such as 1/4W; empty: unknown
  quantity    empty: as many as there are references, or 1
  kind        as in ringwise help replace; empty: unknown. For a special kind
              only parts that are known to be of it are taken
  voltage     the most that lies across the part, by which its heat is reckoned

  --pick-sheet   writes a page to print (HTML), with a box to tick for each part
  --take         takes the parts out of the stock, those "only if" too,
                 as one step that ringwise stock undo puts back, given the
                 same --stock
  --stock        another stock than the usual one
` + formsHelp + `
Exit code: 0 there is a part for every place, 3 some are missing, 1 a file could
not be read or written, 2 wrong use.

Examples:
  ringwise project receiver.csv
  ringwise project receiver.csv --pick-sheet pick.html
  ringwise project receiver.csv --take
`

// A projectAnswer is what project says, as JSON.
type projectAnswer struct {
	network.Plan
	Takings  []network.Taking `json:"takings"`
	Ignored  []string         `json:"ignored_columns"`
	Notes    []string         `json:"notes"`
	Taken    bool             `json:"taken"`
	Cautions []string         `json:"cautions"`
}

// project finds the parts of a project's list in the stock.
func project(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("project", flag.ContinueOnError)
	out := answerOptions(set, std.out)
	sheetPath := set.String("pick-sheet", "", "")
	take := set.Bool("take", false, "")
	stockPath := set.String("stock", "", "")
	words, err := parse(set, args)
	switch {
	case err != nil:
		return 0, err
	case len(words) != 1:
		return 0, usage("name one list, such as receiver.csv")
	}
	list, err := readList(words[0], std.in)
	if err != nil {
		return 0, err
	}
	store, err := onhand.Open(ctx, *stockPath)
	switch {
	case errors.Is(err, onhand.ErrNoStock) && !*take:
		fmt.Fprintln(std.err, "ringwise project: there is no stock yet: everything is missing")
	case err != nil:
		return 0, err
	default:
		defer store.Close()
	}
	a, err := plan(ctx, list, store)
	if err != nil {
		return 0, err
	}
	if *sheetPath != "" {
		if err := writePickSheet(*sheetPath, words[0], a.Plan); err != nil {
			return 0, err
		}
	}
	if *take {
		if len(a.Takings) > 0 {
			if _, err := onhand.Take(ctx, store, "project "+projectName(words[0]), a.Takings); err != nil {
				return 0, err
			}
			a.Taken = true
		}
	}
	code := allWell
	if a.Missing > 0 {
		code = nothingIn
	}
	if out.asJSON {
		return code, out.object(a)
	}
	printPlan(out, a, undoCall(*stockPath))
	if *sheetPath != "" {
		out.line("pick sheet: %s", *sheetPath)
	}
	return code, nil
}

// mostList is the largest list that is read, in bytes: beyond what ParseList
// takes.
const mostList = 2 << 20

// readList reads a list from a file, or from in for "-".
func readList(name string, in io.Reader) (network.List, error) {
	if name != "-" {
		file, err := openTable(name)
		if err != nil {
			return network.List{}, err
		}
		defer file.Close()
		in = file
	}
	data, err := io.ReadAll(io.LimitReader(in, mostList))
	if err != nil {
		return network.List{}, err
	}
	list, err := network.ParseList(string(data))
	if err != nil {
		return network.List{}, fmt.Errorf("%s: %w", name, err)
	}
	return list, nil
}

// plan plans a list with the parts of a stock, nil if there is none.
func plan(ctx context.Context, list network.List, store *stock.Store) (projectAnswer, error) {
	var parts []network.Part
	if store != nil {
		var err error
		if parts, err = onhand.Parts(ctx, store); err != nil {
			return projectAnswer{}, err
		}
	}
	p, err := network.PlanProject(ctx, list, parts)
	if err != nil {
		return projectAnswer{}, err
	}
	return projectAnswer{Plan: p, Takings: append([]network.Taking{}, p.Takings()...), Ignored: list.Ignored, Notes: list.Notes, Cautions: network.Cautions(list.Worst(), true)}, nil
}

// projectName names a project by the file of its list.
func projectName(list string) string {
	if list == "-" {
		return "list"
	}
	return strings.TrimSuffix(filepath.Base(list), filepath.Ext(list))
}

// writePickSheet writes the page to print.
func writePickSheet(path, list string, p network.Plan) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	err = picksheet.Write(file, projectName(list), time.Now(), p)
	return errors.Join(err, file.Close())
}

// printPlan writes the plan; undo is the call that undoes its takings.
func printPlan(out *answer, a projectAnswer, undo string) {
	for _, line := range a.Lines {
		head := fmt.Sprintf("line %d", line.Line)
		if line.Reference != "" {
			head += ", " + line.Reference
		}
		out.line("%s: %d of %s%s", head, line.Quantity, line.Need.Value, needText(line.Need))
		for _, s := range line.Supplies {
			out.line("  %s %s: %s", s.How, howMany(s), takesText(out, s))
			if s.How == network.StandsIn {
				out.lines("     ", s.StandIn.Arithmetic)
			}
			if s.Combination != nil {
				out.line("     joined as %s", s.Combination.Text)
				out.line("     makes %s, %s; at worst %s", about(s.Combination.Nominal), network.FormatOff(s.Combination.ErrorPercent),
					network.FormatBounds(s.Combination.Low, s.Combination.High))
			}
			out.lines("     only if ", s.Conditions)
		}
		if line.Missing > 0 {
			out.line("  MISSING: %d%s", line.Missing, buyText(out, line))
			for _, s := range line.Refused {
				out.line("     not %s: %s", partText(s.Part), strings.Join(s.Reasons, "; "))
			}
		}
	}
	if len(a.Ignored) > 0 {
		out.line("note: columns passed over: %s", strings.Join(a.Ignored, ", "))
	}
	out.lines("note: ", a.Notes)
	out.line("of %s, %d have parts, %d of them \"only if\"; %d missing", plural(a.Ready+a.Missing, "place"), a.Ready, a.Check, a.Missing)
	switch {
	case len(a.Takings) == 0:
	case a.Taken:
		out.line("taken out of the stock: %s. %s puts all of it back", takingsText(a.Takings), undo)
	default:
		out.line("nothing was taken out of the stock; --take does")
	}
	out.lines("CAUTION: ", a.Cautions)
}

// buyText says what to buy for what is missing.
func buyText(out *answer, line network.PlanLine) string {
	text := ""
	switch {
	case line.Buy != nil:
		text = fmt.Sprintf("; to buy: %s (%s)", line.Buy.Nearest, line.Buy.Series)
	case line.Need.Kind.Special():
		text = "; to buy: its like, with the same data"
	default:
		return ""
	}
	if rating := line.RatingToBuy(); rating != "" {
		text += ", " + rating
	}
	if line.Need.Kind != decode.KindUnknown {
		text += ", " + line.Need.Kind.String()
	}
	return text
}

// howMany says for how many places a supply is.
func howMany(s network.Supply) string { return "for " + plural(s.Places, "place") }

// takesText names the parts of a supply.
func takesText(out *answer, s network.Supply) string {
	words := make([]string, len(s.Takes))
	for i, t := range s.Takes {
		words[i] = fmt.Sprintf("take %d of %s", t.Count, partText(t.Part))
	}
	return strings.Join(words, ", ")
}

func takingsText(list []network.Taking) string {
	words := make([]string, len(list))
	for i, t := range list {
		words[i] = fmt.Sprintf("%d of %s", t.Count, t.Part.Where)
	}
	return strings.Join(words, ", ")
}
