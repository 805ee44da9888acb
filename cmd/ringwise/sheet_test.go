package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// codesIn are the codes of the sheets whose keys lie in a folder.
func codesIn(t *testing.T, folder string) []string {
	t.Helper()
	keys, err := filepath.Glob(filepath.Join(folder, "*-key.json"))
	require.NoError(t, err)
	var codes []string
	for _, k := range keys {
		codes = append(codes, strings.TrimSuffix(filepath.Base(k), "-key.json"))
	}
	return codes
}

func TestSheetWritesItsFiles(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "evening")
	code, out, errs := ringwise("sheet", "--values", "E12; 4K99F", "--variants", "2", "--seed", "7", "--paper", "both",
		"--large", "--grey", "--title", "Club evening", "--out", folder)
	require.Equal(t, allWell, code, errs)
	assert.Empty(t, errs)
	codes := codesIn(t, folder)
	require.Len(t, codes, 2)
	for _, c := range codes {
		assert.Contains(t, out, c+"  variant ")
		for _, name := range []string{"-questions-large-grey.pdf", "-questions-large-grey-letter.pdf", "-questions-large-grey.html",
			"-answers-large-grey.pdf", "-answers-large-grey-letter.pdf", "-answers-large-grey.html", "-typed.csv", "-key.json"} {
			assert.Contains(t, out, c+name+"\n")
			data, err := os.ReadFile(filepath.Join(folder, c+name))
			require.NoError(t, err)
			assert.NotEmpty(t, data)
			if strings.HasSuffix(name, ".html") {
				assert.Contains(t, string(data), "<h1>Club evening</h1>")
				assert.Contains(t, string(data), c)
			}
		}
	}
	// The same seed makes the same sheets, whatever they look like.
	again := filepath.Join(t.TempDir(), "again")
	code, _, _ = ringwise("sheet", "--values", "E12; 4K99F", "--variants", "2", "--seed", "7", "--title", "Club evening", "--out", again)
	require.Equal(t, allWell, code)
	assert.Equal(t, codes, codesIn(t, again))
}

func TestSheetFromAFileOfValues(t *testing.T) {
	folder := t.TempDir()
	list := filepath.Join(folder, "tin.txt")
	write(t, list, []byte("# invented: the biscuit tin\n5K6\n10 kΩ ±1 %\n47K\n"))
	code, _, errs := ringwise("sheet", "--values", list, "--kinds", "value", "--questions", "3", "--out", folder)
	require.Equal(t, allWell, code, errs)
	assert.Len(t, codesIn(t, folder), 1)

	write(t, list, []byte("5K6\n10 kilo\nplenty\n"))
	code, _, errs = ringwise("sheet", "--values", list, "--out", folder)
	assert.Equal(t, wrongUse, code)
	assert.Contains(t, errs, "tin.txt, line 3: the value \"plenty\" cannot be read")
}

// Parts of the stock are confirmed: nothing on the sheet says otherwise.
func TestSheetFromStock(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "club.db")
	store, err := stock.Open(context.Background(), path)
	require.NoError(t, err)
	for _, row := range [][]decode.Colour{
		{decode.Green, decode.Blue, decode.Red, decode.Gold},
		{decode.Yellow, decode.Violet, decode.Orange, decode.Gold},
		{decode.Black},
	} {
		found, err := decode.Readings(row)
		require.NoError(t, err)
		_, err = store.Confirm(context.Background(), stock.Part{Count: 2, Origin: stock.FromRings, Reading: found[0]})
		require.NoError(t, err)
	}
	require.NoError(t, store.Close())
	code, _, errs := ringwise("sheet", "--stock", path, "--kinds", "value", "--questions", "2", "--out", folder)
	require.Equal(t, allWell, code, errs)
	assert.Equal(t, "0 Ω (BK) is left out: a zero-ohm link has no value to work out\n", errs)
	page, err := os.ReadFile(filepath.Join(folder, codesIn(t, folder)[0]+"-answers.html"))
	require.NoError(t, err)
	assert.Contains(t, string(page), "5.6 kΩ")
	assert.Contains(t, string(page), "47 kΩ")
	assert.NotContains(t, string(page), "checked")
}

