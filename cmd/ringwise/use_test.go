package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

// mixedStock makes a stock of a few parts and returns its file (invented data of
// a radio-repair club).
func mixedStock(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "stock.db")
	s, err := stock.Open(context.Background(), path)
	require.NoError(t, err)
	defer s.Close()
	for _, e := range []struct {
		value string
		count int
		kind  decode.Kind
	}{
		{"5K6 ±5 %", 3, decode.KindCarbonFilm}, {"10K ±1 %", 2, decode.KindMetalFilm}, {"1K0 ±5 %", 4, decode.KindCarbonFilm},
		{"220 ±10 %", 2, decode.KindUnknown}, {"100 ±5 %", 1, decode.KindWireWound},
	} {
		v, err := network.ParseValue(e.value)
		require.NoError(t, err)
		p := stock.Part{Origin: stock.ByHand, Count: e.count, Kind: e.kind, KindBasis: stock.Said, SizeBasis: stock.Unknown,
			RatingWatts: decimal.NewNullDecimal(decimal.New(25, -2)), RatingBasis: stock.Said, Reading: v.Reading()}
		if e.kind == decode.KindUnknown {
			p.KindBasis, p.RatingWatts, p.RatingBasis = stock.Unknown, decimal.NullDecimal{}, stock.Unknown
		}
		_, err = s.Confirm(context.Background(), p)
		require.NoError(t, err)
	}
	return path
}

// noStock makes sure that the usual stock is not there.
func noStock(t *testing.T) { t.Setenv("XDG_DATA_HOME", t.TempDir()) }

