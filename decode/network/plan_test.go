package network_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ringwise/decode"
	"ringwise/decode/network"
)

func list(t testing.TB, text string) network.List {
	t.Helper()
	l, err := network.ParseList(text)
	require.NoError(t, err)
	return l
}

func TestParseList(t *testing.T) {
	l := list(t, "\ufeffReference;Value;Tolerance;Power;Qty;Footprint;Kind;Voltage\r\n"+
		"R1, R2;5,6 kΩ;5 %;1/4 W;;axial;metal film;\r\n\r\n"+
		"R3;4K7F;;0,5;3;;;250 V\r\n;100R;J;;;;fusible;\r\n")
	assert.Equal(t, []string{"Footprint"}, l.Ignored)
	require.Len(t, l.Lines, 3)
	a, b, c := l.Lines[0], l.Lines[1], l.Lines[2]
	assert.Equal(t, []any{2, "R1, R2", "5.6 kΩ ±5 %", 0.25, 2, decode.KindMetalFilm},
		[]any{a.Line, a.Reference, a.Need.Value.String(), a.Need.RatedWatts, a.Quantity, a.Need.Kind})
	assert.Equal(t, []any{4, "R3", "4.7 kΩ ±1 %", 0.5, 3, 250.0},
		[]any{b.Line, b.Reference, b.Need.Value.String(), b.Need.RatedWatts, b.Quantity, b.Need.Volts})
	assert.Equal(t, []any{5, "100 Ω ±5 %", 1, decode.KindFusible}, []any{c.Line, c.Need.Value.String(), c.Quantity, c.Need.Kind})
	assert.Len(t, list(t, "value\n1k\n2k\n").Lines, 2)
	assert.Len(t, list(t, "reference\tvalue\nR1\t1k\n").Lines, 1)
}

// How many places references name, counted by hand.
func TestParseListCountsReferences(t *testing.T) {
	for reference, want := range map[string]int{
		"": 1, "R": 1, "R1": 1, "R1-R3": 3, "R1 - R4": 4, "R1–3": 3, "R9..R12": 4, "R1-R3, R7": 4, "R1-C3": 1, "shunt-2a": 1,
	} {
		assert.Equal(t, want, list(t, "reference;value\n"+reference+";1k\n").Lines[0].Quantity, reference)
	}
	l := list(t, "reference;value;quantity\nR1-R3;1k;\nR2;2k;\nR6,R7;1k;5\nR8,R9;1k;4\nR;1k;3\nR;2k;1\n")
	assert.Equal(t, []string{"line 3 names R2, as line 2 does: both are counted", "line 4 names 2 references, and its quantity is 5: the quantity counts"}, l.Notes)
}

func TestParseListNamesLineAndColumn(t *testing.T) {
	for text, says := range map[string]string{
		"":                                         "the list is empty",
		"\n\n":                                     "the list is empty",
		"value\n":                                  "no lines below",
		"reference,ohms\nR1,5k6\n":                 `line 1 names no column value, only "reference", "ohms"`,
		"5k6\n4k7\n":                               "line 1 names no column value",
		"value,value\n1k,2k\n":                     "line 1: columns 1 and 2 are both the value",
		"qty,value,quantity\n1,2k,2\n":             "line 1: columns 1 and 3 are both the quantity",
		"reference,value\nR1,1k\nR2,lots\n":        "line 3, column value: the value \"lots\" cannot be read",
		"reference,value\nR1,\n":                   "line 2, column value: the value is empty",
		"reference,value\nR1,-5\n":                 "line 2, column value: ",
		"value,tolerance\n1k,wide\n":               "line 2, column tolerance: \"wide\" is no tolerance",
		"value,power\n1k,-1\n":                     "line 2, column power: ",
		"value,voltage\n1k,lots\n":                 "line 2, column voltage: ",
		"value,kind\n1k,tin\n":                     "line 2, column kind: \"tin\" is no kind",
		"reference,value\nR3-R1,1k\n":              "line 2, column reference: R3-R1 is no run of 2 to 1000 references",
		"reference,value\nR1-R900 R901-R1001,1k\n": "line 2, column reference: more than 1000 references",
		"value,quantity\n1k,two\n":                 "line 2, column quantity: \"two\" is no count",
		"value,quantity\n1k,0\n":                   "line 2, column quantity: ",
		"value,quantity\n1k,99999\n":               "line 2, column quantity: ",
		"reference,value\nR1,1k\nR1,R2,2k\n":       "line 3 has 3 columns, and the first line names 2: put a field with ',' in it into quotes",
		"reference;value;power\nR1;1k\n":           "line 2 has 2 columns, and the first line names 3: give each column its field, empty or not, such as \";\" at the end",
		"reference,value\nR1,\"1k\nR2,2k\n":        "line ",
		"reference,value\nR\"1,1k\n":               "line 2, at character 2",
		strings.Repeat("x", 2<<20):                 "larger than 1 MB",
		"value\n" + strings.Repeat("1\n", 3e3):     "more than 2000 lines",
	} {
		_, err := network.ParseList(text)
		require.Error(t, err, "%.40q", text)
		assert.Contains(t, err.Error(), says)
		assert.NotContains(t, err.Error(), "\n")
		assert.Less(t, len(err.Error()), 500)
	}
}

