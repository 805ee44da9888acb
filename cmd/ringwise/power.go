package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"strconv"
	"strings"

	"ringwise/cmd/ringwise/internal/onhand"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

const powerBrief = "say what a resistor bears and which rating it needs"

const powerHelp = `usage: ringwise power QUANTITY QUANTITY [--kind KIND] [--ambient C]
                      [--rated WATTS | --size SIZE] [--margin TIMES]

Works out resistance, voltage, current and power from any two of them, each with
its unit: V, A, W, and Ω or a marking such as 470R. Then it says which power
rating that calls for, and whether the part has it. Alternating voltages and
currents are meant as effective values (rms), and all of it as lasting: what a
part bears of pulses its maker says.

` + marginHelp + `  --ambient      temperature round the part in °C, inside the case; 25 without
                 it
  --kind         what the part is made as: ordinary, carbon film, metal film,
                 oxide, composition, wire-wound, fusible, flameproof,
                 high-voltage, safety, unknown. For ordinary, safety and unknown
                 there is no usual derating: at best "only if" unless both
                 temperatures are given
  --start, --zero  derating: all of the rating up to the first temperature,
                 nothing from the second on; one that is not given is the usual
                 one of the kind
  --rated        power rating of the part, such as 1/4W
  --size         its type size (0204, 0207, 0411, 0414, 0617), or its length and
                 diameter in mm such as "6.3 x 2.3": the lowest rating that such
                 bodies are sold at is taken, an estimate only
` + formsHelp + `
Exit code: 0 it will do (perhaps "only if"), 3 it will not, 2 wrong use.

Examples:
  ringwise power 12V 470R
  ringwise power 20mA 150R --rated 1/4W --kind "carbon film" --ambient 50
  ringwise power 230V 1M --size 0207
`

// errNotAboveZero tells of a number in an option.
var errNotAboveZero = errors.New("it must be above zero")

// power says what a resistor bears.
func power(_ context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("power", flag.ContinueOnError)
	out := answerOptions(set, std.out)
	q := network.PowerQuestion{AmbientC: 25}
	marginOption(set, &q.Margin)
	set.Float64Var(&q.AmbientC, "ambient", q.AmbientC, "")
	kindOption(set, "kind", &q.Kind)
	start, zero := set.String("start", "", ""), set.String("zero", "", "")
	quantityOption(set, "rated", network.Watt, &q.RatedWatts)
	set.Func("size", "", func(text string) error {
		size, err := parseBody(text)
		q.Size = &size
		return err
	})
	words, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	var ohms network.Value
	if q.Operation, ohms, err = parseOperation(words); err != nil {
		return 0, err
	}
	if q.RatedWatts > 0 && q.Size != nil {
		return 0, usage("--rated and --size are both given: give the rating if you know it, else the size")
	}
	if q.Derating, err = deratingOf(q.Kind, *start, *zero); err != nil {
		return 0, err
	}
	p, err := network.PowerOf(q)
	if err != nil {
		return 0, usageError{err}
	}
	code := allWell
	if p.Answer == network.No {
		code = nothingIn
	}
	if out.asJSON {
		return code, out.object(p)
	}
	if ohms.Ohms.IsZero() {
		ohms = network.About(p.Operation.Ohms)
	}
	printPower(out, q, p, ohms)
	return code, nil
}

// parseOperation reads quantities by their units, in any order. A resistance
// is also returned as it was written.
func parseOperation(words []string) (o network.Operation, ohms network.Value, err error) {
	words = joinUnits(words)
	if len(words) == 1 {
		return o, ohms, usage("%q is not two quantities: name two of resistance, voltage, current and power, each with its unit, such as 12V 470R", words[0])
	}
	if len(words) == 0 {
		return o, ohms, usage("name two of resistance, voltage, current and power, each with its unit, such as 12V 470R")
	}
	for _, word := range words {
		plain := strings.TrimSpace(word)
		to, amount := (*float64)(nil), 0.0
		unit := network.UnitOf(plain)
		if unit != "" {
			to = map[string]*float64{network.Volt: &o.Volts, network.Ampere: &o.Amps, network.Watt: &o.Watts}[unit]
			amount, err = network.ParseQuantity(plain, unit)
		}
		// A W at the end may be the letter of a tolerance, as in 5K6W.
		if marked, notOhms := network.ParseValue(plain); unit == "" || err != nil && notOhms == nil {
			to, ohms, err = &o.Ohms, marked, notOhms
			if err == nil && !ohms.Ohms.IsPositive() {
				err = fmt.Errorf("a resistance of %s has no power to speak of: it must be above zero", ohms)
			}
			amount = ohms.Ohms.InexactFloat64()
		}
		switch {
		case err != nil:
			return o, ohms, usageError{err}
		case *to != 0 && unit == "":
			return o, ohms, usage("%q is the second of its kind, for what has no unit is a resistance: name two different quantities, such as 12V 470R", plain)
		case *to != 0:
			return o, ohms, usage("%q is the second of its kind: name two different quantities", plain)
		}
		*to = amount
	}
	return o, ohms, nil
}