func TestUseCommandsRefuse(t *testing.T) {
	noStock(t)
	for _, c := range []struct{ args, want string }{
		{"spread", "name a value"},
		{"spread lots", `"lots" cannot be read`},
		{"spread 0", "must be above zero"},
		{"spread 5K6 --tempco hot", "--tempco"},
		{"spread 5K6 --temperature warm", "two temperatures"},
		{"spread 5K6 --temperature 50..20", "ends below its start"},
		{"spread 5K6 --measured lots", "the meter's value"},
		{"spread 5K6 --accuracy -1 --measured 5k", "--accuracy"},
		{"spread 5K6 --counts -1 --measured 5k", "--counts"},
		{"replace", "name a value"},
		{"replace 5K6 --kind tin", "is no kind of resistor"},
		{"replace 5K6 --power -1", "--power"},
		{"replace 5K6 --with-power 1/4W", "need the part's value"},
		{"replace 5K6 --best 0", "--best must be"},
		{"replace 5K6 --with lots", "cannot be read"},
		{"combine", "name a value"},
		{"combine 0", "must be above zero"},
		{"combine 1k --parts 5", "use 1 to 4"},
		{"combine 1k --parts 0", "1 or more"},
		{"combine 1k --from E25", "neither stock nor a series"},
		{"combine 1k --from stock --range 1..10", "go with a series"},
		{"combine 1k --stock c.db --part-tolerance 1", "go with a series, not with the stock"},
		{"replace 1k --stock c.db --part-power 1W", "go with a series, not with the stock"},
		{"divider --ratio 0.5 --stock c.db --range 1..10", "go with a series, not with the stock"},
		{"combine 1k --from E24 --stock c.db", "--stock names a stock, and --from E24 takes the parts of that series"},
		{"combine 1k --range 10..1", "the lower first"},
		{"combine 1k --range 0..10", "above zero"},
		{"combine 1k --range 10", "two values"},
		{"combine 1k --from E192 --range 1e-9..1e+14", "more than 4000"},
		{"combine 1k --volts 5 --watts 1", "give the one you know"},
		{"divider", "needs an input and an output"},
		{"divider --in 5 --out 12", "out of reach"},
		{"divider --ratio 1", "out of reach"},
		{"divider --ratio 1/0", "above zero"},
		{"divider --ratio half", "is no ratio"},
		{"divider --in 5V --out 3V --load 0", "must be above zero"},
		{"divider 12V 5V", "too much"},
		{"power", "name two of"},
		{"power 12V", "name two of"},
		{"power 12V 5V", "second of its kind"},
		{"power 12 470", `"470" is the second of its kind, for what has no unit is a resistance`},
		{"power 12V 5kxA", "is no unit in A"},
		{"power 12V 0", "must be above zero"},
		{"power 12V 470R 5A", "contradict each other"},
		{"power 12V 470R --size 0805", "no body size"},
		{"power 12V 470R --start 100 --zero 50", "must be the hotter"},
		{"power 12V 470R --rated 1W --size 0204", "both given"},
		{"spread 5K6J --tolerance 1", "5.6 kΩ ±5 % has another tolerance than --tolerance, 1 %"},
		{"code 5K6J --tolerance 1", "has another tolerance"},
		{"replace 5K6J --tolerance 1", "has another tolerance"},
		{"spread 5K6 --in-circuit", "--in-circuit says nothing without --measured"},
		{"spread 5K6 --accuracy 1", "--accuracy says nothing without --measured"},
		{"spread 5K6 --tempco 50", "--tempco says nothing without --temperature"},
		{"replace 5K6 --with 5K6 --from E24", "--from chooses parts, and --with names the one"},
		{"replace 5K6 --with 5K6 --best 3", "--best chooses parts"},
		{"spread 5K6 --accuracy 1 --tempco 50", "--accuracy says nothing"},
		{"spread GN BU BK BN BN RD --temperature 0..60 --tempco 100", "the value tells 50 ppm/K, which is another coefficient than --tempco, 100 ppm/K"},
		{"spread 5K6FR --temperature 0..60 --tempco 100", "the value tells 50 ppm/K, which is another coefficient than --tempco, 100 ppm/K"},
		{"power 12V abc", `"12V abc" is not two quantities`},
		{"code -5", `"-5" is below zero`},
		{"power -5V 470R", `"-5V" is below zero`},
		{"power 12V 470R --ambient x", `"x" for --ambient is no number`},
		{"spread 5K6 --measured 5.6k --counts 1e99", `"1e99" for --counts is no number`},
		{"power 12V 470R --margin 0", "--margin: it must be how many times"},
		{"combine 1k --margin half", "--margin: it must be how many times"},
		{"divider --ratio 1/2 --margin 101", "--margin: it must be how many times"},
		{"power 12V 470R --zero warm", "no temperature"},
		{"project", "name one list"},
		{"project a.csv b.csv", "name one list"},
	} {
		code, out, errs := ringwise(strings.Fields(c.args)...)
		assert.Equal(t, wrongUse, code, "%s: %s", c.args, errs)
		assert.Empty(t, out, c.args)
		assert.Contains(t, errs, c.want, c.args)
		assert.Equal(t, 1, strings.Count(errs, "\n"), "one line: %s", errs)
	}
}

func TestUseCommandsFail(t *testing.T) {
	noStock(t)
	for _, c := range []struct{ args, want string }{
		{"combine 1k --from stock", "there is no stock yet"},
		{"replace 1k --stock " + filepath.Join(t.TempDir(), "none.db"), "there is no stock yet"},
		{"divider --in 5V --out 3V --most 1nA", "no pair of the parts keeps within the limits"},
		{"project " + filepath.Join(t.TempDir(), "none.csv"), "none.csv: no such file: check the name"},
		{"project " + t.TempDir(), "this is a folder: name the file in it"},
	} {
		code, out, errs := ringwise(strings.Fields(c.args)...)
		assert.Equal(t, failed, code, "%s: %s", c.args, errs)
		assert.Empty(t, out, c.args)
		assert.Contains(t, errs, c.want, c.args)
	}
}

