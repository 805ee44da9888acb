package marking

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/sheet/axetest"
	"ringwise/cmd/ringwise/internal/sheet/paper"
)

// keys makes the keys to the variants of a sheet of all kinds.
func keys(t testing.TB, values string, o sheet.Order) []sheet.Key {
	t.Helper()
	o.Title, o.Language = "Club evening", "en"
	parts, err := sheet.ParseValues(values, o.Level)
	require.NoError(t, err)
	parts, _ = sheet.Usable(parts, o.Level)
	sheets, err := sheet.Compose(parts, o)
	require.NoError(t, err)
	var list []sheet.Key
	for _, s := range sheets {
		list = append(list, sheet.KeyOf(s))
	}
	return list
}

// valueKey is the key to one question on 1.2 kΩ ±5 %, brown red red gold:
// 1a rings, 1b value, 1c tolerance, 1d lowest 1140, 1e highest 1260, 1f 1K2.
func valueKey(t testing.TB) sheet.Key {
	return keys(t, "1K2", sheet.Order{Kinds: []sheet.Kind{sheet.ToValue}, Level: 3, Count: 1, Variants: 1})[0]
}

// marked marks one box of a key.
func marked(t testing.TB, key sheet.Key, box, given string) Mark {
	t.Helper()
	w, err := sheet.In(key.Language)
	require.NoError(t, err)
	for _, b := range key.Boxes() {
		if b.Name == box {
			return compare(b, given, w)
		}
	}
	t.Fatalf("there is no box %s", box)
	return Mark{}
}

func TestEveryFormOfARightAnswer(t *testing.T) {
	key := valueKey(t)
	for box, answers := range map[string][]string{
		"1a": {"BN RD RD GD", "bn,rd,rd,gd", "brown red red gold", "Brown-Red-Red-Gold", "BNRDRDGD", "brown, red, red and gold"},
		"1b": {"1200", "1.2k", "1,2 kΩ", "1k2", "1K2", "1200 ohm", "1.2 kilo-ohms", "0.0012 MΩ", "1K2J", "1.2 kΩ ±5 %", "1.2k +/-5%", "= 1.2 kΩ", "=1200"},
		"1c": {"5", "5 %", "±5%", "J", "j", "+/-5 %", "+/- 5", "+-5%", "5 percent", "±5 per cent"},
		"1d": {"1140", "1.14 kΩ", "1k14"},
		"1e": {"1260", "1.26k", "≈ 1.26 kΩ", "~1.26k"},
		"1f": {"1K2", "1k2", "1K2J"},
	} {
		for _, given := range answers {
			m := marked(t, key, box, given)
			assert.True(t, m.Right, "%s: %q: %+v", box, given, m)
			assert.Empty(t, m.Slips)
		}
	}
}

func TestSlipsAreNamed(t *testing.T) {
	key := valueKey(t)
	for _, c := range []struct {
		box, given string
		slips      []sheet.SlipName
	}{
		{"1a", "GD RD RD BN", []sheet.SlipName{sheet.SlipReversed}},
		{"1a", "RD RD RD GD", []sheet.SlipName{sheet.SlipBrownRed}},
		{"1b", "12k", []sheet.SlipName{sheet.SlipMultiplier}},
		{"1b", "120", []sheet.SlipName{sheet.SlipMultiplier, sheet.SlipBrownRed}},
		{"1b", "2200", []sheet.SlipName{sheet.SlipBrownRed}},
		{"1b", "1.2", []sheet.SlipName{sheet.SlipPrefix}},
		{"1b", "1.2 MΩ", []sheet.SlipName{sheet.SlipPrefix}},
		{"1b", "1300", nil},
		{"1d", "1200", []sheet.SlipName{sheet.SlipTolerance}},
		{"1d", "1260", []sheet.SlipName{sheet.SlipOtherBound}},
		{"1d", "11.4k", []sheet.SlipName{sheet.SlipMultiplier}},
		{"1f", "12K", []sheet.SlipName{sheet.SlipMultiplier}},
	} {
		m := marked(t, key, c.box, c.given)
		assert.False(t, m.Right, "%v", c)
		assert.Equal(t, c.slips, m.Slips, "%v", c)
		assert.Empty(t, m.Why)
	}
}