// Of many parts that are left out only some are named.
func TestSheetNamesFewLeftOut(t *testing.T) {
	code, _, errs := ringwise("sheet", "--values", "5K6; E96", "--level", "1", "--kinds", "value", "--questions", "1", "--out", t.TempDir())
	require.Equal(t, allWell, code, errs)
	assert.Equal(t, mostReasons+1, strings.Count(errs, "\n"))
	assert.Contains(t, errs, "level 1 has parts of at most 4 rings")
	assert.Contains(t, errs, "more are left out")
}

// Sure readings of photos go in only when asked for, and are marked.
func TestSheetFromSureReadings(t *testing.T) {
	folder := t.TempDir()
	const photo = "../../samples/cleanout-01-biscuit-tin.jpg"
	code, _, errs := ringwise("sheet", photo, "--out", folder)
	assert.Equal(t, wrongUse, code)
	assert.Contains(t, errs, "nobody has confirmed the readings")
	assert.Empty(t, codesIn(t, folder))

	code, _, errs = ringwise("sheet", "--accept-sure", photo, "--kinds", "value", "--questions", "2", "--out", folder)
	require.Equal(t, allWell, code, errs)
	assert.Contains(t, errs, "not sure and left out")
	codes := codesIn(t, folder)
	require.Len(t, codes, 1)
	for _, side := range []string{"questions", "answers"} {
		page, err := os.ReadFile(filepath.Join(folder, codes[0]+"-"+side+".html"))
		require.NoError(t, err)
		assert.Contains(t, string(page), "nobody has checked them")
		assert.Equal(t, 2, strings.Count(string(page), "<img "))
	}
}

func TestSheetRefuses(t *testing.T) {
	folder := t.TempDir()
	torn := filepath.Join(folder, "torn.jpg")
	write(t, torn, []byte("no photo"))
	blank := filepath.Join(folder, "blank.png")
	write(t, blank, asPNG(t, plainPicture(300, 200)))
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{nil, wrongUse, "say where the parts come from"},
		{[]string{"--accept-sure"}, wrongUse, "name the photos"},
		{[]string{"--values", "5K6", "--questions", "0"}, wrongUse, "0 questions make no sheet"},
		{[]string{"--values", "5K6", "--questions", "some"}, wrongUse, `"some" for --questions`},
		{[]string{"--values", "5K6", "--kinds", "riddles"}, wrongUse, `there is no kind of question "riddles"`},
		{[]string{"--values", "5K6", "--paper", "a3"}, wrongUse, `there is no paper "a3"`},
		{[]string{"--values", "5K6", "--language", "xx"}, wrongUse, `no words in the language "xx"`},
		{[]string{"--values", "5K6", "--level", "9"}, wrongUse, "there is no level 9"},
		{[]string{"--values", "tin.txt"}, wrongUse, `--values is no file, and as a list, line 1: the value "tin.txt" cannot be read`},
		{[]string{"--values", "5K6"}, failed, "can be made of 1 part at"},
		{[]string{"--values", "E12", "--title", "抵抗"}, failed, "the font of the sheet does not have"},
		{[]string{"--stock", filepath.Join(folder, "none.db")}, failed, "there is no stock"},
		{[]string{"--accept-sure", filepath.Join(folder, "none.jpg")}, failed, "none.jpg: no such file"},
		{[]string{"--accept-sure", torn}, failed, "torn.jpg: "},
		{[]string{"--accept-sure", blank}, failed, "no reading of these photos is sure"},
	} {
		out := filepath.Join(folder, "out")
		code, said, errs := ringwise(append(append([]string{"sheet"}, c.args...), "--out", out)...)
		assert.Equal(t, c.code, code, "%q: %s", c.args, errs)
		assert.Empty(t, said, "%q", c.args)
		assert.Contains(t, errs, c.want)
		assert.Equal(t, 1, strings.Count(errs, "\n"), "one line: %s", errs)
		assert.Empty(t, codesIn(t, out))
	}
}