// Every command says its whole answer as JSON too, and every value in it has
// all its forms.
func TestUseCommandsAsJSON(t *testing.T) {
	path := mixedStock(t)
	list := filepath.Join(t.TempDir(), "list.csv")
	write(t, list, []byte("value\n5k6\n"))
	for args, field := range map[string]string{
		"spread 5K6J": "value", "replace 5K6J --stock " + path: "series", "combine 11k --stock " + path: "target",
		"divider --ratio 0.5 --stock " + path: "best", "power 12V 470R": "operation", "project " + list + " --stock " + path: "lines",
	} {
		code, out, errs := ringwise(append(strings.Fields(args), "--json")...)
		assert.Equal(t, allWell, code, "%s: %s", args, errs)
		var answer map[string]any
		require.NoError(t, json.Unmarshal([]byte(out), &answer), args)
		assert.Contains(t, answer, field, args)
		assert.NotContains(t, out, "null,\n  \"left_out\"", args)
		assert.Contains(t, answer, "values", args)
		assert.Contains(t, out, `"spoken": "`, args)
	}
}

// everyForm are the forms of 5.6 kΩ ±5 % in which the decode package reads a
// value: number and unit, the letters and digits of IEC 60062, and the rings of
// IEC 60062 by name or by the letters of IEC 60757.
var everyForm = []string{"5K6J", "5.6 kΩ ±5 %", "5600 ±5", "5,6 kOhm ±J", "5.6 kilohm ± 5", "GN BU RD GD", "green blue red gold", "green-blue-red-gold"}

// Every field for a value takes every form, and the answer is the same.
func TestUseCommandsTakeValuesInEveryForm(t *testing.T) {
	path := mixedStock(t)
	list := filepath.Join(t.TempDir(), "list.csv")
	for _, command := range []string{
		"spread|VALUE", "spread|1K|--measured|990|--leads|VALUE", "replace|VALUE|--stock|" + path, "replace|4K7|--with|VALUE",
		"combine|VALUE|--from|E6|--range|1K..100K", "combine|7K|--from|E6|--range|VALUE..100K",
		"divider|--in|5V|--out|2V|--from|E6|--load|VALUE", "divider|--in|5V|--out|2V|--from|E6|--source|VALUE",
		"power|12V|VALUE", "code|VALUE", "project|" + list + "|--stock|" + path, "stock|find|VALUE|--stock|" + path,
		"sheet|--values|VALUE|--seed|7|--kinds|value|--questions|1|--out|" + t.TempDir(),
	} {
		first := ""
		for _, form := range everyForm {
			write(t, list, []byte("value;quantity\n"+form+";2\n"))
			args := strings.Split(strings.ReplaceAll(command, "VALUE", form), "|")
			code, out, errs := ringwise(args...)
			assert.Equal(t, allWell, code, "%s with %s: %s", command, form, errs)
			if first == "" {
				first = out
			}
			assert.Equal(t, first, out, "%s with %s", command, form)
		}
		assert.NotEmpty(t, first, command)
	}
	code, out, _ := ringwise("power", "12V", "green", "blue", "red", "gold")
	assert.Equal(t, allWell, code)
	assert.Contains(t, out, "5.6 kΩ ±5 % at 12 V")
}