func FuzzParseList(f *testing.F) {
	f.Add("reference,value,tolerance,power,quantity\nR1,5k6,5,1/4,1\n")
	f.Add("value;kind\n\"1,5k\";fusible\n")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := network.ParseList(text)
		if err == nil && len(l.Lines) == 0 {
			t.Error("neither lines nor an error")
		}
		for _, line := range l.Lines {
			if line.Quantity < 1 || line.Need.Check() != nil {
				t.Errorf("%q is read as %+v", text, line)
			}
		}
	})
}

// stocked makes a part of the stock.
func stocked(t testing.TB, id, text string, count int) network.Part {
	p := known(t, text, decode.KindMetalFilm, 0.25)
	p.ID, p.Count = id, count
	return p
}

func plan(t testing.TB, text string, stock ...network.Part) network.Plan {
	t.Helper()
	p, err := network.PlanProject(context.Background(), list(t, text), stock)
	require.NoError(t, err)
	return p
}

const columns = "reference,value,tolerance,power,quantity,kind\n"

// Worked by hand.
func TestPlanTakesTheLoosestThatWillDo(t *testing.T) {
	p := plan(t, columns+"R1,5k6,5,1/4,2,ordinary\nR2,5k6,1,1/4,1,ordinary\n",
		stocked(t, "loose", "5K6 ±10 %", 5), stocked(t, "tight", "5K6 ±1 %", 1), stocked(t, "usual", "5K6 ±5 %", 2))
	assert.Equal(t, []int{3, 0, 0}, []int{p.Ready, p.Check, p.Missing})
	assert.Equal(t, "usual", p.Lines[0].Supplies[0].Takes[0].Part.ID)
	assert.Equal(t, "tight", p.Lines[1].Supplies[0].Takes[0].Part.ID)
	assert.Equal(t, network.AsAsked, p.Lines[0].Supplies[0].How)
}

// R2 asks for the very part that could stand in for R1: it gets it.
func TestPlanServesValuesBeforeStandIns(t *testing.T) {
	p := plan(t, columns+"R1,5k62,5,1/4,1,ordinary\nR2,5k6,5,1/4,1,ordinary\n", stocked(t, "a", "5K6 ±1 %", 1))
	assert.Equal(t, 1, p.Lines[0].Missing)
	assert.Equal(t, network.AsAsked, p.Lines[1].Supplies[0].How)
	p = plan(t, columns+"R1,5k62,5,1/4,1,ordinary\n", stocked(t, "a", "5K6 ±1 %", 1))
	assert.Equal(t, network.StandsIn, p.Lines[0].Supplies[0].How)
	assert.Contains(t, p.Lines[0].Supplies[0].Why, "marked value: 0.356 % too low")
	assert.Equal(t, network.Yes, p.Lines[0].Supplies[0].Answer)
}

