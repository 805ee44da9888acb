package bench

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

// confirmAll confirms the four drawn parts that are read: 5.6 kΩ ±5 %, 47 kΩ ±5 %,
// 10 kΩ ±1 % and 1 kΩ ±1 %, entries 1 to 4.
func (s *Server) confirmAll(t *testing.T) {
	t.Helper()
	for n := 1; n <= 4; n++ {
		_, err := s.tray.confirm(context.Background(), 1, n, 0)
		require.NoError(t, err)
	}
}

// asks sends a question, as JSON unless it is text already.
func (s *Server) asks(t *testing.T, path string, body any) (told, *httptest.ResponseRecorder) {
	t.Helper()
	data, ok := body.(string)
	if !ok {
		bytes, err := json.Marshal(body)
		require.NoError(t, err)
		data = string(bytes)
	}
	got := s.answers(own("POST", path, data))
	var answer told
	if got.Code == 200 {
		require.NoError(t, json.Unmarshal(got.Body.Bytes(), &answer))
		assert.NotContains(t, got.Body.String(), `"rows":null`)
	}
	return answer, got
}

// rows are all rows of an answer, each "name: what".
func (t told) rows() string {
	var lines []string
	for _, g := range t.Groups {
		for _, b := range g.Blocks {
			lines = append(lines, b.Title)
			for _, r := range b.Rows {
				lines = append(lines, r.Name+": "+r.What)
			}
		}
	}
	return strings.Join(lines, "\n")
}

// What a part may really be. Worked by hand: 5.6 kΩ less and more 5 %; at 100
// ppm/K over 40 K, 0.4 % of that on top; a meter good to 1 %, 3 counts and 0.2 Ω.
func TestUseSpread(t *testing.T) {
	s := newServer(t, Options{})
	part := subject{Photo: 1, Part: 1}
	got, _ := s.asks(t, "/use/spread", spreadForm{Of: part})
	assert.Equal(t, "By its tolerance 5.32 kΩ to 5.88 kΩ.", got.Says)
	assert.Contains(t, strings.Join(got.Notes, " "), "nobody has confirmed", "and says on what it rests")

	got, _ = s.asks(t, "/use/spread", spreadForm{Of: part, Low: "−10", High: "60 °C", Tempco: "100", Measured: "5.58k"})
	assert.Contains(t, got.rows(), "Drift: ±0.4 %")
	assert.Contains(t, got.rows(), "Both at their worst: 5.299 kΩ to 5.904 kΩ")
	assert.Contains(t, got.rows(), "so really 5.494 kΩ to 5.666 kΩ: inside the tolerance")
	assert.Contains(t, got.Says, "the meter's reading is inside the tolerance")

	got, _ = s.asks(t, "/use/spread", spreadForm{Of: part, High: "60"})
	assert.Contains(t, strings.Join(got.Notes, " "), "coefficient", "without one, that the drift is not known")
	assert.NotContains(t, got.rows(), "Drift")

	got, _ = s.asks(t, "/use/spread", spreadForm{Of: part, Measured: "6.21k"})
	assert.Contains(t, got.Says, "outside the tolerance")
	assert.Contains(t, got.rows(), "Nearest of E24: 6.2 kΩ", "IEC 60063")

	// No rounding hides that 5319.79 Ω, less or more 0.2 Ω, is below 5320 Ω.
	got, _ = s.asks(t, "/use/spread", spreadForm{Of: part, Measured: "5319.79", Accuracy: "0", Counts: "0"})
	assert.Contains(t, got.rows(), "so really 5.31959 kΩ to 5.31999 kΩ: outside the tolerance; 5.004 % too low")

	// What was noted of the part counts where nothing else is said.
	_, _, err := s.tray.changeNow(1, change{Do: "meter", Meter: "5.58k"})
	require.NoError(t, err)
	part.Version = 1
	got, _ = s.asks(t, "/use/spread", spreadForm{Of: part})
	assert.Contains(t, got.Says, "inside")
}