// With --forms every value of an answer is told as a marking, as rings and in
// words, below the line that names it first.
func TestFormsOfEveryValue(t *testing.T) {
	path := mixedStock(t)
	list := filepath.Join(t.TempDir(), "list.csv")
	write(t, list, []byte("value\n5k6\n11k\n"))
	for _, command := range []string{
		"spread 5K6J --measured 5.58k", "replace 5K6J --stock " + path, "combine 11k --stock " + path, "divider --ratio 0.5 --stock " + path,
		"power 12V 470R", "project " + list + " --stock " + path, "stock --stock " + path, "stock find 5K6 --stock " + path,
		"stock journal --stock " + path, "decode GN BU RD GD", "code 5K6",
	} {
		code, out, errs := ringwise(append(strings.Fields(command), "--forms")...)
		assert.Equal(t, allWell, code, "%s: %s", command, errs)
		values := network.ValuesIn(out)
		assert.NotEmpty(t, values, command)
		for _, v := range values {
			assert.Equal(t, 1, strings.Count(out, "  "+v.String()+": "+v.Forms().String()+"\n"), "%s: %s", command, v)
		}
	}
	_, out, _ := ringwise("spread", "5.6", "kΩ", "--tolerance", "J", "--forms")
	assert.True(t, strings.HasPrefix(out, "5.6 kΩ ±5 %\n    5.6 kΩ ±5 %: marked 5K6J; rings GN BU RD GD, green blue red gold; five point six kilo-ohm, plus or minus five percent\n"), out)
	code, _, errs := ringwise("read", "--forms", "--csv", "a.jpg")
	assert.Equal(t, wrongUse, code)
	assert.Contains(t, errs, "--forms is for the table")
}

// A prompt passes at once, and forms wait for the end of its line.
func TestFormsWriterHoldsNothingBack(t *testing.T) {
	var out strings.Builder
	w := withForms(&out)
	for _, c := range []struct{ text, want string }{
		{"take 4.7", "take 4.7"}, {" kΩ? ", "take 4.7 kΩ? "},
		{"\nnext", "take 4.7 kΩ? \n    4.7 kΩ: marked 4K7; rings YE VT RD, yellow violet red; four point seven kilo-ohm\nnext"},
	} {
		n, err := w.Write([]byte(c.text))
		require.NoError(t, err)
		assert.Equal(t, len(c.text), n)
		assert.Equal(t, c.want, out.String())
	}
}

func TestSpread(t *testing.T) {
	// The bounds are worked in the tests of the network package.
	// A red sixth ring is 50 ppm/K (IEC 60062).
	_, byRing, _ := ringwise("spread", "GN BU BK BN BN RD", "--temperature", "0..60")
	_, byOption, _ := ringwise("spread", "5K6F", "--tempco", "50", "--temperature", "0..60")
	assert.Equal(t, byOption, byRing)
	assert.NotContains(t, byRing, "unknown")
	// R is 50 ppm/K too, and Z may be 20 or 10 (IEC 60062).
	_, byLetter, _ := ringwise("spread", "5k6fr", "--temperature", "0..60")
	assert.Equal(t, byOption, byLetter)
	_, either, _ := ringwise("spread", "5K6FZ", "--temperature", "0..60")
	assert.Contains(t, either, "coefficient is unknown")
	_, either, _ = ringwise("spread", "5K6FZ", "--tempco", "10", "--temperature", "0..60")
	assert.Contains(t, either, "10 ppm/K from 20 °C: ±0.04 %")

	_, out, _ := ringwise("spread", "4K5F", "--tempco", "100", "--temperature", "-10..85")
	assert.Contains(t, out, "drift from -10 to 85 °C, 100 ppm/K from 20 °C: ±0.65 %")
	assert.Contains(t, out, "both at their worst: 4.426 kΩ to 4.575 kΩ")
	for shown, want := range map[string]string{
		"5.58k": "inside the tolerance", "5.33k": "too near to a bound", "5.00k": "OUTSIDE the tolerance",
	} {
		_, out, _ := ringwise("spread", "5K6J", "--measured", shown, "--accuracy", "0.8")
		assert.Contains(t, out, want, shown)
	}
	// One digit allows for three counts of 1 kΩ, 1 % and 0.2 Ω.
	_, out, _ = ringwise("spread", "5K6J", "--measured", "3k")
	assert.Contains(t, out, "may be off by 3.03 kΩ, more than the tolerance; write all the digits")
	_, out, _ = ringwise("spread", "5K6J", "--measured", "5.58k", "--in-circuit")
	assert.Contains(t, out, "so really 5.494 kΩ or more: no proof in its circuit")
	assert.Contains(t, out, "CAUTION: Capacitors hold charge")
	// 0.8 % of 5580 Ω, three counts of 10 Ω and 0.2 Ω are 74.84 Ω.
	_, out, _ = ringwise("spread", "5K6J", "--measured", "5.58k", "--accuracy", "0.8")
	assert.Contains(t, out, "really 5.505 kΩ to 5.655 kΩ")
	// ±0.01 % of 5600 Ω is 0.56 Ω, and 1.96 thirds of that 0.366 Ω.
	_, out, _ = ringwise("spread", "5K6L", "--measured", "5600.9", "--accuracy", "0.001", "--counts", "0", "--leads", "0")
	assert.Contains(t, out, "5.59944 kΩ to 5.60056 kΩ, ±0.01 %")
	assert.Contains(t, out, "5.59963 kΩ to 5.60037 kΩ, ±0.00653 %")
	assert.Contains(t, out, "really 5.600844 kΩ to 5.600956 kΩ: OUTSIDE")
	assert.NotContains(t, out, "nearest of E24", "it is the marked value")
	_, out, _ = ringwise(strings.Fields("spread 5K6J --measured 5319.9 --accuracy 0 --counts 0 --leads 0")...)
	assert.Contains(t, out, "really 5.3199 kΩ to 5.3199 kΩ: OUTSIDE the tolerance\n    5.002 % too low")
}

