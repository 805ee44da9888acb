package sheet_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/decode"
)

// listed makes parts of a list of values.
func listed(t testing.TB, list string, level int) []sheet.Part {
	t.Helper()
	parts, err := sheet.ParseValues(list, level)
	require.NoError(t, err)
	good, reasons := sheet.Usable(parts, level)
	require.Empty(t, reasons)
	return good
}

// usual is an order without anything odd.
func usual() sheet.Order {
	return sheet.Order{Title: "Club evening", Kinds: sheet.Kinds, Level: 2, Count: 14, Variants: 1, Seed: 3, Language: "en"}
}

func composed(t testing.TB, parts []sheet.Part, o sheet.Order) []sheet.Sheet {
	t.Helper()
	sheets, err := sheet.Compose(parts, o)
	require.NoError(t, err)
	return sheets
}

func TestTheSameSeedMakesTheSameSheets(t *testing.T) {
	o := usual()
	o.Variants = 3
	one, two := composed(t, listed(t, "E12", 2), o), composed(t, listed(t, "E12", 2), o)
	assert.Equal(t, one, two)
	o.Seed++
	assert.NotEqual(t, one[0].Code, composed(t, listed(t, "E12", 2), o)[0].Code)
}

// Variants ask the same questions in other orders, and have codes of their own.
func TestVariants(t *testing.T) {
	o := usual()
	o.Variants = sheet.MostVariants
	sheets := composed(t, listed(t, "E24", 2), o)
	codes := map[string]bool{}
	orders := map[string]bool{}
	for _, s := range sheets {
		codes[s.Code] = true
		var order []int
		for _, q := range s.Questions {
			order = append(order, q.First)
			assert.Equal(t, sheets[0].Questions[q.First-1].Kind, q.Kind)
			assert.ElementsMatch(t, ringsIn(sheets[0].Questions[q.First-1]), ringsIn(q))
		}
		orders[fmt.Sprint(order)] = true
		slices.Sort(order)
		assert.Equal(t, []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14}, order)
	}
	assert.Len(t, codes, len(sheets))
	assert.Len(t, orders, len(sheets))
}

func ringsIn(q sheet.Question) []string {
	var list []string
	for _, f := range q.Figures {
		list = append(list, strings.Join(lettersOf(f), " "))
	}
	return list
}

// Every kind that is chosen is asked as often as the others, and nothing is
// asked twice.
func TestKindsAreSpread(t *testing.T) {
	s := composed(t, listed(t, "E24", 2), usual())[0]
	counts := map[sheet.Kind]int{}
	asked := map[string]bool{}
	for _, q := range s.Questions {
		counts[q.Kind]++
		asked[string(q.Kind)+q.Ask+strings.Join(ringsIn(q), "/")] = true
	}
	for _, k := range sheet.Kinds {
		assert.Equal(t, 2, counts[k], k)
	}
	assert.Len(t, asked, len(s.Questions))
}

func TestOrdersOutOfBounds(t *testing.T) {
	for _, c := range []struct {
		change func(*sheet.Order)
		want   string
	}{
		{func(o *sheet.Order) { o.Count = 0 }, "0 questions make no sheet: ask for 1 to 60"},
		{func(o *sheet.Order) { o.Count = 61 }, "61 questions"},
		{func(o *sheet.Order) { o.Variants = 0 }, "0 variants"},
		{func(o *sheet.Order) { o.Level = 4 }, "there is no level 4: use 1 to 3"},
		{func(o *sheet.Order) { o.Kinds = nil }, "no kind of question is chosen"},
		{func(o *sheet.Order) { o.Title = " " }, "the title is empty"},
		{func(o *sheet.Order) { o.Note = strings.Repeat("Ω", 201) }, "201 characters: use at most 200"},
		{func(o *sheet.Order) { o.Language = "xx" }, `no words in the language "xx": use en`},
	} {
		o := usual()
		c.change(&o)
		_, err := sheet.Compose(listed(t, "E12", 2), o)
		assert.ErrorContains(t, err, c.want)
	}
}