// From making a sheet to marking a class.
func TestSheetToMarks(t *testing.T) {
	folder := t.TempDir()
	code, _, errs := ringwise("sheet", "--values", "1K2", "--kinds", "value", "--questions", "1", "--out", folder)
	require.Equal(t, allWell, code, errs)
	sheetCode := codesIn(t, folder)[0]
	typed := filepath.Join(folder, sheetCode+"-typed.csv")
	form, err := os.ReadFile(typed)
	require.NoError(t, err)
	assert.Equal(t, "name,sheet,1a,1b,1c,1d,1e\n", string(form))
	write(t, typed, append(form, []byte("Ada,,BN RD RD GD,1k2,J,1140,1260\nBela,,BN RD RD GD,12k,,1200,1200\n")...))

	code, out, errs := ringwise("mark", typed, "--sheet", strings.ToLower(sheetCode))
	require.Equal(t, allWell, code, errs)
	assert.Contains(t, out, "Ada   "+sheetCode+"  5 of 5\n")
	assert.Contains(t, out, "Bela  "+sheetCode+"  1 of 5\n")
	assert.Contains(t, out, "3 × tolerance forgotten; questions 1")
	assert.Contains(t, out, "1 × multiplier off by one")
	points, err := os.ReadFile(filepath.Join(folder, sheetCode+"-typed-points.csv"))
	require.NoError(t, err)
	assert.Contains(t, string(points), "Bela,"+sheetCode+",1,5,1,1b: multiplier off by one (ten times too much or too little); 1c: tolerance forgotten; 1d: tolerance forgotten; 1e: tolerance forgotten\n")
	for _, name := range []string{"-typed-class.pdf", "-typed-class.html"} {
		assert.FileExists(t, filepath.Join(folder, sheetCode+name))
	}
}

// sheetOfOne makes a sheet with one question and returns its folder.
func sheetOfOne(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	code, _, errs := ringwise("sheet", "--values", "1K2", "--kinds", "value", "--level", "1", "--questions", "1", "--out", folder)
	require.Equal(t, allWell, code, errs)
	return folder
}

// What a teacher must look at stands beside the points, and a name that stands
// twice is pointed out.
func TestMarkSaysWhatToLookAt(t *testing.T) {
	folder := sheetOfOne(t)
	table := filepath.Join(folder, "class.csv")
	write(t, table, []byte("name,1a,1b,1c\nAda,BN RD RD GD,1.2 k?,5\nBela,BN RD RD GD,1k2,5\nAda,BN RD RD GD,1k2,5\nada ,BN RD RD GD,1k2,5\n"))
	code, out, errs := ringwise("mark", table, "--sheet", codesIn(t, folder)[0])
	require.Equal(t, allWell, code, errs)
	assert.Regexp(t, `Ada +\w+ +2 of 3, 1 not read\n`, out)
	assert.Regexp(t, `Bela +\w+ +3 of 3\n`, out)
	assert.Contains(t, errs, `class.csv: "Ada" stands in 3 rows (lines 2, 4, 5): each row is marked, so take out what was typed twice`)
	assert.Equal(t, 1, strings.Count(errs, "\n"), errs)
}