func TestReplace(t *testing.T) {
	code, out, _ := ringwise("replace", "5K6J", "--with", "5K1J")
	assert.Equal(t, nothingIn, code)
	assert.Contains(t, out, "NO: 5.1 kΩ ±5 % (5K1J)")
	assert.Contains(t, out, "because its value is 8.93 % too low")
	assert.NotContains(t, out, "only if")

	code, out, _ = ringwise(strings.Fields("replace 5K6J --with 5K6F --with-power 1/4W --power 1/4W --kind ordinary")...)
	assert.Equal(t, allWell, code)
	assert.Contains(t, out, "ONLY IF", "the kind of the part is not known")
	code, out, _ = ringwise(append(strings.Fields("replace 5K6J --with 5K6F --with-power 1/4W --power 1/4W --kind ordinary --with-kind"), "metal film")...)
	assert.Equal(t, allWell, code)
	assert.Contains(t, out, "YES: 5.6 kΩ ±1 % (5K6F)")

	_, out, _ = ringwise(strings.Fields("replace 5K6 --voltage 230 --with 5K6")...)
	assert.Contains(t, out, "with 230 V across it, it bears 9.446 W")
	assert.Contains(t, out, "CAUTION: A resistor near its rating gets hot")

	code, out, _ = ringwise(strings.Fields("replace 10R --kind fusible --from E24")...)
	assert.Equal(t, allWell, code)
	assert.Equal(t, 1, strings.Count(out, ". only if: "), "10 Ω alone")
	assert.NotContains(t, out, "ordinary place")
	assert.NotContains(t, out, "nearest of the series")

	// The tolerance marked on a safety part says nothing of what its place bears.
	_, out, _ = ringwise(append(strings.Fields("replace 5K6J --kind safety --with-kind safety --with"), "5k62 ±1 %")...)
	assert.Contains(t, out, "NO: 5.62 kΩ ±1 %")
	assert.NotContains(t, out, "nearest of the series")
	_, out, _ = ringwise(append(strings.Fields("replace 5K6J --tolerance 5 --kind safety --with-kind safety --with"), "5k62 ±1 %")...)
	assert.Contains(t, out, "ONLY IF: 5.62 kΩ ±1 %")

	// The letter S is 100 ppm/K, Z may be 20 or 10 (IEC 60062).
	_, out, _ = ringwise(strings.Fields("replace 5K6 --tempco 50 --with 5K6JS")...)
	assert.Contains(t, out, "temperature coefficient of 100 ppm/K is above the 50 asked for")
	_, out, _ = ringwise(strings.Fields("replace 5K6 --tempco 100 --with 5K6JS")...)
	assert.NotContains(t, out, "temperature coefficient")
	_, out, _ = ringwise(strings.Fields("replace 5K6 --tempco 10 --with 5K6JZ")...)
	assert.Contains(t, out, "only if its temperature coefficient, which is unknown, is 10 ppm/K or less")

	path := mixedStock(t)
	_, out, _ = ringwise("replace", "230", "--stock", path)
	assert.Contains(t, out, "1. only if: 220 Ω ±10 % (220RK) from #4")
	code, out, _ = ringwise("replace", "100", "--power", "1/4W", "--kind", "ordinary", "--stock", path)
	assert.Equal(t, nothingIn, code)
	assert.Contains(t, out, "no: 100 Ω ±5 % (100RJ) from #5, exact\n     because it is no ordinary part")
}