// Whether a part may stand in. 5.6 kΩ ±5 % reaches from 5.32 to 5.88 kΩ; a place
// for 5.1 kΩ ±20 % takes 4.08 to 6.12 kΩ, one for ±5 % takes 4.845 to 5.355 kΩ.
func TestUseStandIn(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	entry := subject{Entry: 1}
	for _, w := range []struct {
		name string
		form standInForm
		want network.Answer
	}{
		{"wide place, nothing else known", standInForm{Of: entry, Value: "5K1", Tolerance: "20 %"}, network.OnlyIf},
		{"tight place", standInForm{Of: entry, Value: "5.1 kΩ", Tolerance: "J"}, network.No},
		{"tolerance in the value", standInForm{Of: entry, Value: "5K1J"}, network.No},
		{"fusible, the part's kind not known", standInForm{Of: entry, Value: "5.6k", Kind: "fusible"}, network.OnlyIf},
		{"fusible, no tolerance but the old part's own", standInForm{Of: entry, Value: "5.4 kΩ ±10 %", Kind: "fusible"}, network.No},
		{"fusible, a tolerance named", standInForm{Of: entry, Value: "5.4 kΩ", Tolerance: "10", Kind: "fusible"}, network.OnlyIf},
		{"part of the photo that is in the stock", standInForm{Of: subject{Photo: 1, Part: 1, Version: 1}, Value: "5K1", Tolerance: "5"}, network.No},
	} {
		got, raw := s.asks(t, "/use/stand-in", w.form)
		assert.Equal(t, w.want, got.Answer, "%s: %s", w.name, raw.Body)
		if w.want == network.No {
			assert.NotEmpty(t, got.Groups[0].Blocks[0].Because, w.name)
			assert.Empty(t, got.Groups[0].Blocks[0].OnlyIf, w.name)
		}
		assert.NotEmpty(t, got.Cautions, w.name)
	}
}

// A yes never rests on a reading that nobody has confirmed: it becomes only if.
func TestUseUnconfirmed(t *testing.T) {
	for _, confirmed := range []bool{true, false} {
		s := newServer(t, Options{})
		_, _, err := s.tray.changeNow(1, change{Do: "facts", Facts: factsText{Kind: "carbon film", Rating: "1/2"}})
		require.NoError(t, err)
		of := subject{Photo: 1, Part: 1, Version: 1}
		want := network.OnlyIf
		if confirmed {
			_, err := s.tray.confirm(context.Background(), 1, 1, 1)
			require.NoError(t, err)
			of, want = subject{Entry: 1}, network.Yes
		}
		got, raw := s.asks(t, "/use/stand-in", standInForm{Of: of, Value: "5K6", Tolerance: "20", Power: "1/4 W", Kind: "ordinary"})
		assert.Equal(t, want, got.Answer, raw.Body)
		got, raw = s.asks(t, "/use/power", powerForm{Of: of, At: "12 V"})
		assert.Equal(t, want, got.Answer, raw.Body)
		if !confirmed {
			assert.Contains(t, got.Groups[0].Blocks[0].OnlyIf[0], "nobody has confirmed")
		}
	}
}

// Heat by Ohm's law: 12² V² / 5600 Ω = 25.71 mW; (10 mA)² · 5600 Ω = 560 mW.
func TestUsePower(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	got, _ := s.asks(t, "/use/power", powerForm{Of: subject{Entry: 1}, At: "12V"})
	assert.Contains(t, got.rows(), "Heat: 25.71 mW")
	assert.Contains(t, got.rows(), "Rating needed: 51.43 mW or more with a margin of 2 times; the next one sold is 0.125 W")
	assert.Equal(t, network.OnlyIf, got.Answer, "the rating is not known")
	for _, at := range []string{"12v", "0.025714 watts", "2.14286 milliamps"} {
		got, _ = s.asks(t, "/use/power", powerForm{Of: subject{Entry: 1}, At: at})
		assert.Contains(t, got.rows(), "Heat: 25.71 mW", at)
	}
	got, _ = s.asks(t, "/use/power", powerForm{Of: subject{Entry: 1}, At: "10 mA", Rated: "1/4 W", Margin: "1,5", Ambient: "50"})
	assert.Contains(t, got.rows(), "Heat: 560 mW")
	assert.Equal(t, network.No, got.Answer)
	got, _ = s.asks(t, "/use/power", powerForm{Of: subject{Entry: 1}, At: "230 V"})
	assert.Contains(t, strings.Join(got.Cautions, " "), "mains")

	// A rating that is only estimated is never relied upon.
	ctx := context.Background()
	p, err := s.store.Part(ctx, 2)
	require.NoError(t, err)
	f, err := factsText{Kind: "metal film", Rating: "1", RatingBasis: "estimated"}.parse()
	require.NoError(t, err)
	f.on(&p)
	_, err = s.store.Amend(ctx, p)
	require.NoError(t, err)
	got, _ = s.asks(t, "/use/power", powerForm{Of: subject{Entry: 2}, At: "12 V"})
	assert.Equal(t, network.OnlyIf, got.Answer)
	assert.Contains(t, got.Groups[0].Blocks[0].OnlyIf[0], "only an estimate")
}

