package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/decode"
	"ringwise/decode/network"
)

const replaceBrief = "say which part may stand in for another"

const replaceHelp = `usage: ringwise replace VALUE [--tolerance PERCENT] [--power WATTS]
                        [--kind KIND] [--with VALUE] [--from stock|SERIES]

Says whether a part may stand in where VALUE is wanted: yes, only if …, or no,
with the arithmetic. Without --with it ranks the parts of the stock and shows
the nearest number of each series of preferred numbers (IEC 60063).

What the place asks for:
  --tolerance    what the circuit bears, in percent either side or as a letter.
                 Without it the tolerance of VALUE counts or, if it has none,
                 the place is an ordinary one: within 10 to 20 % usually
                 serves (common practice); but wire-wound, fusible,
                 flameproof, high-voltage and safety parts are then replaced
                 by their very value
  --power        power rating of the part that was there, such as 1/4W
  --voltage      the most that lies across it, by which its heat is reckoned
  --kind         what the part was: ordinary, carbon film, metal film, oxide,
                 composition, wire-wound, fusible, flameproof, high-voltage,
                 safety. Not known: at best "only if"
  --tempco       temperature coefficient asked for, in ppm/K

The part that may stand in:
  --with         its value, with its tolerance if known, such as 5K1J
  --with-power   its power rating
  --with-kind    its kind, as above
  --from, --stock  which parts to choose from; the usual stock without it
  --range, --part-tolerance, --part-power  of the parts of a series
  --best         how many of the stock to show; 5 without it

A power rating is never lowered, and fusible, flameproof, wire-wound,
high-voltage and safety parts are refused in ordinary places.

` + formsHelp + `
Exit code: 0 a part may stand in (perhaps "only if"), 3 none may, 1 the stock
could not be read, 2 wrong use.

Examples:
  ringwise replace 5K6J --with 5K1J
  ringwise replace 5K6 --tolerance 5 --power 1/4W --kind ordinary
  ringwise replace 10R --kind fusible
`

// A replaceAnswer is what replace says, as JSON.
type replaceAnswer struct {
	Need     network.Need           `json:"need"`
	StandIns []network.StandIn      `json:"stand_ins"` // best first
	Series   []network.SeriesChoice `json:"series"`
	From     string                 `json:"from"`
	Cautions []string               `json:"cautions"`
}

// replace says which part may stand in for another.
func replace(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("replace", flag.ContinueOnError)
	out := answerOptions(set, std.out)
	from := choiceOptions(set)
	need := network.Need{}
	part := network.Part{Count: network.AnyNumber}
	var tolerance decimal.NullDecimal
	set.Func("tolerance", "", func(text string) error {
		percent, err := network.ParseTolerance(text)
		tolerance = decimal.NewNullDecimal(percent)
		return err
	})
	quantityOption(set, "power", network.Watt, &need.RatedWatts)
	quantityOption(set, "voltage", network.Volt, &need.Volts)
	kindOption(set, "kind", &need.Kind)
	set.Func("tempco", "", func(text string) error {
		ppm, err := strconv.Atoi(text)
		need.TempcoPPM = &ppm
		if err != nil || ppm < 0 {
			return errors.New("it must be a whole number of ppm/K, such as 100")
		}
		return nil
	})
	with := set.String("with", "", "")
	quantityOption(set, "with-power", network.Watt, &part.RatedWatts)
	kindOption(set, "with-kind", &part.Kind)
	best := set.Int("best", 5, "")
	words, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	if need.Value, err = valueOf(words, tolerance); err != nil {
		return 0, err
	}
	need.OwnTolerance = need.Value.TolerancePercent.Valid && !tolerance.Valid
	if err := need.Check(); err != nil {
		return 0, usageError{err}
	}
	if *best < 1 {
		return 0, usage("--best must be 1 or more")
	}
	if *with == "" && (part.RatedWatts > 0 || part.Kind != decode.KindUnknown) {
		return 0, usage("--with-power and --with-kind need the part's value with --with")
	}

	for _, name := range []string{"from", "stock", "range", "part-tolerance", "part-power", "best"} {
		if *with != "" && given(set, name) {
			return 0, usage("--%s chooses parts, and --with names the one: leave one out", name)
		}
	}

	a := replaceAnswer{Need: need, Cautions: network.Cautions(need.Operation(), need.Kind.Special())}
	var parts []network.Part
	if *with != "" {
		if part.Value, err = network.ParseValue(*with); err != nil {
			return 0, usageError{err}
		}
		if part.TempcoPPM, err = tempcoOf([]string{*with}, nil); err != nil {
			return 0, err
		}
		parts, a.From = []network.Part{part}, "the part named"
	} else if parts, a.From, err = from.parts(ctx); err != nil {
		return 0, err
	}
	if a.StandIns, err = network.RankStandIns(need, parts); err != nil {
		return 0, usageError{err}
	}
	if *with == "" {
		a.StandIns = network.WorthShowing(need, a.StandIns, *best)
	}
	if !need.Value.Ohms.IsZero() {
		if a.Series, err = network.SeriesChoices(need); err != nil {
			return 0, err
		}
	}
	code := nothingIn
	if len(a.StandIns) > 0 && a.StandIns[0].Answer != network.No {
		code = allWell
	}
	if out.asJSON {
		return code, out.object(a)
	}
	printReplace(out, a, *with != "")
	return code, nil
}