func TestCombine(t *testing.T) {
	path := mixedStock(t)
	code, out, errs := ringwise("combine", "11k", "--tolerance", "2", "--stock", path)
	assert.Equal(t, allWell, code, errs)
	assert.Contains(t, out, "1 kΩ in series with 10 kΩ\n     makes 11 kΩ, exact")
	assert.Contains(t, out, "fewest that keep within ±2 % at their worst: 2 parts")
	assert.Contains(t, out, "left out: 100 Ω ±5 % (100RJ) from #5, wire-wound")
	assert.Contains(t, out, "3 parts: no nearer than fewer")

	noStock(t)
	_, out, _ = ringwise("combine", "5.23k")
	assert.Contains(t, out, "E24 from 1 Ω to 10 MΩ (there is no stock yet)")
	assert.Contains(t, out, "130 Ω in series with 5.1 kΩ\n     makes 5.23 kΩ, exact")
	// Overload is told also where fewer parts are as near: 1 W on 1/4 W.
	_, out, _ = ringwise(strings.Fields("combine 100 --from E12 --part-power 1/4W --parts 4 --best 1 --watts 1 --margin 1")...)
	assert.Contains(t, out, "NO: 100 Ω ±10 % bears 1 W, and its rating of 0.25 W is below 1 W")
	assert.Contains(t, out, "4 parts:\n")
}

// 12.3 kΩ, 5 % less, is 5.0015 % below 12.3002 kΩ: worked by hand.
func TestCombineShowsWhatIsJustTooFar(t *testing.T) {
	_, out, _ := ringwise(strings.Fields("combine 12.3002k --from E24 --tolerance 5 --parts 2 --best 1")...)
	assert.Contains(t, out, "(5.002 % too low to 5 % too high)")
	_, narrow, _ := ringwise(strings.Fields("combine 10k --from E192 --part-tolerance 0.05 --parts 1")...)
	assert.Contains(t, narrow, "at worst 9.995 kΩ to 10.005 kΩ", "±0.05 % of 10 kΩ are 5 Ω")
	assert.Contains(t, out, "none of these keeps within ±5 %")
}

func TestDivider(t *testing.T) {
	code, out, errs := ringwise(strings.Fields("divider --in 12V --out 3.3V --load 10k --from E24")...)
	assert.Equal(t, allWell, code, errs)
	assert.Contains(t, out, "1. upper 2.2 kΩ ±5 % (2K2J), lower 910 Ω ±5 % (910RJ)\n     gives 3.299 V, 0.0335 % too low")
	assert.Contains(t, out, "corners: both low 3.309 V; upper low, lower high 3.533 V; upper high, lower low 3.075 V; both high 3.289 V")
	assert.Contains(t, out, "10.42 mA is taken")
	_, out, _ = ringwise(strings.Fields("divider --ratio 1/2 --stock " + mixedStock(t))...)
	assert.Contains(t, out, "gives ratio 0.5, exact")
	// From 1 Ω to 10 MΩ no pair comes near: the nearest is shown, no other.
	_, out, _ = ringwise(strings.Fields("divider --ratio 1e-9 --from E24")...)
	assert.Contains(t, out, "1. upper 10 MΩ ±5 % (10MJ), lower 1 Ω ±5 % (1R0J)")
	assert.NotContains(t, out, "2. upper")
}