func TestPlanSplitsAndJoins(t *testing.T) {
	// 1 kΩ twice from two entries, then 500 + 500 and 2000 beside 2000.
	p := plan(t, columns+"R1 R2 R3 R4,1k,5,1/4,,ordinary\n",
		stocked(t, "a", "1K0 ±5 %", 1), stocked(t, "b", "1K0 ±1 %", 1), stocked(t, "c", "500 ±1 %", 2), stocked(t, "d", "2K0 ±1 %", 2))
	line := p.Lines[0]
	require.Len(t, line.Supplies, 4)
	assert.Equal(t, []network.How{network.AsAsked, network.AsAsked, network.JoinedUp, network.JoinedUp},
		[]network.How{line.Supplies[0].How, line.Supplies[1].How, line.Supplies[2].How, line.Supplies[3].How})
	assert.Equal(t, []int{0, 4}, []int{p.Missing, p.Ready})
	var takes []string
	for _, taking := range p.Takings() {
		takes = append(takes, taking.Part.ID+strings.Repeat("'", taking.Count))
	}
	assert.Equal(t, []string{"a'", "b'", "c''", "d''"}, takes)
}

// Parts of unknown rating are never joined to a plain yes, and parts that
// would be overloaded are not joined at all: of 1 W, two in series bear
// half each, and 1/4 W is too little.
func TestPlanKeepsRatings(t *testing.T) {
	p := plan(t, columns+"R1,1k,5,1,1,ordinary\n", stocked(t, "c", "500 ±1 %", 2))
	assert.Equal(t, 1, p.Missing)
	require.NotNil(t, p.Lines[0].Buy)
	assert.Equal(t, "E24", p.Lines[0].Buy.Series)
	assert.Equal(t, "1 kΩ ±5 %", p.Lines[0].Buy.Nearest.String())

	unknown := stocked(t, "c", "500 ±1 %", 2)
	unknown.RatedWatts = 0
	p = plan(t, columns+"R1,1k,5,1,1,ordinary\n", unknown)
	assert.Equal(t, []int{1, 1, 0}, []int{p.Ready, p.Check, p.Missing})
	assert.Equal(t, network.OnlyIf, p.Lines[0].Supplies[0].Answer)
}

// 100 V across 1 kΩ are 10 W, 5 W in each of two of 500 Ω in series, and 10 W each is
// usual. What the replaced part was rated does not say that it was enough. Worked by
// hand.
func TestPlanReckonsTheHeatOfWhatItJoins(t *testing.T) {
	for rated, want := range map[float64]string{
		0:  "the power rating of 500 Ω ±1 %, which bears 5 W, is enough, as that of the part replaced was: 10 W is usual",
		6:  "the power rating of 500 Ω ±1 %, which bears 5 W, is enough, as that of the part replaced was: 10 W is usual",
		10: "",
	} {
		part := stocked(t, "c", "500 ±1 %", 2)
		part.RatedWatts, part.LimitVolts = rated, 350
		supply := plan(t, columns[:len(columns)-1]+",voltage\nR1,1k,5,1/4,1,ordinary,100\n", part).Lines[0].Supplies[0]
		require.Equal(t, network.JoinedUp, supply.How)
		if want == "" {
			assert.Empty(t, supply.Conditions)
		} else {
			assert.Contains(t, supply.Conditions, want)
		}
	}
}