func TestUnreadableAnswersSayWhy(t *testing.T) {
	key := keys(t, "E12", sheet.Order{Kinds: sheet.Kinds, Level: 3, Count: 7, Variants: 1})[0]
	boxes := map[sheet.Form]string{}
	for _, b := range key.Boxes() {
		boxes[b.Form] = b.Name
	}
	for _, c := range []struct {
		form        sheet.Form
		given, want string
	}{
		{sheet.FormRings, "mauve", "no ring colour"},
		{sheet.FormRings, "???", "names no ring"},
		{sheet.FormOhms, "lots", "cannot be read"},
		{sheet.FormOhms, "-5", "not negative"},
		{sheet.FormOhms, "brown black red gold", "names rings, not their value"},
		{sheet.FormOhms, "BN BK RD GD", "names rings, not their value"},
		{sheet.FormPercent, "0", "no tolerance"},
		{sheet.FormMarking, "1200", "no letter for the decimal point"},
		{sheet.FormVolts, "5 kΩ", "no number with a unit"},
		{sheet.FormWatts, "hot", "no number"},
		{sheet.FormNumber, "third", "no whole number"},
		{sheet.FormLetters, "E7", "no list of letters"},
		{sheet.FormLetters, "!", "names no letter"},
		{sheet.FormWord, "lukewarm", "none of cool, warm, hot, overloaded"},
	} {
		require.Contains(t, boxes, c.form)
		m := marked(t, key, boxes[c.form], c.given)
		assert.False(t, m.Right)
		assert.Contains(t, m.Why, c.want, "%v", c)
	}
}

// Results are written as people write them: with a sign before, the unit in
// small letters, the word and full stop.
func TestEveryFormOfARightResult(t *testing.T) {
	w, err := sheet.In("en")
	require.NoError(t, err)
	for _, c := range []struct {
		form    sheet.Form
		want    string
		figures int
		given   []string
	}{
		{sheet.FormOhms, "337724.55", 3, []string{"≈ 338 kΩ", "≈\u00a0338\u00a0kΩ", "338k", "= 337.7 kΩ", "~338 KOHM"}},
		{sheet.FormVolts, "4.5", 3, []string{"4.5", "4.5 v", "4500mv", "≈ 4.5 V", "= 4,5 V", "4.5 volts"}},
		{sheet.FormWatts, "0.25", 3, []string{"0,25w", "250 mw", "250 mW", "1/4 W", "= .25 W"}},
		{sheet.FormTempco, "50", 0, []string{"50", "±50 ppm/K", "+/- 50 ppm / K", "50 ppm/C", "50 ppm/°C", "R"}},
		{sheet.FormWord, "hot", 0, []string{"hot", "Hot.", "HOT!"}},
	} {
		for _, given := range c.given {
			m := compare(sheet.KeyBox{Form: c.form, Want: c.want, Figures: c.figures, Words: w.HeatWords[:]}, given, w)
			assert.True(t, m.Right, "%s: %q: %s", c.form, given, m.Why)
		}
	}
	// The letter of a prefix is told from the other: 250 MW is not 250 mW.
	assert.False(t, compare(sheet.KeyBox{Form: sheet.FormWatts, Want: "0.25", Figures: 3}, "250 Mw", w).Right)
}

// What the answer sheet shows is marked as right, for every kind and level.
func TestShownAnswersAreRight(t *testing.T) {
	for level := 1; level <= 3; level++ {
		for seed := range uint64(30) {
			for _, key := range keys(t, "E12; E24; 4.99 kΩ ±1 %; 102 kΩ ±0.5 %", sheet.Order{Kinds: sheet.Kinds, Level: level, Count: 14, Variants: 2, Seed: seed}) {
				for _, b := range key.Boxes() {
					m := marked(t, key, b.Name, b.Shown)
					assert.True(t, m.Right, "%s %s: %q is not %q: %s", b.Name, b.Label, b.Shown, b.Want, m.Why)
					for _, s := range b.Slips {
						assert.False(t, marked(t, key, b.Name, s.Answer).Right, "%s: the slip %s counts as right", b.Label, s.Name)
					}
				}
			}
		}
	}
}

// finder finds keys without files.
func finder(keys ...sheet.Key) func(string) (sheet.Key, error) {
	return func(code string) (sheet.Key, error) {
		if code == "" {
			return sheet.Key{}, ErrNoSheet
		}
		for _, k := range keys {
			if k.Sheet == code {
				return k, nil
			}
		}
		return sheet.Key{}, fmt.Errorf("there is no key to sheet %s", code)
	}
}