func TestPower(t *testing.T) {
	for _, c := range []struct {
		args string
		code int
		want string
	}{
		{"12V 470R", allWell, "470 Ω at 12 V: 25.53 mA, 306.4 mW"},
		{"20 mA 150R --rated 1/4W --kind carbonfilm", allWell, "will it do: YES"},
		{"12V 470R --rated 1/4W --kind oxide", nothingIn, "will it do: NO\n  because its rating of 0.25 W is below the 0.613 W needed"},
		{"1W 10V", allWell, "100 Ω at 10 V: 100 mA, 1 W"},
		{"12v 470R", allWell, "470 Ω at 12 V: 25.53 mA, 306.4 mW"},
		{"5ma 4.7kohm", allWell, "4.7 kΩ at 23.5 V: 5 mA, 117.5 mW"},
		{"20 milliamps 1k", allWell, "1 kΩ at 20 V"},
		{"1kw 230 volts", allWell, "52.9 Ω at 230 V"},
		{"10V 5K6W", allWell, "5.6 kΩ ±0.05 % at 10 V: 1.786 mA"}, // W is 0.05 % (IEC 60062)
		{"12V 1M --rated 1/4w --kind oxide", allWell, "across it: 500 V, by its power alone"},
		{"230V 1M --size 0207", allWell, "estimated by the body: size 0207 is sold at 0.25 W to 0.6 W, and the lowest is taken"},
		{"5V 1k --ambient 200", nothingIn, "no rating will do"},
		{"12V 470R --rated 1W --zero 300", allWell, "from 300 °C on (the end as given, the start as usual: no curve for its kind"},
		{"12V 470R --rated 1W --start 70", allWell, "will it do: ONLY IF\n  only if it is derated no earlier than taken here"},
		{"12V 470R --rated 1W --kind safety --start 70 --zero 155", allWell, "will it do: YES"},
		{"5V 1k --start 40 --zero 125 --ambient 82.5", allWell, "at 82.5 °C a part bears 50 % of its rating"},
	} {
		code, out, errs := ringwise(append([]string{"power"}, strings.Fields(c.args)...)...)
		assert.Equal(t, c.code, code, "%s: %s", c.args, errs)
		assert.Contains(t, out, c.want, c.args)
		assert.Contains(t, out, "CAUTION: ", c.args)
	}
}