// With a list of the class whoever is missing is missed.
func TestMarkComparesWithTheClass(t *testing.T) {
	folder := sheetOfOne(t)
	answers := filepath.Join(folder, "answers.csv")
	write(t, answers, []byte("name,1a,1b,1c\nAda,BN RD RD GD,1k2,5\nBela,,,\nEmil,BN RD RD GD,1k2,5\n"))
	list := filepath.Join(folder, "class.txt")
	write(t, list, []byte("Ada\nBela\nCora\n"))
	code, out, errs := ringwise("mark", answers, "--sheet", codesIn(t, folder)[0], "--class", list)
	require.Equal(t, allWell, code, errs)
	assert.Contains(t, out, "\nhanded in: 1 of the 3 in "+list+
		"\nhanded in nothing: 1\n  Cora\nhas a row with no answer in it: 1\n  Bela\nnot in "+list+", or written otherwise there: 1\n  Emil\n")
	assert.Empty(t, errs)

	// Nobody is missing.
	write(t, list, []byte("Ada\nEmil\nBela\n"))
	write(t, answers, []byte("name,1a,1b,1c\nAda,BN RD RD GD,1k2,5\nBela,BK,,\nEmil,BN RD RD GD,1k2,5\n"))
	_, out, _ = ringwise("mark", answers, "--sheet", codesIn(t, folder)[0], "--class", list)
	assert.Contains(t, out, "\nhanded in: 3 of the 3 in "+list+"\n\nwritten: ")
}

func TestMarkRefuses(t *testing.T) {
	folder := t.TempDir()
	code, _, errs := ringwise("sheet", "--values", "1K2", "--kinds", "value", "--questions", "1", "--out", folder)
	require.Equal(t, allWell, code, errs)
	sheetCode := codesIn(t, folder)[0]
	table := filepath.Join(folder, "class.csv")
	write(t, table, []byte("name,1a,1b\nAda,x,y\n"))
	whole, twice := filepath.Join(folder, "whole.csv"), filepath.Join(folder, "twice.txt")
	write(t, whole, []byte("name,1a,1b,1c,1d,1e\nAda,x,y,,,\n"))
	write(t, twice, []byte("Ada\nBela\nada\n"))
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{nil, wrongUse, "name one table"},
		{[]string{table, table}, wrongUse, "name one table"},
		{[]string{table, "--paper", "both"}, wrongUse, "use a4 or letter"},
		{[]string{filepath.Join(folder, "none.csv")}, failed, "none.csv: no such file: check the name"},
		{[]string{folder}, failed, "this is a folder: name the file in it"},
		{[]string{table}, failed, "class.csv: line 2, column 1: the sheet's code is missing"},
		{[]string{table, "--sheet", "QQQQQQ"}, failed, "there is no key to sheet QQQQQQ"},
		{[]string{table, "--sheet", "short"}, failed, "is no sheet's code"},
		{[]string{table, "--sheet", sheetCode, "--keys", t.TempDir()}, failed, "there is no key to sheet"},
		{[]string{table, "--sheet", sheetCode}, failed, " has: add 1c 1d 1e"},
		{[]string{whole, "--sheet", sheetCode, "--class", filepath.Join(folder, "none.txt")}, failed, "none.txt: no such file: check the name"},
		{[]string{whole, "--sheet", sheetCode, "--class", twice}, failed, `twice.txt: line 3: "ada" stands there twice, first in line 1`},
		{[]string{whole, "--class="}, wrongUse, "--class is empty"},
	} {
		code, out, errs := ringwise(append([]string{"mark"}, c.args...)...)
		assert.Equal(t, c.code, code, "%q: %s", c.args, errs)
		assert.Empty(t, out)
		assert.Contains(t, errs, c.want)
		assert.Equal(t, 1, strings.Count(errs, "\n"), "one line: %s", errs)
	}
}

// A key holds what is needed to mark, and says what it is of.
func TestKeyIsReadable(t *testing.T) {
	folder := t.TempDir()
	code, _, errs := ringwise("sheet", "--values", "5K6", "--kinds", "value", "--questions", "1", "--seed", "3", "--out", folder)
	require.Equal(t, allWell, code, errs)
	data, err := os.ReadFile(filepath.Join(folder, codesIn(t, folder)[0]+"-key.json"))
	require.NoError(t, err)
	var key struct {
		Seed      int
		Questions []struct {
			Boxes []struct{ Box, Answer string }
		}
	}
	require.NoError(t, json.Unmarshal(data, &key))
	assert.Equal(t, 3, key.Seed)
	assert.Equal(t, "5600", key.Questions[0].Boxes[1].Answer)
}