func TestReadAnswers(t *testing.T) {
	key := valueKey(t)
	code := key.Sheet
	for _, text := range []string{
		"name,sheet,1a,1b,1c,1d,1e,1f\nAda," + code + ",BN RD RD GD,1200,5,1140,1260,1K2\n",
		"\ufeffName;Sheet;1A;1B;1C;1D;1E;1F\r\nAda;" + code + ";BN RD RD GD;1200;5;1140;1260;1K2\r\n;;;;;;;\r\n",
		"sheet\tname\t1b\t1a\t1c\t1d\t1e\t1f\n" + code + "\tAda\t1200\tBN RD RD GD\t5\t1140\t1260\t1K2\n",
	} {
		learners, err := ReadAnswers(strings.NewReader(text), finder(key))
		require.NoError(t, err, text)
		require.Len(t, learners, 1)
		scripts, err := MarkAll(learners)
		require.NoError(t, err)
		assert.Equal(t, "Ada", scripts[0].Name)
		assert.Equal(t, 6, scripts[0].Points(), text)
		assert.Equal(t, 6, scripts[0].Of())
	}
}

// An empty cell stays one, whatever parts the columns.
func TestEmptyCells(t *testing.T) {
	key := valueKey(t)
	for _, parted := range []string{",", ";", "\t"} {
		text := strings.ReplaceAll("name,sheet,1a,1b,1c,1d,1e,1f\nAda,"+key.Sheet+",,1200,, 1140,,\n", ",", parted)
		learners, err := ReadAnswers(strings.NewReader(text), finder(key))
		require.NoError(t, err, "%q", parted)
		assert.Equal(t, map[string]string{"1a": "", "1b": "1200", "1c": "", "1d": "1140", "1e": "", "1f": ""}, learners[0].Answers, "%q", parted)
	}
}

func TestWrongTablesNameTheirPlace(t *testing.T) {
	key := valueKey(t)
	code := key.Sheet
	const head = "name,sheet,1a,1b,1c,1d,1e,1f\n"
	for _, c := range []struct{ table, want string }{
		{"", "line 1: the table is empty"},
		{"learner,1a\nAda,x\n", `line 1, column 1: there is no column "name"`},
		{"name,1a,,1b\n", "line 1, column 3: the column has no name"},
		{"name,1a,1a\n", `line 1, column 3: the column "1a" stands there twice`},
		{head, "line 2: the table has no answers"},
		{head + "Ada,QQQQQQ,,,,,,\n", "line 2, column 2: there is no key to sheet QQQQQQ"},
		{head + "Ada,,,,,,,\n", "line 2, column 2: the sheet's code is missing"},
		{head + "Ada," + code + ",,,,,,\n," + code + ",1,,,,,\n", "line 3, column 1: the name is missing"},
		{head + "Ada," + code + ",,,\n", "line 2: the row has 5 columns and the first line 8: give each box its column"},
		{head + "Ada," + code + ",,1,2k,,,,\n", "line 2: the row has 9 columns and the first line 8: put an answer with ',' in it between quotation marks"},
		{head + "Zo\xeb," + code + ",,1.2 k?,,,,\n", "line 2: this is no text in UTF-8"}, // as a spreadsheet saves it in Latin 1
		{"\xff\xfen\x00a\x00m\x00e\x00", "line 1: this is no text in UTF-8"},             // and in UTF-16
		{head + "Ada," + code + ",\"x,,,,,\n", "line 2, column"},
		{"name,sheet,1a,1b,1d,1e\nAda," + code + ",,,,\n", "line 1, column 7: columns are missing that sheet " + code + " has: add 1c 1f"},
		{"name,sheet,1a,1b,1c,1d,1e,1f,7z\nAda," + code + ",,,,,,,\n", `line 1, column 9: no box of sheet ` + code + ` is called "7z": its boxes are 1a 1b 1c 1d 1e 1f`},
		{"name,sheet,1a,1b,1c,1d,1e,1f,7z\nAda," + code + ",,,,,,,9\n", `line 2, column 9: sheet ` + code + ` has no box "7z"`},
		{strings.Repeat("x", 9<<20), "larger than 8 MB"},
	} {
		_, err := ReadAnswers(strings.NewReader(c.table), finder(key))
		require.Error(t, err)
		assert.Contains(t, err.Error(), c.want)
		assert.NotContains(t, err.Error(), "\n")
	}
}

func TestFormIsReadBack(t *testing.T) {
	key := valueKey(t)
	var b bytes.Buffer
	require.NoError(t, WriteForm(&b, key))
	assert.Equal(t, "name,sheet,1a,1b,1c,1d,1e,1f\n", b.String())
}