// Errors name their field and are the library's own.
func TestQuestionErrors(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	of := subject{Entry: 1}
	_, valueError := decode.ParseOhms("five")
	require.Error(t, valueError)
	e24 := choiceForm{From: "E24"}
	for _, w := range []struct {
		path        string
		body        any
		code        int
		field, says string
	}{
		{"/use/spread", spreadForm{Of: of, Low: "cold"}, 422, "low", "no temperature"},
		{"/use/spread", spreadForm{Of: of, High: "5000", Tempco: "100"}, 422, "high", "out of range"},
		{"/use/spread", spreadForm{Of: of, Tempco: "ten"}, 422, "tempco", "ppm/K"},
		{"/use/spread", spreadForm{Of: of, Measured: "oops"}, 422, "measured", ""},
		{"/use/spread", spreadForm{Of: subject{Photo: 1, Part: 5}}, 422, "", "no value yet"},
		{"/use/spread", spreadForm{Of: subject{Photo: 1, Part: 1}}, 409, "", "changed in another window"},
		{"/use/spread", spreadForm{Of: subject{Photo: 9, Part: 1}}, 404, "", "no longer on the bench"},
		{"/use/spread", spreadForm{Of: subject{Entry: 1, Step: 99}}, 409, "", "changed"},
		{"/use/spread", spreadForm{Of: subject{Entry: 77}}, 422, "", ""},
		{"/use/stand-in", standInForm{Of: of, Value: "five"}, 422, "value", valueError.Error()},
		{"/use/stand-in", standInForm{Of: of, Value: "1,000"}, 422, "value", "write 1000 or 1.000"},
		{"/use/stand-in", standInForm{Of: of, Value: "5K6", Tolerance: "lots"}, 422, "tolerance", "is no tolerance"},
		{"/use/stand-in", standInForm{Of: of, Value: "5K6", Power: "hot"}, 422, "power", ""},
		{"/use/stand-in", standInForm{Of: of, Value: "5K6", Voltage: "-3 V"}, 422, "voltage", ""},
		{"/use/stand-in", standInForm{Of: of, Value: "5K6", Kind: "wooden"}, 422, "kind", "no kind of resistor"},
		{"/use/power", powerForm{Of: of, At: "12"}, 422, "at", "with its unit"},
		{"/use/power", powerForm{Of: of, At: "xV"}, 422, "at", "write it such as 12 V"},
		{"/use/power", powerForm{Of: of, At: "12V", Margin: "0"}, 422, "margin", "1 to 100"},
		{"/use/power", powerForm{Of: of, At: "12V", Ambient: "warm"}, 422, "ambient", "no temperature"},
		{"/find/combine", combineForm{Choice: e24, Target: "five", Parts: 2}, 422, "target", valueError.Error()},
		{"/find/combine", combineForm{Choice: e24, Target: "5k", Parts: 5}, 422, "parts", "1 to 4"},
		{"/find/combine", combineForm{Choice: e24, Target: "5k", Parts: 2, At: "9"}, 422, "at", "with its unit"},
		{"/find/combine", combineForm{Choice: e24, Target: "5k", Parts: 2, At: "9 A"}, 422, "at", "with its unit"},
		{"/find/combine", combineForm{Choice: e24, Target: "5k", Parts: 2, Margin: "twice"}, 422, "margin", "is no margin: write how many times"},
		{"/find/divider", dividerForm{Choice: e24, In: "12 V", Out: "5 V", Margin: "0.5"}, 422, "margin", "1 to 100"},
		{"/find/combine", combineForm{Choice: choiceForm{From: "E25"}, Target: "5k", Parts: 2}, 422, "from", ""},
		{"/find/combine", combineForm{Choice: choiceForm{From: "/etc/passwd"}, Target: "5k", Parts: 2}, 422, "from", ""},
		{"/find/combine", combineForm{Choice: choiceForm{From: "E24", Least: "10k", Most: "1k"}, Target: "5k", Parts: 2}, 422, "most", "less than the smallest"},
		{"/find/combine", combineForm{Choice: choiceForm{From: "E24", Tolerance: "x"}, Target: "5k", Parts: 2}, 422, "partTolerance", "is no tolerance"},
		{"/find/divider", dividerForm{Choice: e24, Out: "3 V"}, 422, "in", "write the voltage"},
		{"/find/divider", dividerForm{Choice: e24, In: "3 V", Out: "5 V"}, 422, "out", ""},
		{"/find/divider", dividerForm{Choice: e24, In: "12", Out: "5", Load: "0"}, 422, "load", "above zero"},
		{"/find/project", projectForm{}, 422, "list", "paste a list"},
		{"/find/project", projectForm{List: "value\nfive\n"}, 422, "list", "line 2, column value: "},
		{"/find/take", `{"takes":[]}`, 422, "", "1 to 2000"},
		{"/sheets", sheetForm{From: "stock", Level: 1, Count: "5", Variants: "1", Paper: "a4"}, 422, "kinds", "at least one"},
		{"/sheets", sheetForm{From: "stock", Level: 1, Count: "many", Variants: "1", Paper: "a4", Kinds: []string{"value"}}, 422, "count", "1 to 60"},
		{"/sheets", sheetForm{From: "stock", Level: 9, Count: "5", Variants: "1", Paper: "a4", Kinds: []string{"value"}}, 422, "level", ""},
		{"/sheets", sheetForm{From: "stock", Level: 1, Count: "5", Variants: "1", Paper: "a4", Kinds: []string{"value"}, Title: strings.Repeat("x", 201)}, 422, "title", ""},
		{"/sheets", sheetForm{From: "../stock.db", Level: 1, Count: "5", Variants: "1", Paper: "a4", Kinds: []string{"value"}}, 422, "from", "this session"},
		{"/sheets", sheetForm{From: "stock", Level: 1, Count: "5", Variants: "1", Paper: "napkin", Kinds: []string{"value"}}, 422, "paper", "no paper"},
	} {
		_, got := s.asks(t, w.path, w.body)
		name := fmt.Sprintf("%s %+v", w.path, w.body)
		assert.Equal(t, w.code, got.Code, name)
		var wrong struct{ Error, Field string }
		require.NoError(t, json.Unmarshal(got.Body.Bytes(), &wrong), name)
		assert.Equal(t, w.field, wrong.Field, "%s: %s", name, wrong.Error)
		assert.Contains(t, wrong.Error, w.says, name)
		assert.NotEmpty(t, wrong.Error, name)
	}
}