// What cannot be asked of few parts is said, not padded with repeats.
func TestTooFewParts(t *testing.T) {
	o := usual()
	o.Count, o.Kinds = 3, []sheet.Kind{sheet.ToValue}
	_, err := sheet.Compose(listed(t, "5K6; 10K", 2), o)
	assert.ErrorContains(t, err, "only 2 different questions can be made of 2 parts at level 2, not 3: ask for fewer, or add kinds, or give other or more parts")
	o.Kinds = []sheet.Kind{sheet.StandIn}
	_, err = sheet.Compose(listed(t, "5K6; 10K", 2), o)
	assert.EqualError(t, err, "no question can be made of 2 parts at level 2: add kinds, or give other or more parts")
	_, err = sheet.Compose(nil, o)
	assert.ErrorContains(t, err, "of 0 parts")
	o.Kinds = sheet.Kinds
	_, err = sheet.Compose(nil, o)
	assert.EqualError(t, err, "no question can be made of 0 parts at level 2: give other or more parts", "there are no kinds to add")
	o.Count = 9
	_, err = sheet.Compose(listed(t, "5K6", 2), o)
	assert.EqualError(t, err, "only 3 different questions can be made of 1 part at level 2, not 9: ask for fewer, or give other or more parts")
}

// The value that one question names is not what another asks for, as long as
// there are parts enough for both.
func TestQuestionsDoNotTellEachOther(t *testing.T) {
	o := usual()
	o.Kinds, o.Count = []sheet.Kind{sheet.ToRings, sheet.ToValue}, 6
	for o.Seed = range uint64(50) {
		sheets, err := sheet.Compose(listed(t, "5K6; 10K; 47R; 330R; 1M2; 8K2", 2), o)
		require.NoError(t, err)
		values := map[string]bool{}
		for _, q := range sheets[0].Questions {
			values[q.Figures[0].Part.Reading.Value()] = true
		}
		assert.Len(t, values, 6, "seed %d", o.Seed)
	}
	o.Count = 4 // of two parts, each must be asked both ways
	sheets, err := sheet.Compose(listed(t, "5K6; 10K", 2), o)
	require.NoError(t, err)
	assert.Len(t, sheets[0].Questions, 4)
}

func TestParseKinds(t *testing.T) {
	kinds, err := sheet.ParseKinds("value, divider")
	require.NoError(t, err)
	assert.Equal(t, []sheet.Kind{sheet.ToValue, sheet.Divider}, kinds)
	kinds, err = sheet.ParseKinds("all")
	require.NoError(t, err)
	assert.Equal(t, sheet.Kinds, kinds)
	for _, text := range []string{"", "values", "value,,rings"} {
		_, err := sheet.ParseKinds(text)
		assert.ErrorContains(t, err, "there is no kind of question")
	}
}

// Only parts of which the table gives one reading may be asked about.
func TestUsable(t *testing.T) {
	ppm := 50
	for _, c := range []struct {
		rings string
		part  func(*decode.Reading)
		want  string
	}{
		{"GN BU RD GD", nil, ""},
		{"GN BU BK BN BN", nil, ""}, // five rings are three digits: said on every sheet
		{"GN BU RD YE", nil, "more than one meaning"},
		{"BK", nil, "no value to work out"},
		{"GN BU RD GD", func(r *decode.Reading) { r.Ohms = decimal.New(56, 0) }, "confirmed as something else"},
		{"GN BU RD GD BN", func(r *decode.Reading) { r.FailureRate = decimal.NewNullDecimal(decimal.New(1, 0)) }, "failure-rate"},
		{"GN BU BK BN BN RD", func(r *decode.Reading) { r.TempcoPPM = &ppm }, "at most 5 rings"},
		{"", nil, "no ring code"},
	} {
		p := sheet.Part{Reading: decode.Reading{Ohms: decimal.New(56, 2)}}
		if c.rings != "" {
			var rings []decode.Colour
			for _, word := range strings.Fields(c.rings) {
				colour, err := decode.ParseColour(word)
				require.NoError(t, err)
				rings = append(rings, colour)
			}
			found, err := decode.Readings(rings)
			require.NoError(t, err)
			p.Reading = found[0]
		}
		if c.part != nil {
			c.part(&p.Reading)
		}
		good, reasons := sheet.Usable([]sheet.Part{p}, 2)
		if c.want == "" {
			assert.Len(t, good, 1, c.rings)
			continue
		}
		assert.Empty(t, good, c.rings)
		require.Len(t, reasons, 1)
		assert.Contains(t, reasons[0], c.want)
	}
}