// class marks three learners with two variants of a sheet: one all right, one
// who forgets every tolerance, one who leaves everything empty.
func class(t testing.TB, count int) []Script {
	t.Helper()
	both := keys(t, "E12; E24", sheet.Order{Kinds: sheet.Kinds, Level: 2, Count: count, Variants: 2, Seed: 4})
	var learners []Learner
	for i, name := range []string{"Ada", "Bela", "Cleo"} {
		l := Learner{Name: name, Key: both[i%2], Answers: map[string]string{}}
		for _, b := range l.Key.Boxes() {
			switch name {
			case "Ada":
				l.Answers[b.Name] = b.Shown
			case "Bela":
				for _, s := range b.Slips {
					if s.Name == sheet.SlipTolerance && b.Form == sheet.FormOhms {
						l.Answers[b.Name] = s.Answer
					}
				}
			}
		}
		learners = append(learners, l)
	}
	scripts, err := MarkAll(learners)
	require.NoError(t, err)
	return scripts
}

func TestPointsTable(t *testing.T) {
	scripts := class(t, 14)
	var b bytes.Buffer
	require.NoError(t, WritePoints(&b, scripts))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 4)
	assert.Equal(t, []string{"name", "sheet", "points", "of", "question_1"}, rows[0][:5])
	assert.Len(t, rows[0], 4+14+1)
	assert.Equal(t, rows[1][3], rows[1][2], "Ada has all points")
	assert.Empty(t, rows[1][18])
	assert.Equal(t, "0", rows[2][2])
	assert.Contains(t, rows[2][18], "d: tolerance forgotten")
	assert.Contains(t, rows[3][18], "1a: left empty")

	scripts[0].Name = "=Ada"
	b.Reset()
	require.NoError(t, WritePoints(&b, scripts))
	assert.Contains(t, b.String(), "\n'=Ada,", "a spreadsheet does not reckon with a name")
}

func TestSum(t *testing.T) {
	scripts := class(t, 14)
	c, err := Sum(scripts)
	require.NoError(t, err)
	of := scripts[0].Of()
	assert.Equal(t, []string{
		"Answer sheets: 3",
		fmt.Sprintf("On average %s of %d points (33 %%).", strings.TrimSuffix(fmt.Sprintf("%.1f", float64(of)/3), ".0"), of),
		fmt.Sprintf("Least 0, middle 0, most %d.", of),
		"Questions are numbered as in variant 1.",
	}, c.Lines)
	require.Len(t, c.Questions, 14)
	total := 0
	for i, q := range c.Questions {
		assert.Equal(t, i+1, q.Number)
		assert.Equal(t, 33, q.Percent(), "one of three learners has all boxes right")
		total += q.Of
	}
	assert.Equal(t, 3*of, total)
	require.NotEmpty(t, c.Slips)
	// Two value questions: lowest, highest, and the tolerance left empty.
	assert.Equal(t, "6 × tolerance forgotten; questions 1, 2", c.Slips[0])
}

// What could not be read is told apart from what is wrong: a person may find it
// right.
func TestSumCountsWhatCouldNotBeRead(t *testing.T) {
	key := valueKey(t)
	scripts, err := MarkAll([]Learner{
		{Name: "Ada", Key: key, Answers: map[string]string{"1b": "1.2 k?", "1d": "eleven forty", "1e": "1260"}},
		{Name: "Bela", Key: key, Answers: map[string]string{"1b": "12k"}},
	})
	require.NoError(t, err)
	assert.Equal(t, []int{2, 0}, []int{scripts[0].NotRead(), scripts[1].NotRead()})
	c, err := Sum(scripts)
	require.NoError(t, err)
	assert.Equal(t, "Answers that could not be read, and count as wrong: 2. The table of points says why; judge them yourself.", c.Lines[3])
}

func TestMiddle(t *testing.T) {
	assert.Equal(t, 2.0, middle([]int{1, 2, 9}))
	assert.Equal(t, 2.5, middle([]int{1, 2, 3, 9}))
}