// counts are how many are left of each entry.
func (s *Server) counts(t *testing.T) map[int64]int {
	t.Helper()
	parts, err := s.store.Parts(context.Background(), stock.Filter{Empty: true})
	require.NoError(t, err)
	left := map[int64]int{}
	for _, p := range parts {
		left[p.ID] = p.Count
	}
	return left
}

// 6.6 kΩ is 5.6 kΩ and 1 kΩ in series. What is found is taken in one step that
// one undo takes back, and never twice.
func TestFindAndTake(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	got, raw := s.asks(t, "/find/combine", combineForm{Choice: choiceForm{From: "stock"}, Target: "6.6k", Parts: 2, At: "10 V"})
	require.Len(t, got.Groups, 2, raw.Body)
	best := got.Groups[1].Blocks[0]
	assert.Contains(t, got.rows(), "Makes: 6.6 kΩ, exact")
	assert.Contains(t, got.rows(), "2.296 mW at 1.515 V, at worst 2.521 mW", "1010 Ω with 5320 Ω at 10 V, by hand")
	assert.Contains(t, got.Says, "nearest to 6.6 kΩ")
	require.Len(t, best.Takes, 2)
	assert.NotEmpty(t, got.OnlyIf, "their ratings are not known")
	assert.Equal(t, map[int64]int{1: 1, 2: 1, 3: 1, 4: 1}, s.counts(t), "nothing is taken by asking")

	took, raw := s.asks(t, "/find/take", map[string]any{"takes": best.Takes})
	require.Equal(t, 200, raw.Code, raw.Body)
	assert.Equal(t, "Took 2 parts out of the stock.", took.Says)
	assert.NotEmpty(t, took.Cautions)
	assert.Equal(t, map[int64]int{1: 0, 2: 1, 3: 1, 4: 0}, s.counts(t))
	steps, err := s.store.Steps(context.Background(), 1)
	require.NoError(t, err)
	assert.Equal(t, "took 2 parts: 1 of #4, 1 of #1", steps[0].What, "one step of the journal")
	_, raw = s.asks(t, "/find/take", map[string]any{"takes": best.Takes})
	assert.Equal(t, 422, raw.Code)
	assert.Contains(t, raw.Body.String(), "ask again")

	s.tray.undoLast(t)
	assert.Equal(t, map[int64]int{1: 1, 2: 1, 3: 1, 4: 1}, s.counts(t))

	// With something done to the stock in between, undo puts as many back.
	got, _ = s.asks(t, "/find/combine", combineForm{Choice: choiceForm{From: "stock"}, Target: "6.6k", Parts: 2})
	_, raw = s.asks(t, "/find/take", map[string]any{"takes": got.Groups[1].Blocks[0].Takes})
	require.Equal(t, 200, raw.Code, raw.Body)
	_, err = s.store.Take(context.Background(), 2, 1)
	require.NoError(t, err)
	s.tray.undoLast(t)
	assert.Equal(t, map[int64]int{1: 1, 2: 0, 3: 1, 4: 1}, s.counts(t))

	// Twice the same entry, or more than there are, takes nothing at all.
	p, err := s.store.Part(context.Background(), 1)
	require.NoError(t, err)
	for _, takes := range [][]taking{
		{{Entry: 1, Step: p.Step, Count: 1}, {Entry: 1, Step: p.Step, Count: 1}},
		{{Entry: 1, Step: p.Step, Count: 5}}, {{Entry: 1, Step: p.Step, Count: 0}}, {{Entry: 1, Step: p.Step, Count: -1}}, {{Entry: 99, Count: 1}},
	} {
		_, raw = s.asks(t, "/find/take", map[string]any{"takes": takes})
		assert.Equal(t, 422, raw.Code, "%v", takes)
	}
	assert.Equal(t, 1, s.counts(t)[1])

	// Parts of a series are not taken from anywhere.
	got, _ = s.asks(t, "/find/combine", combineForm{Choice: choiceForm{From: "e12", Least: "1k", Most: "10k"}, Target: "5K6", Parts: 1})
	assert.Contains(t, got.rows(), "Makes: 5.6 kΩ, exact", "5.6 is of E12 (IEC 60063)")
	assert.Nil(t, got.Groups[0].Blocks[0].Takes)
	assert.Equal(t, 422, s.answers(own("POST", "/find/combine", `{"choice":{"from":"stock"},"target":"","parts":2}`)).Code)
	_, raw = newServer(t, Options{}).asks(t, "/find/combine", combineForm{Choice: choiceForm{From: "stock"}, Target: "5k", Parts: 2})
	assert.Contains(t, raw.Body.String(), "the stock is empty")
}