// At level 1 one part alone can stand in.
func TestLevelOneHasOneStandIn(t *testing.T) {
	o := usual()
	o.Level, o.Kinds, o.Count = 1, []sheet.Kind{sheet.StandIn}, 20
	for seed := range uint64(20) {
		o.Seed = seed
		for _, q := range composed(t, listed(t, "E12", 1), o)[0].Questions {
			assert.Len(t, q.Boxes[0].Want, 1, q.Ask)
		}
	}
}

// The question sheet gives nothing away: no answer stands in it, and an
// outline to fill in has no rings to read.
func TestQuestionsHoldNoAnswers(t *testing.T) {
	o := usual()
	o.Level = 3
	s := composed(t, listed(t, "E24", 3), o)[0]
	doc, err := sheet.Questions(s)
	require.NoError(t, err)
	for _, item := range doc.Items {
		assert.Empty(t, item.Steps)
		assert.Empty(t, item.Remarks)
		for _, b := range item.Boxes {
			assert.Empty(t, b.Answer)
		}
		for _, f := range item.Figures {
			if f.Blank {
				assert.Contains(t, doc.Alt(f), "4 empty rings")
				assert.Nil(t, f.Part.Picture)
			}
		}
	}
	answers, err := sheet.Answers(s)
	require.NoError(t, err)
	for i, item := range answers.Items {
		assert.NotEmpty(t, item.Steps)
		for k, b := range item.Boxes {
			assert.Equal(t, s.Questions[i].Boxes[k].Shown, b.Answer)
		}
	}
}

// Parts that nobody has checked are told of at the head and beside the part.
func TestUncheckedPartsAreMarked(t *testing.T) {
	parts := listed(t, "E12", 2)
	for i := range parts {
		parts[i].Unchecked = true
	}
	o := usual()
	o.Kinds = []sheet.Kind{sheet.ToValue}
	s := composed(t, parts, o)[0]
	for _, side := range []func(sheet.Sheet) (sheet.Document, error){sheet.Questions, sheet.Answers} {
		doc, err := side(s)
		require.NoError(t, err)
		assert.Contains(t, strings.Join(doc.Notes, " "), "nobody has checked them")
	}
	assert.True(t, sheet.KeyOf(s).Unchecked)
	o.Kinds = []sheet.Kind{sheet.Impossible} // drawn, so nothing was read
	assert.False(t, composed(t, parts, o)[0].Unchecked)
}

func TestKeySurvivesItsFile(t *testing.T) {
	key := sheet.KeyOf(composed(t, listed(t, "E12", 2), usual())[0])
	var b bytes.Buffer
	require.NoError(t, key.Write(&b))
	back, err := sheet.ReadKey(&b)
	require.NoError(t, err)
	assert.Equal(t, key, back)

	for text, want := range map[string]string{"": "no key to a sheet", "[1": "no key to a sheet", "{}": "no questions"} {
		_, err := sheet.ReadKey(strings.NewReader(text))
		assert.ErrorContains(t, err, want)
	}
}

func TestParseCode(t *testing.T) {
	for _, text := range []string{"K7Q4MX", "k7q4mx", " K7Q-4MX "} {
		code, err := sheet.ParseCode(text)
		require.NoError(t, err)
		assert.Equal(t, "K7Q4MX", code)
	}
	for _, text := range []string{"", "K7Q4M", "K7Q4MXX", "K7Q4MA", "../../x", "K7Q4M1"} {
		_, err := sheet.ParseCode(text)
		assert.ErrorContains(t, err, "is no sheet's code")
	}
}