func TestSheetsOfOtherOrdersAreNotMixed(t *testing.T) {
	a := keys(t, "E12", sheet.Order{Kinds: sheet.Kinds, Level: 2, Count: 7, Variants: 1, Seed: 1})[0]
	b := keys(t, "E12", sheet.Order{Kinds: sheet.Kinds, Level: 2, Count: 7, Variants: 1, Seed: 2})[0]
	same := keys(t, "E24", sheet.Order{Kinds: sheet.Kinds, Level: 2, Count: 7, Variants: 1, Seed: 1})[0]
	for _, other := range []sheet.Key{b, same} { // of another seed, and of other parts with the same
		_, err := MarkAll([]Learner{{Name: "Ada", Key: a}, {Name: "Bela", Key: other}})
		assert.ErrorContains(t, err, "are not variants of one another")
	}
}

// The summary fits one page, however many questions there are.
func TestSummaryIsOnePage(t *testing.T) {
	for _, count := range []int{7, 30, sheet.MostQuestions} {
		c, err := Sum(class(t, count))
		require.NoError(t, err)
		for len(c.Slips) < mostSlips {
			c.Slips = append(c.Slips, strings.Repeat("a slip with many words, ", 6))
		}
		for _, size := range []paper.Size{paper.A4, paper.Letter} {
			var b bytes.Buffer
			pages, err := c.WritePDF(&b, size)
			require.NoError(t, err)
			assert.Equal(t, 1, pages)
			text := textOf(t, b.Bytes())
			for _, line := range append([]string{c.Title, c.Heading, c.Words.ShareRight}, c.Lines...) {
				assert.Contains(t, text, line)
			}
			for _, q := range c.Questions {
				assert.Contains(t, text, fmt.Sprintf("%d · %s", q.Number, q.Kind))
				assert.Contains(t, text, fmt.Sprintf("%d of %d (%d %%)", q.Right, q.Of, q.Percent()))
			}
		}
	}
}

// textOf is the text of a PDF, by pdftotext of the Debian package
// poppler-utils.
func textOf(t *testing.T, pdf []byte) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is missing: cmd/setup poppler-utils installs it")
	}
	file := filepath.Join(t.TempDir(), "class.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o600))
	out, err := exec.Command("pdftotext", "-layout", file, "-").Output()
	require.NoError(t, err)
	return string(out)
}

func TestSummaryAsHTML(t *testing.T) {
	c, err := Sum(class(t, 7))
	require.NoError(t, err)
	c.Title = "Ohm & <friends>"
	var b bytes.Buffer
	require.NoError(t, c.WriteHTML(&b))
	page := b.String()
	assert.Contains(t, page, "<h1>Ohm &amp; &lt;friends&gt;</h1>")
	assert.Equal(t, len(c.Questions), strings.Count(page, `class="bar"`))
	for _, q := range c.Questions {
		assert.Contains(t, page, fmt.Sprintf("<td>%d of %d (%d %%)</td>", q.Right, q.Of, q.Percent()))
	}
}

func TestSummaryPassesAxe(t *testing.T) {
	c, err := Sum(class(t, 14))
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, c.WriteHTML(&b))
	axetest.New(t).Check(t, b.Bytes())
}

func TestFindKey(t *testing.T) {
	key := valueKey(t)
	folder, other := t.TempDir(), t.TempDir()
	_, err := FindKey(key.Sheet, []string{other, folder})
	assert.ErrorContains(t, err, "there is no key to sheet "+key.Sheet)
	assert.ErrorContains(t, err, other+", "+folder)
	assert.ErrorContains(t, err, "--keys")

	path := filepath.Join(folder, sheet.KeyFile(key.Sheet))
	var b bytes.Buffer
	require.NoError(t, key.Write(&b))
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o600))
	found, err := FindKey(strings.ToLower(key.Sheet), []string{other, folder})
	require.NoError(t, err)
	assert.Equal(t, key, found)

	require.NoError(t, os.WriteFile(path, []byte("{"), 0o600))
	_, err = FindKey(key.Sheet, []string{folder})
	assert.ErrorContains(t, err, "damaged")
	require.NoError(t, os.WriteFile(path, bytes.ReplaceAll(b.Bytes(), []byte(key.Sheet), []byte("QQQQQQ")), 0o600))
	_, err = FindKey(key.Sheet, []string{folder})
	assert.ErrorContains(t, err, "it is the key to sheet QQQQQQ")
	_, err = FindKey("../x", []string{folder})
	assert.ErrorContains(t, err, "is no sheet's code")
}

// An error of the finder is told as it is where no row names a sheet.
func TestFinderFails(t *testing.T) {
	_, err := ReadAnswers(strings.NewReader("name,1a\nAda,x\n"), func(string) (sheet.Key, error) { return sheet.Key{}, errors.New("the key is torn") })
	assert.EqualError(t, err, "the key is torn")
}