// 30 V on 5.1 kΩ is 176.5 mW (Ohm's law): a quarter watt bears it, but not with a
// margin of two.
func TestFindMargin(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
		does network.Answer
	}{{"", 0, network.No}, {"2", 2, network.No}, {" 1,2 ", 1.2, network.Yes}} {
		combine := combineForm{Choice: choiceForm{From: "E24", Power: "1/4 W"}, Target: "5.1k", Parts: 1, At: "30 volts", Margin: c.text}
		joined, err := combine.question()
		require.NoError(t, err)
		assert.Equal(t, c.want, joined.Margin)
		divided, err := dividerForm{In: "12 V", Out: "5 V", Margin: c.text}.question()
		require.NoError(t, err)
		assert.Equal(t, c.want, divided.Margin)
		got, raw := newServer(t, Options{}).asks(t, "/find/combine", combine)
		require.Equal(t, 200, raw.Code, raw.Body)
		assert.Equal(t, c.does, got.Groups[0].Blocks[0].Answer, c.text)
	}
}

// 12 V over 47 kΩ and 10 kΩ gives 12 · 10/57 = 2.105 V.
func TestFindDivider(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	got, raw := s.asks(t, "/find/divider", dividerForm{Choice: choiceForm{From: "stock"}, In: "12 V", Out: "2.1 V"})
	require.Equal(t, 200, raw.Code, raw.Body)
	assert.Contains(t, got.rows(), "Gives: 2.105 V")
	assert.Contains(t, got.Says, "upper 47 kΩ ±5 %, lower 10 kΩ ±1 %")
	assert.Len(t, got.Groups[0].Blocks[0].Takes, 2)

	// From 1 Ω to 10 MΩ no pair comes near: the nearest is shown, no other.
	got, raw = s.asks(t, "/find/divider", dividerForm{Choice: choiceForm{From: "E24"}, In: "12 V", Out: "1 µV", Current: "100 A"})
	require.Equal(t, 200, raw.Code, raw.Body)
	assert.Len(t, got.Groups[0].Blocks, 1, got.rows())
}