func TestParseValues(t *testing.T) {
	for _, c := range []struct {
		list  string
		level int
		want  string
	}{
		{"5K6", 2, "5K6J GN BU RD GD"},
		{"5K6F", 2, "5K6F GN BU BK BN BN"},
		{"5K6F", 1, "5K6F GN BU RD BN"},
		{"5.6 kΩ ±1 %; 10 kΩ", 2, "5K6F GN BU BK BN BN; 10KJ BN BK OG GD"},
		{"5.6 kΩ 10 %, 4,7 kΩ", 2, "5K6K GN BU RD SR; 4K7J YE VT RD GD"},
		{"5600 +/-2%", 2, "5K6G GN BU BK BN RD"},
		{"5K6 4K7J 100R", 2, "5K6J GN BU RD GD; 4K7J YE VT RD GD; 100RJ BN BK BN GD"},
		{"10k, 1%", 2, "10KF BN BK BK RD BN"},
		{"10k,1%", 2, "10KF BN BK BK RD BN"},
		{"10k; ±1 %", 2, "10KF BN BK BK RD BN"},
		{"4,7k,+/-0,5%", 2, "4K7D YE VT BK BN GN"},
		{"10k, 1 %, 22k, 47k ±2 %", 2, "10KF BN BK BK RD BN; 22KJ RD RD OG GD; 47KG YE VT BK RD RD"},
		{"10k,1%,22k,2%", 2, "10KF BN BK BK RD BN; 22KG RD RD BK RD RD"},
		{"10k 1% 22k", 2, "10KF BN BK BK RD BN; 22KJ RD RD OG GD"},
		{"10k ±1 %, 22k, 2%", 2, "10KF BN BK BK RD BN; 22KG RD RD BK RD RD"},
		{"10k 1%", 2, "10KF BN BK BK RD BN"},
		{"# the biscuit tin\n47K\n\n82K # two of them\n", 2, "47KJ YE VT OG GD; 82KJ GY RD OG GD"},
	} {
		parts, err := sheet.ParseValues(c.list, c.level)
		require.NoError(t, err, c.list)
		var got []string
		for _, p := range parts {
			got = append(got, p.Reading.RKMWithToleranceLetter()+" "+strings.Join(lettersOf(sheet.Figure{Part: p}), " "))
		}
		assert.Equal(t, c.want, strings.Join(got, "; "), c.list)
	}
	parts, err := sheet.ParseValues("E12 E24", 2)
	require.NoError(t, err)
	assert.Len(t, parts, 5*12+5*24)
	for list, want := range map[string]int{"10k,22k": 2, "E12,5K6": 61, "4K7,10K ±1 %, R47": 3, "4,7k": 1, "10k ±0,5 %": 1, "0,47 Ω": 1} {
		parts, err := sheet.ParseValues(list, 2)
		require.NoError(t, err, list)
		assert.Len(t, parts, want, list)
	}

	for _, c := range []struct{ list, want string }{
		{"", "there is no value"},
		{"# nothing\n", "there is no value"},
		{"5K6\nlots\n", `line 2: the value "lots" cannot be read`},
		{"100 220 470", `line 1: "100 220 470" may be one value or several: part values by ;`},
		{"4,700", `line 1: the value "4,700" cannot be read: the comma may part thousands`},
		{"10,22k,47k", `line 1: the value "10,22k,47k" cannot be read`},
		{"10k, 22k, 1%", `line 1: "1%" is a tolerance, of "22k" alone or of all before it: write it behind each value`},
		{"10k,22k,1%", `line 1: "1%" is a tolerance, of "22k" alone`},
		{"5%", `line 1: "5%" is a tolerance without a value`},
		{"10k, 5%, 1%", `line 1: "1%" is a tolerance without a value`},
		{"E12, 1%", `line 1: "1%" is a tolerance, but E12 has its own`},
		{"10,5%", `line 1: "10,5%" is a tolerance without a value`},
		{"1234567", "line 1: 1.234567 MΩ has 7 figures"},
		{"5K6 ±3 %", "line 1: no ring stands for ±3 %"},
		{strings.Repeat("E192\n", 3), "line 3: these are more than 2000 values"},
	} {
		_, err := sheet.ParseValues(c.list, 2)
		assert.ErrorContains(t, err, c.want, c.list)
	}
}

// Half a unit of the last figure asked for is let pass, and no more.
func TestAgrees(t *testing.T) {
	d := decimal.RequireFromString
	for _, c := range []struct {
		given, want string
		figures     int
		right       bool
	}{
		{"4650", "4653", 3, true}, {"4658", "4653", 3, true}, {"4659", "4653", 3, false},
		{"4650", "4653", 4, false}, {"4653", "4653", 0, true}, {"4653.1", "4653", 0, false},
		{"0.8545", "0.8542713", 3, true}, {"0.853", "0.8542713", 3, false}, {"1785", "1787.5", 3, true},
	} {
		assert.Equal(t, c.right, sheet.Agrees(d(c.given), d(c.want), c.figures), "%v", c)
	}
}

