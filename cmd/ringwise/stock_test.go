package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// clubStock is the file of a stock with a few parts of an invented club.
func clubStock(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "stock.db")
	s, err := stock.Open(context.Background(), path)
	require.NoError(t, err)
	defer s.Close()
	for _, p := range []struct {
		rings []decode.Colour
		count int
		kind  decode.Kind
	}{
		{[]decode.Colour{decode.Green, decode.Blue, decode.Red, decode.Gold}, 3, ""},
		{[]decode.Colour{decode.Green, decode.Blue, decode.Red, decode.Gold}, 5, ""},
		{[]decode.Colour{decode.Yellow, decode.Violet, decode.Red, decode.Gold}, 2, ""},
		{[]decode.Colour{decode.Yellow, decode.Violet, decode.Red, decode.Gold}, 1, decode.KindFusible},
		{[]decode.Colour{decode.Black}, 4, ""},
	} {
		readings, err := decode.Readings(p.rings)
		require.NoError(t, err)
		entry := stock.Part{Count: p.count, Origin: stock.FromRings, Reading: readings[0], Kind: p.kind,
			Confirmed: time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)}
		if p.kind != "" {
			entry.KindBasis = stock.Said
		}
		_, err = s.Confirm(context.Background(), entry)
		require.NoError(t, err)
	}
	return path
}