// 12.3 kΩ, 5 % less, is 5.0015 % below 12.3002 kΩ, and ±0.05 % of 10 kΩ are 5 Ω:
// worked by hand.
func TestFindShowsBoundsAsTheyAre(t *testing.T) {
	s := newServer(t, Options{})
	got, _ := s.asks(t, "/find/combine", combineForm{Choice: choiceForm{From: "E24"}, Target: "12.3002k", Tolerance: "5", Parts: 2})
	assert.Contains(t, got.rows(), "(5.002 % too low to 5 % too high)")
	got, _ = s.asks(t, "/find/combine", combineForm{Choice: choiceForm{From: "E192", Tolerance: "0.05"}, Target: "10k", Parts: 1})
	assert.Contains(t, got.rows(), "At worst: 9.995 kΩ to 10.005 kΩ")
}

// One search runs at a time, for they take memory: the next waits a little, then
// is put off.
func TestFindBounds(t *testing.T) {
	s := newServer(t, Options{})
	s.finding <- struct{}{}
	_, raw := s.asks(t, "/find/combine", combineForm{Choice: choiceForm{From: "E24"}, Target: "5k", Parts: 1})
	assert.Equal(t, 429, raw.Code)
}

// A project's list is looked up; nothing is taken until said so. The list is
// invented.
func TestProject(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	const list = "reference;value;tolerance;kind\nR1;5K6;10;\nR2, R3;1k;;\nR4;100R;;fusible\n"
	got, raw := s.asks(t, "/find/project", projectForm{Name: "../Evening receiver.csv", List: list})
	require.Equal(t, 200, raw.Code, raw.Body)
	require.Len(t, got.Groups, 3)
	assert.Contains(t, got.Groups[0].Title, "R1: 1 × 5.6 kΩ")
	assert.Contains(t, got.Says, "Of 4 places")
	assert.Contains(t, got.Says, "Nothing was taken")
	assert.Equal(t, map[int64]int{1: 1, 2: 1, 3: 1, 4: 1}, s.counts(t))
	require.NotEmpty(t, got.Takes)

	require.Len(t, got.Files, 1)
	page := s.answers(own("GET", got.Files[0].At, ""))
	assert.Equal(t, 200, page.Code)
	assert.Contains(t, page.Body.String(), "<h1>Pick sheet: Evening receiver</h1>")
	assert.Contains(t, page.Header().Get("Content-Security-Policy"), "style-src 'sha256-")
	assert.NotContains(t, page.Header().Get("Content-Security-Policy"), "unsafe")
	assert.Equal(t, `inline; filename="pick-Evening receiver.html"`, page.Header().Get("Content-Disposition"))

	_, raw = s.asks(t, "/find/take", map[string]any{"takes": got.Takes})
	require.Equal(t, 200, raw.Code, raw.Body)
	assert.Equal(t, 0, s.counts(t)[1])
	s.tray.undoLast(t)
	assert.Equal(t, map[int64]int{1: 1, 2: 1, 3: 1, 4: 1}, s.counts(t))
}