func printReplace(out *answer, a replaceAnswer, named bool) {
	out.line("wanted: %s%s", a.Need.Value, needText(a.Need))
	if !named {
		switch {
		case len(a.StandIns) == 0:
			out.line("%s has no part that fits", a.From)
		default:
			out.line("best of %s:", a.From)
		}
	}
	common := commonConditions(a.StandIns)
	for i, s := range a.StandIns {
		if named {
			out.line("%s: %s", strings.ToUpper(string(s.Answer)), partText(s.Part))
			out.lines("     ", s.Arithmetic)
		} else {
			out.line("  %d. %s: %s, %s", i+1, s.Answer, partText(s.Part), network.FormatOff(s.ErrorPercent))
		}
		if s.Answer == network.No {
			out.lines("     because ", s.Reasons)
			continue
		}
		for _, condition := range s.Conditions {
			if !slices.Contains(common, condition) {
				out.line("     only if %s", condition)
			}
		}
	}
	out.lines("  all that are not no: only if ", common)
	if len(a.Series) > 0 {
		out.line("nearest of the series of preferred numbers:")
	}
	for _, c := range a.Series {
		fits := "fits"
		if !c.Fits {
			fits = "does not fit with its tolerance"
		}
		out.line("  %s: %s, %s; %s", c.Series, c.Nearest, network.FormatOff(c.ErrorPercent), fits)
	}
	out.lines("CAUTION: ", a.Cautions)
}

// commonConditions are the conditions of all parts that may stand in, if there
// are several of them.
func commonConditions(list []network.StandIn) []string {
	var common []string
	may := 0
	for _, s := range list {
		if s.Answer == network.No {
			continue
		}
		if may == 0 {
			common = slices.Clone(s.Conditions)
		}
		may++
		common = slices.DeleteFunc(common, func(c string) bool { return !slices.Contains(s.Conditions, c) })
	}
	if may < 2 {
		return nil
	}
	return common
}

// needText says what is asked for besides the value.
func needText(n network.Need) string {
	text := ""
	if !n.Value.TolerancePercent.Valid && !n.Value.Ohms.IsZero() && !n.Kind.Special() {
		text += ", in an ordinary place (within 10 to 20 % usually serves)"
	}
	if n.RatedWatts > 0 {
		text += ", rated " + network.FormatRating(n.RatedWatts)
	}
	if n.Volts > 0 {
		text += fmt.Sprintf(", %s across it", network.FormatQuantity(n.Volts, network.Volt))
	}
	if n.Kind != decode.KindUnknown {
		text += ", " + n.Kind.String()
	}
	if n.TempcoPPM != nil {
		text += fmt.Sprintf(", %d ppm/K", *n.TempcoPPM)
	}
	return text
}

// quantityOption adds an option that reads a quantity in a unit.
func quantityOption(set *flag.FlagSet, name, unit string, to *float64) {
	set.Func(name, "", func(text string) (err error) {
		*to, err = network.ParseQuantity(text, unit)
		return err
	})
}

// kindOption adds an option that reads a kind of resistor.
func kindOption(set *flag.FlagSet, name string, to *decode.Kind) {
	set.Func(name, "", func(text string) (err error) {
		*to, err = decode.ParseKind(text)
		return err
	})
}