// Worked steps of a known part, by hand: 56 · 100 = 5600, 5 % of it 280.
func TestWorkedSteps(t *testing.T) {
	o := usual()
	o.Kinds, o.Count = []sheet.Kind{sheet.ToValue, sheet.ToRings}, 2
	s := composed(t, listed(t, "5K6", 2), o)[0]
	assert.Equal(t, []string{"green 5, blue 6, red: times 100 → 5600 ohm = 5.6 kΩ; gold: ±5 % → 5320 to 5880 ohm."}, s.Questions[0].Steps)
	assert.Equal(t, []string{
		"In letters and digits (IEC 60062): 5K6, with its tolerance letter 5K6J.",
		"56 is a preferred number (IEC 60063); the coarsest series that has it is E12.",
	}, s.Questions[0].Remarks)
	assert.Equal(t, []string{"5.6 kΩ is 56 times 100 ohm: digit 5 is green, digit 6 is blue, times 100 is red, ±5 % is gold."}, s.Questions[1].Steps)
}

// The usual slips of reading 1.2 kΩ ±5 %, brown red red gold, by hand.
func TestSlips(t *testing.T) {
	o := usual()
	o.Kinds, o.Count = []sheet.Kind{sheet.ToValue}, 1
	boxes := composed(t, listed(t, "1K2", 2), o)[0].Questions[0].Boxes
	slips := func(b sheet.Box) map[string]sheet.SlipName {
		found := map[string]sheet.SlipName{}
		for _, s := range b.Slips {
			found[s.Answer] = s.Name
		}
		return found
	}
	value := slips(boxes[1])
	assert.Equal(t, sheet.SlipMultiplier, value["12000"])
	assert.Contains(t, boxes[1].Slips, sheet.Slip{Name: sheet.SlipMultiplier, Answer: "120"})
	assert.Contains(t, boxes[1].Slips, sheet.Slip{Name: sheet.SlipBrownRed, Answer: "120"}, "brown red brown")
	assert.Equal(t, sheet.SlipBrownRed, value["2200"], "red red red")
	assert.Equal(t, sheet.SlipBrownRed, value["1100"], "brown brown red")
	assert.Equal(t, sheet.SlipBrownRed, value["210"], "red brown brown")
	assert.Equal(t, sheet.SlipPrefix, value["1.2"])
	assert.NotContains(t, value, "1200")
	lowest := slips(boxes[3])
	assert.Equal(t, sheet.SlipTolerance, lowest["1200"])
	assert.Equal(t, sheet.SlipOtherBound, lowest["1260"])
	assert.Equal(t, sheet.SlipReversed, slips(boxes[0])["GD RD RD BN"])
	o.Kinds = []sheet.Kind{sheet.ToRings}
	rings := slips(composed(t, listed(t, "5K6", 2), o)[0].Questions[0].Boxes[0])
	assert.Equal(t, map[string]sheet.SlipName{
		"GN BU BN GD": sheet.SlipMultiplier, "GN BU OG GD": sheet.SlipMultiplier,
		"GN BU RD": sheet.SlipTolerance, "GD RD BU GN": sheet.SlipReversed,
	}, rings)
	o.Kinds = []sheet.Kind{sheet.ToValue}
	// Five rings that make sense from the other end: 10 kΩ ±1 %, backwards 120 Ω ±1 %.
	boxes = composed(t, listed(t, "10K ±1 %", 2), o)[0].Questions[0].Boxes
	assert.Equal(t, sheet.SlipReversed, slips(boxes[1])["120"])
}

// No random sheet has a box whose shown answer is a slip of its own.
func TestSlipsAreWrong(t *testing.T) {
	for seed := range uint64(40) {
		for _, s := range randomSheets(t, seed+1000) {
			for _, q := range s.Questions {
				for _, b := range q.Boxes {
					for _, slip := range b.Slips {
						assert.NotEqual(t, b.Want, slip.Answer)
					}
				}
			}
		}
	}
}

func BenchmarkCompose(b *testing.B) {
	parts, _ := sheet.Usable(randomParts(b, rand.New(rand.NewPCG(1, 1)), 60), 3)
	o := usual()
	o.Count, o.Level = 40, 3
	for b.Loop() {
		composed(b, parts, o)
	}
}