// What is to be bought bears the heat of its voltage with the usual margin: 100 V across 1 kΩ
// make 10 W, so 20 W; 230 V across 220 Ω, the nearest of E24 to 215 Ω, make 240 W, and
// 10 V across 1 kΩ 0.1 W, so 0.2 W. Worked by hand.
func TestPlanBuysARatingThatTheVoltageAllows(t *testing.T) {
	for row, want := range map[string]struct {
		watts float64
		says  string
	}{
		"1k,5,1/4,1,ordinary,100": {20, "rated 20 W or more (2 times the 10 W that 100 V across it make; the 0.25 W asked for are too little)"},
		"1k,5,,1,ordinary,100":    {20, "rated 20 W or more (2 times the 10 W that 100 V across it make)"},
		"1k,5,1/4,1,ordinary,10":  {0.25, "rated 0.25 W"},
		"1k,5,1/4,1,ordinary,":    {0.25, "rated 0.25 W"},
		"1k,5,,1,ordinary,":       {0, ""},
		"0,,,1,ordinary,100":      {0, ""},
		"215,,,1,ordinary,230":    {481, "rated 481 W or more (2 times the 240.5 W that 230 V across it make), bearing 230 V (limiting element voltage)"},
		"1M,5,1/4,1,ordinary,300": {0.25, "rated 0.25 W, bearing 300 V (limiting element voltage)"}, // 0.09 W
		"1M,5,1/4,1,ordinary,150": {0.25, "rated 0.25 W"},                                           // the smallest bodies bear it
		"1k,,1/4,1,fusible,100":   {20, "rated 20 W or more (2 times the 10 W that 100 V across it make; the 0.25 W asked for are too little)"},
	} {
		line := plan(t, "value,tolerance,power,quantity,kind,voltage\n"+row+"\n").Lines[0]
		assert.InDelta(t, want.watts, line.BuyWatts, 1e-9, row)
		assert.Equal(t, want.says, line.RatingToBuy(), row)
		if line.Buy != nil && line.Need.Volts > 0 {
			bought := network.Part{Value: line.Buy.Nearest, RatedWatts: line.BuyWatts, Kind: decode.KindOrdinary}
			s, err := network.MayStandIn(line.Need, bought)
			require.NoError(t, err)
			assert.NotEqual(t, network.No, s.Answer, "%s: %v", row, s.Reasons)
		}
	}
}

// What the place asks for is unknown: the answer says what is taken for granted.
// Two of 500 Ω ±1 % in series at 1/4 W each bear 1/2 W together, less 1 % where one gets
// 1.01/2 of it.
func TestPlanJoinsWithDoubts(t *testing.T) {
	p := plan(t, "value,tolerance,voltage\n1k,5,10\n", stocked(t, "c", "500 ±1 %", 2))
	require.Equal(t, []int{1, 1, 0}, []int{p.Ready, p.Check, p.Missing})
	supply := p.Lines[0].Supplies[0]
	assert.Equal(t, network.OnlyIf, supply.Answer)
	said := strings.Join(supply.Conditions, "; ")
	assert.Contains(t, said, "calls for an ordinary part")
	assert.Contains(t, said, "no more than a power rating of 0.495 W")
	assert.NotContains(t, said, "limiting element voltage", "10 V is what any part bears")
	// 10 V across each of 500 Ω are 0.2 W, of which 1/4 W is not twice as much.
	assert.Equal(t, 1, plan(t, "value,tolerance,voltage\n1k,5,20\n", stocked(t, "c", "500 ±1 %", 2)).Missing)
	// 1/4 W at 500 Ω is 11.2 V, and 15 V would be across each.
	assert.Equal(t, 1, plan(t, "value,tolerance,voltage\n1k,5,30\n", stocked(t, "c", "500 ±1 %", 2)).Missing)
}

// Ten places are served by ten pairs, in one supply.
func TestPlanJoinsManyAlike(t *testing.T) {
	p := plan(t, columns+"R,1k,5,1/4,12,ordinary\n", stocked(t, "c", "500 ±1 %", 21))
	require.Len(t, p.Lines[0].Supplies, 1)
	assert.Equal(t, []int{10, 20, 2}, []int{p.Ready, p.Takings()[0].Count, p.Missing})
}

func TestPlanNamesWhatItRefuses(t *testing.T) {
	coil, weak := stocked(t, "coil", "1K0 ±5 %", 1), stocked(t, "weak", "1K0 ±5 %", 1)
	coil.Kind, weak.RatedWatts = decode.KindWireWound, 0.125
	p := plan(t, columns+"R,1k,5,1/4,1,ordinary\n", coil, weak)
	require.Len(t, p.Lines[0].Refused, 2)
	assert.Contains(t, p.Lines[0].Refused[0].Reasons[0], "no ordinary part")
	assert.Contains(t, p.Lines[0].Refused[1].Reasons[0], "0.125 W is below the 0.25 W")
}