// joinUnits appends words without a digit, such as units that stand apart, to
// the word before, and makes one word of the colours of a row of rings.
func joinUnits(words []string) []string {
	var joined []string
	inRow := false
	for _, word := range words {
		_, err := decode.ParseRow(word)
		ring := err == nil
		if n := len(joined); n > 0 && ring == inRow && !strings.ContainsAny(word, "0123456789") {
			joined[n-1] += " " + word
		} else {
			joined = append(joined, word)
		}
		inRow = ring
	}
	return joined
}

// parseBody reads a type size or a body's length and diameter.
func parseBody(text string) (network.BodySize, error) {
	size, err := stock.ParseSize(text)
	if err != nil {
		return network.BodySize{}, err
	}
	if body, ok := onhand.Size(size); ok {
		return body, nil
	}
	return network.BodySize{}, fmt.Errorf("a body of %s is of no size known here: look for the rating on the part and give it with --rated", size)
}

// deratingOf is the derating that the options ask for, nil for the usual one.
func deratingOf(kind decode.Kind, start, zero string) (*network.Derating, error) {
	if start == "" && zero == "" {
		return nil, nil
	}
	var startC, zeroC *float64
	for _, x := range []struct {
		name, text string
		to         **float64
	}{{"start", start, &startC}, {"zero", zero, &zeroC}} {
		if x.text == "" {
			continue
		}
		c, err := strconv.ParseFloat(strings.TrimRight(x.text, " °C"), 64)
		if err != nil {
			return nil, usage("%q for --%s is no temperature: write one in °C, such as 70", x.text, x.name)
		}
		*x.to = &c
	}
	d := network.GivenDerating(kind, startC, zeroC)
	return &d, nil
}

func printPower(out *answer, q network.PowerQuestion, p network.Power, ohms network.Value) {
	o := p.Operation
	out.line("%s at %s: %s, %s", ohms, network.FormatQuantity(o.Volts, network.Volt), network.FormatQuantity(o.Amps, network.Ampere), network.FormatQuantity(o.Watts, network.Watt))
	out.line("  derating: all of the rating up to %g °C, nothing from %g °C on (%s)", p.Derating.StartC, p.Derating.ZeroC, p.Derating.Source)
	out.line("  at %g °C a part bears %s of its rating", q.AmbientC, share(p.Share))
	switch {
	case p.Share == 0:
		out.line("  rating needed: none will do at that temperature")
	case p.SoldWatts == 0:
		out.line("  rating needed, with a margin of %g times: %s or more, beyond what is usual for leaded parts", p.Margin, network.FormatQuantity(p.NeededWatts, network.Watt))
	default:
		out.line("  rating needed, with a margin of %g times: %s or more; the next one sold is %s", p.Margin, network.FormatQuantity(p.NeededWatts, network.Watt), network.FormatRating(p.SoldWatts))
	}
	if p.RatedWatts > 0 {
		out.line("  rating of the part: %s, %s", network.FormatRating(p.RatedWatts), p.RatedFrom)
		out.line("  it bears there, without a margin: %s", network.FormatQuantity(p.BearsWatts, network.Watt))
	} else {
		out.line("  rating of the part: %s", p.RatedFrom)
	}
	if p.BearsVolts > 0 {
		out.line("  the most voltage across it: %s, %s", network.FormatQuantity(p.BearsVolts, network.Volt), p.VoltsFrom)
	}
	out.line("will it do: %s", strings.ToUpper(string(p.Answer)))
	before := "  only if "
	if p.Answer == network.No {
		before = "  because "
	}
	out.lines(before, p.Because)
	out.lines("CAUTION: ", p.Cautions)
}