func TestStockActions(t *testing.T) {
	path := clubStock(t)
	for _, c := range []struct {
		args string
		code int
		want string // in the output, or of the errors
	}{
		{"", allWell, "4  0 Ω link     0R    BK           #5\n3  4.7 kΩ ±5 %  4K7J  YE VT RD GD  #3, #4 fusible\n8  5.6 kΩ ±5 %  5K6J  GN BU RD GD  #1, #2\n"},
		{"find 5K6", allWell, "#1  3 of  5.6 kΩ ±5 %  GN BU RD GD"},
		{"find 5,6 kΩ --tolerance 1", nothingIn, "there is no 5.6 kΩ of ±1 % or tighter in the stock\nnearest:\n8  5.6 kΩ"},
		{"find 5k", nothingIn, "nearest:\n3  4.7 kΩ ±5 %"},
		{"find lots", wrongUse, "lots"},
		{"find", wrongUse, "name a value"},
		{"take 5K6 --count 4", allWell, "took 4 of #2, 5.6 kΩ ±5 %; 1 left\nCAUTION: "},
		{"take 5K6 --count 5", failed, "5 cannot be taken: left in the 2 entries of 5.6 kΩ: 4"},
		{"take 5K6 --count 4", allWell, "took 3 of #1, 5.6 kΩ ±5 %; 0 left\ntook 1 of #2, 5.6 kΩ ±5 %; 0 left\nCAUTION: "},
		{"put 5K6 --count 9", failed, "9 cannot be put back: out of the 2 entries of 5.6 kΩ: 8; confirm new parts"},
		{"put 5K6 --count 7", allWell, "put 3 back into #1, 5.6 kΩ ±5 %; 3 there\nput 4 back into #2, 5.6 kΩ ±5 %; 4 there\n"},
		{"undo", allWell, "undone: put 7 parts back: 3 of #1, 4 of #2"},
		{"undo", allWell, "undone: took 4 parts: 3 of #1, 1 of #2"},
		{"take 4K7", failed, "choose one with --entry"},
		{"take --entry 4", allWell, "CAUTION: " + decode.CautionSpecialPart},
		{"take --entry 4", failed, "entry #4 has 0 of"},
		{"take 4K7 --entry 4", wrongUse, "not both"},
		{"take #4", wrongUse, "or an entry by its number, such as --entry 3"},
		{"put", wrongUse, "or an entry by its number, such as --entry 3"},
		{"remove 4", wrongUse, `remove takes no "4": name an entry by its number, such as --entry 3`},
		{"take 1M", nothingIn, "there is no 1 MΩ in the stock"},
		{"take 5K6 --count 0", wrongUse, "--count must be 1 or more"},
		{"put 4K7", allWell, "put 1 back into #4, 4.7 kΩ ±5 %; 1 there\n"}, // nothing is out of the other
		{"put 4K7", failed, "1 cannot be put back: out of the 2 entries of 4.7 kΩ: 0; confirm"},
		{"put --entry 4", failed, "entry #4 has 1 of 4.7 kΩ ±5 % and never had more than 1"},
		{"put 0", failed, "entry #5 has 4 of 0 Ω link and never had more than 4"},
		{"put --entry 9", failed, "the stock has no entry #9"},
		{"undo", allWell, "undone: put 1 back into #4"},
		{"redo", allWell, "done again: put 1 back into #4"},
		{"redo", failed, "there is nothing to do again"},
		{"remove", wrongUse, "name the entry with --entry"},
		{"remove --entry 5", allWell, "removed #5, 4 of 0 Ω link; ringwise stock undo --stock " + path + " brings it back\n"},
		{"remove --entry 5", failed, "the stock has no entry #5"},
		{"undo", allWell, "undone: removed #5"},
		{"journal", allWell, "removed #5, 4 of 0 Ω link (undone)\n"},
		{"summary --since 2026-02-01", allWell, "in the stock: 11 parts in 5 entries, of 3 values\n"},
		{"summary --since March", wrongUse, "is no day for --since"},
		{"summary", allWell, "confirmed since the beginning: 5 entries, of 3 values; 11 parts in them now\n"},
		{"verify", allWell, "11 parts in 5 entries, 0 pictures, 9 steps\nno fault found\n"},
		{"labels", allWell, "<p class=\"value\">5.6 kΩ ±5 %</p>"},
		{"export --csv", allWell, "\n1,"},
		{"export --json", allWell, `"bands":["green","blue","red","gold"]`},
		{"export", wrongUse, "choose --csv or --json"},
		{"export --csv --json", wrongUse, "choose one of"},
		{"import", wrongUse, "name the file"},
		{"import nowhere.csv", failed, "nowhere.csv cannot be read"},
		{"backup", wrongUse, "name the file"},
		{"restore", wrongUse, "name the backup"},
		{"bins 5", wrongUse, `bins takes no "5"`},
		{"bins --count 4", wrongUse, "bins has no option --count"},
		{"burn", wrongUse, `there is no action "burn"`},
	} {
		args := append([]string{"stock", "--stock", path}, strings.Fields(c.args)...)
		code, out, errs := ringwise(args...)
		assert.Equal(t, c.code, code, "%q: %s", c.args, errs)
		if c.code == failed || c.code == wrongUse {
			assert.Contains(t, errs, c.want, "%q", c.args)
			assert.Equal(t, 1, strings.Count(errs, "\n"), errs)
		} else {
			assert.Contains(t, out, c.want, "%q", c.args)
			assert.Empty(t, errs)
		}
		assert.NotContains(t, out, "\x1b")
	}
}

// Equal bodies measured on photos differ by a hair. 6.3 × 2.3 mm is size 0207, 3.6
// × 1.8 mm 0204, from memory of the type sizes.
func TestAlike(t *testing.T) {
	for _, c := range []struct {
		a, b   stock.Size
		bBasis stock.Basis
		want   bool
	}{
		{"", "", stock.Unknown, true},
		{"6.3 × 2.3 mm", "6.2 × 2.4 mm", stock.Estimated, true},
		{"6.3 × 2.3 mm", "3.6 × 1.8 mm", stock.Estimated, false},
		{"6.3 × 2.3 mm", "90 × 20 mm", stock.Estimated, false},
		{"90 × 20 mm", "91 × 20 mm", stock.Estimated, false},
		{"6.3 × 2.3 mm", "0207", stock.Said, false},
		{"6.3 × 2.3 mm", "", stock.Unknown, false},
	} {
		a, b := stock.Part{Size: c.a, SizeBasis: stock.Estimated}, stock.Part{Size: c.b, SizeBasis: c.bBasis}
		assert.Equal(t, c.want, alike(a, b), "%s and %s", c.a, c.b)
		assert.Equal(t, c.want, alike(b, a), "%s and %s", c.b, c.a)
	}
}