func TestPlanNeverJoinsForSpecialParts(t *testing.T) {
	p := plan(t, columns+"F1,1k,5,1/4,1,fusible\nW1,0,,,1,\n", stocked(t, "c", "500 ±1 %", 2))
	assert.Equal(t, 2, p.Missing)
	assert.Empty(t, p.Lines[0].Supplies)
	assert.Nil(t, p.Lines[1].Buy)
}

// A part of unknown kind is not taken for a fusible one, one that is fusible is.
func TestPlanTakesNoUnknownKindForASpecialOne(t *testing.T) {
	unknown, fusible := stocked(t, "unknown", "1K0 ±5 %", 2), stocked(t, "fusible", "1K0 ±5 %", 1)
	unknown.Kind, fusible.Kind = "", decode.KindFusible
	p := plan(t, "value,kind\n1k,fusible\n1k,fusible\n", unknown, fusible)
	assert.Equal(t, []int{1, 1, 1}, []int{p.Ready, p.Check, p.Missing})
	assert.Equal(t, "fusible", p.Takings()[0].Part.ID)
	assert.Nil(t, p.Lines[1].Buy)
	require.Len(t, p.Lines[1].Refused, 1)
	assert.Contains(t, p.Lines[1].Refused[0].Reasons[0], "its kind is unknown")
}

// The tolerance marked on a special part is none that its place was said to bear; one
// in a column of its own is.
func TestPlanBuysTheLikeOfASpecialPart(t *testing.T) {
	p := plan(t, "value,tolerance,kind\n100RJ,,safety\n100RJ,5,safety\n100RJ,,ordinary\n")
	assert.Nil(t, p.Lines[0].Buy)
	require.NotNil(t, p.Lines[1].Buy)
	assert.Equal(t, "100 Ω ±5 %", p.Lines[1].Buy.Nearest.String())
	assert.NotNil(t, p.Lines[2].Buy)
}

func TestPlanOfAnEmptyStock(t *testing.T) {
	p := plan(t, columns+"R1,1k,5,1/4,3,\n")
	assert.Equal(t, []int{0, 0, 3}, []int{p.Ready, p.Check, p.Missing})
	assert.Empty(t, p.Takings())
}

func TestPlanRefusesPartsOfOneID(t *testing.T) {
	_, err := network.PlanProject(context.Background(), list(t, "value\n1k\n"), []network.Part{stocked(t, "a", "1k", 1), stocked(t, "a", "2k", 1)})
	assert.ErrorContains(t, err, `two parts of the stock have the ID "a"`)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = network.PlanProject(ctx, list(t, "value\n1k\n"), nil)
	assert.ErrorIs(t, err, context.Canceled)
}

// However lists and stocks fall out: no part is taken twice, every place is
// served or missing, and the stock handed over stays as it was.
func TestPlanTakesNoPartTwice(t *testing.T) {
	values := []string{"100", "220", "470", "500", "1k", "2k", "2k2"}
	rapid.Check(t, func(rt *rapid.T) {
		var stock []network.Part
		for i, text := range values {
			if count := rapid.IntRange(0, 4).Draw(rt, "count"); count > 0 {
				stock = append(stock, stocked(t, string(rune('a'+i)), text+" ±1 %", count))
			}
		}
		text := columns
		for range rapid.IntRange(1, 5).Draw(rt, "lines") {
			text += "R," + rapid.SampledFrom([]string{"100", "320", "500", "1k", "1k1", "3k3"}).Draw(rt, "value") + ",5,1/4," +
				rapid.SampledFrom([]string{"1", "2", "5"}).Draw(rt, "quantity") + ",ordinary\n"
		}
		before := append([]network.Part{}, stock...)
		p := plan(t, text, stock...)
		assert.Equal(rt, before, stock)
		for _, taking := range p.Takings() {
			for _, have := range stock {
				if have.ID == taking.Part.ID {
					assert.LessOrEqual(rt, taking.Count, have.Count)
				}
			}
		}
		for _, line := range p.Lines {
			served := line.Missing
			for _, s := range line.Supplies {
				served += s.Places
				parts := 0
				for _, taking := range s.Takes {
					parts += taking.Count
				}
				assert.GreaterOrEqual(rt, parts, s.Places)
			}
			assert.Equal(rt, line.Quantity, served)
		}
	})
}