// Sheets are made of what a person has confirmed, in this session or ever, as
// files that lie in memory alone.
func TestSheets(t *testing.T) {
	s := newServer(t, Options{})
	order := sheetForm{From: "session", Kinds: []string{"value", "rings"}, Level: 1, Count: "2", Variants: "2", Paper: "both", Large: true, Grey: true, Title: "Radio club", Seed: "7"}
	_, raw := s.asks(t, "/sheets", order)
	assert.Contains(t, raw.Body.String(), "no parts with confirmed rings")
	_, err := s.store.Confirm(context.Background(), stock.Part{Origin: stock.FromRings, Count: 1, Reading: readingOf(t, "RD RD RD GD")})
	require.NoError(t, err)
	_, raw = s.asks(t, "/sheets", order)
	assert.Contains(t, raw.Body.String(), "no parts with confirmed rings", "that one was not confirmed in this session")

	_, err = s.tray.confirm(context.Background(), 1, 1, 0)
	require.NoError(t, err)
	got, raw := s.asks(t, "/sheets", order)
	require.Equal(t, 200, raw.Code, raw.Body)
	assert.Equal(t, "2 sheets made, with 2 questions each.", got.Says)
	assert.Len(t, got.Files, 2*(2*3+2), "for each: questions and answers, two PDF and one HTML; form and key")
	kinds := map[string]int{}
	for _, f := range got.Files {
		file := s.answers(own("GET", f.At, ""))
		require.Equal(t, 200, file.Code)
		assert.True(t, strings.HasPrefix(file.Header().Get("Content-Disposition"), "attachment; filename="), file.Header())
		kinds[file.Header().Get("Content-Type")]++
		switch body := file.Body.String(); file.Header().Get("Content-Type") {
		case "application/pdf":
			assert.True(t, strings.HasPrefix(body, "%PDF-"), "ISO 32000-1, 7.5.2")
		case "application/json":
			assert.True(t, json.Valid([]byte(body)))
		case contentTypes[".html"]:
			assert.Contains(t, body, "Radio club")
			assert.NotContains(t, body, "2.2 kΩ", "the other part is not in it")
		}
	}
	assert.Equal(t, map[string]int{"application/pdf": 8, contentTypes[".html"]: 4, "text/csv; charset=utf-8": 2, "application/json": 2}, kinds)

	s.making <- struct{}{}
	_, raw = s.asks(t, "/sheets", order)
	assert.Equal(t, 429, raw.Code)
}

// readingOf is the usual meaning of rings.
func readingOf(t *testing.T, letters string) decode.Reading {
	t.Helper()
	means, err := decode.Readings(colours(t, letters))
	require.NoError(t, err)
	return means[0]
}

// Files that were made are forgotten, the oldest first, and too much is refused.
func TestMadeBounds(t *testing.T) {
	m := newMade()
	first, err := m.keep([]madeFile{{data: make([]byte, 10)}})
	require.NoError(t, err)
	for range mostBatches {
		_, err := m.keep([]madeFile{{data: make([]byte, 10)}})
		require.NoError(t, err)
	}
	assert.NotContains(t, m.files, strings.TrimPrefix(first[0].At, "/made/"))
	assert.Len(t, m.files, mostBatches)
	_, err = m.keep([]madeFile{{data: make([]byte, mostMadeBytes-5)}})
	require.NoError(t, err)
	assert.Len(t, m.files, 1, "what is new takes the room")
	_, err = m.keep([]madeFile{{data: make([]byte, mostMadeBytes+1)}})
	assert.ErrorContains(t, err, "fewer variants")
}