func TestStockFiles(t *testing.T) {
	path, folder := clubStock(t), t.TempDir()
	file := func(name string) string { return filepath.Join(folder, name) }
	stockOf := func(path string, args ...string) string {
		t.Helper()
		code, out, errs := ringwise(append([]string{"stock", "--stock", path}, args...)...)
		require.Equal(t, allWell, code, errs)
		return out
	}
	bins := stockOf(path)
	for _, name := range []string{"all.csv", "all.jsonl"} {
		stockOf(path, "export", file(name))
		code, _, errs := ringwise("stock", "--stock", path, "export", file(name))
		assert.Equal(t, failed, code)
		assert.Contains(t, errs, "is there already: choose another name")
		fresh := file("of-" + name + ".db")
		assert.Equal(t, "imported 5 entries; there already: 0\n", stockOf(fresh, "import", file(name)))
		assert.Equal(t, "imported 0 entries; there already: 5\n", stockOf(fresh, "import", file(name)))
		assert.Equal(t, bins, stockOf(fresh))
	}
	assert.Contains(t, stockOf(path, "backup", file("copy.db")), "15 parts in 5 entries, 0 pictures, 5 steps\nno fault found\n")
	stockOf(path, "take", "--entry", "5")
	assert.Contains(t, stockOf(path, "restore", file("copy.db")), "the stock as it was is kept as "+path+".before-restore-")
	assert.Equal(t, bins, stockOf(path))

	data, err := os.ReadFile(file("copy.db"))
	require.NoError(t, err)
	copy(data[8192:], strings.Repeat("x", 4096))
	write(t, file("worn.db"), data)
	code, out, errs := ringwise("stock", "verify", file("worn.db"))
	assert.Equal(t, failed, code)
	assert.True(t, strings.Contains(out, "FAULT: ") || strings.Contains(errs, "damaged"), out+errs)
}

// What no person has confirmed does not come in by the back door.
func TestStockImportsNoReadings(t *testing.T) {
	folder := t.TempDir()
	photo := filepath.Join(folder, "drawn.png")
	write(t, photo, asPNG(t, drawnResistor()))
	path := filepath.Join(folder, "stock.db")
	for _, format := range []string{"--csv", "--json"} {
		_, readings, _ := ringwise("read", format, photo)
		code, _, errs := ringwiseFrom(strings.NewReader(readings), "stock", "import", "-", format, "--stock", path)
		assert.Equal(t, failed, code)
		assert.Contains(t, errs, "confirm")
	}
	_, out, _ := ringwise("stock", "--stock", path)
	assert.Equal(t, "the stock is empty\n", out)
}

func TestNoStockYet(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stock.db")
	for _, action := range []string{"bins", "undo", "journal", "summary", "labels"} {
		code, _, errs := ringwise("stock", action, "--stock", path)
		assert.Equal(t, failed, code)
		assert.Contains(t, errs, "there is no stock at "+path+" yet: confirm parts with ringwise read --confirm")
		assert.NoFileExists(t, path, "looking makes no file")
	}
}

func TestParseDay(t *testing.T) {
	zone := time.FixedZone("here", 2*3600)
	now := time.Date(2026, 3, 29, 1, 30, 0, 0, zone)
	day, err := parseDay("today", now)
	require.NoError(t, err)
	assert.Equal(t, "2026-03-29T00:00:00+02:00", day.Format(time.RFC3339))
	day, err = parseDay("2026-03-01", now)
	require.NoError(t, err)
	assert.Equal(t, "2026-03-01T00:00:00+02:00", day.Format(time.RFC3339))
	_, err = parseDay("2026-02-30", now)
	assert.Error(t, err)
}

// A stock that was named is named where undoing is advised, and the usual one is
// not.
func TestUndoCall(t *testing.T) {
	for named, want := range map[string]string{
		"":           "ringwise stock undo",
		"d.db":       "ringwise stock undo --stock d.db",
		"my bins.db": `ringwise stock undo --stock "my bins.db"`,
	} {
		assert.Equal(t, want, undoCall(named))
	}
}