func TestProject(t *testing.T) {
	path := mixedStock(t)
	folder := t.TempDir()
	list, page := filepath.Join(folder, "receiver.csv"), filepath.Join(folder, "pick.html")
	write(t, list, []byte("reference,value,tolerance,power,quantity,kind\n\"R1, R2\",5k6,5,1/4W,,ordinary\nR3,11k,5,1/4W,1,ordinary\nR4,100,5,1/4W,1,ordinary\n"))
	counts := func() string {
		_, out, _ := ringwise("stock", "--stock", path)
		var words []string
		for line := range strings.Lines(out) {
			words = append(words, strings.Fields(line)[0])
		}
		return strings.Join(words, " ")
	}
	before := counts()

	code, out, errs := ringwise("project", list, "--stock", path, "--pick-sheet", page)
	assert.Equal(t, nothingIn, code, errs)
	for _, want := range []string{
		"line 2, R1, R2: 2 of 5.6 kΩ ±5 %, rated 0.25 W, ordinary\n  as asked for 2 places: take 2 of 5.6 kΩ ±5 % (5K6J) from #1\n",
		"joined as 1 kΩ in series with 10 kΩ", "MISSING: 1; to buy: 100 Ω ±5 % (E24), rated 0.25 W, ordinary\n     not 100 Ω ±5 % (100RJ) from #5",
		`of 4 places, 3 have parts, 0 of them "only if"; 1 missing`, "nothing was taken out of the stock",
	} {
		assert.Contains(t, out, want)
	}
	assert.FileExists(t, page)
	assert.Equal(t, before, counts())

	_, out, errs = ringwise("project", list, "--stock", path, "--take")
	assert.Contains(t, out, "taken out of the stock: 2 of #1, 1 of #3, 1 of #2. ringwise stock undo --stock "+path+" puts all of it back", errs)
	assert.NotEqual(t, before, counts())
	code, out, errs = ringwise("stock", "undo", "--stock", path)
	assert.Equal(t, allWell, code, errs)
	assert.Equal(t, "undone: took 4 parts for project receiver: 2 of #1, 1 of #3, 1 of #2\n", out)
	assert.Equal(t, before, counts())

	_, out, _ = ringwiseFrom(strings.NewReader("value,voltage\n560,230\n"), "project", "-", "--stock", path)
	assert.Contains(t, out, "CAUTION: A resistor near its rating gets hot", "230²/560 W")
	sheet := filepath.Join(folder, "buy.html")
	_, out, _ = ringwiseFrom(strings.NewReader("value,tolerance,kind,power,voltage\n33k,5,ordinary,1/4W,330V\n"), "project", "-", "--stock", path, "--pick-sheet", sheet)
	const rated = "rated 6.6 W or more (2 times the 3.3 W that 330 V across it make; the 0.25 W asked for are too little), bearing 330 V (limiting element voltage)"
	assert.Contains(t, out, "to buy: 33 kΩ ±5 % (E24), "+rated+", ordinary\n", "330²/33 000 W")
	printed, err := os.ReadFile(sheet)
	require.NoError(t, err)
	assert.Contains(t, string(printed), rated)

	noStock(t)
	code, out, errs = ringwiseFrom(strings.NewReader("value\n1k\n"), "project", "-")
	assert.Equal(t, nothingIn, code)
	assert.Contains(t, out, "MISSING: 1")
	assert.Contains(t, errs, "no stock yet")
	code, _, errs = ringwiseFrom(strings.NewReader("value\n1k\n"), "project", "-", "--take")
	assert.Equal(t, failed, code)
	assert.Contains(t, errs, "no stock yet")
	code, _, errs = ringwiseFrom(strings.NewReader("reference,ohms\nR1,1k\n"), "project", "-")
	assert.Equal(t, failed, code)
	assert.Contains(t, errs, `-: line 1 names no column value, only "reference", "ohms"`)
}

// The examples in the help work.
func TestUseHelpExamples(t *testing.T) {
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	for _, name := range []string{"spread", "replace", "combine", "divider", "power"} {
		c, known := find(name)
		require.True(t, known)
		_, examples, found := strings.Cut(c.help, "Examples:\n")
		require.True(t, found, name)
		for line := range strings.Lines(examples) {
			args := words(strings.TrimSpace(line))
			if strings.Contains(line, "--from stock") {
				args = append(args, "--stock", mixedStock(t))
			}
			code, _, errs := ringwise(args[1:]...)
			assert.Contains(t, []int{allWell, nothingIn}, code, "%s: %s", line, errs)
		}
	}
}

// Help fits a terminal of 80 columns.
func TestUseHelpIsNarrow(t *testing.T) {
	for _, name := range []string{"spread", "replace", "combine", "divider", "power", "project"} {
		c, known := find(name)
		require.True(t, known)
		for i, line := range strings.Split(c.help, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, "line %d of %s", i+1, name)
		}
	}
}

// words parts a command line at its spaces, but not within double quotes.
func words(line string) []string {
	var list []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			list = append(list, part)
		} else {
			list = append(list, strings.Fields(part)...)
		}
	}
	return list
}
