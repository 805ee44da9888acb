package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ringwise runs a command line.
func ringwise(args ...string) (code int, out, errs string) {
	return ringwiseFrom(strings.NewReader(""), args...)
}

func ringwiseFrom(in io.Reader, args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(context.Background(), args, in, &o, &e)
	return code, o.String(), e.String()
}

func TestWrongUse(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "usage: ringwise COMMAND"},
		{[]string{"red"}, `no command "red"`},
		{[]string{"find", "5K6"}, "write ringwise stock find"},
		{[]string{"stock", "list"}, `no action "list": use one of bins, find, take, `},
		{[]string{"stock", "5.6", "kΩ"}, "to look for a value write ringwise stock find 5.6 kΩ"},
		{[]string{"decode", "5K6"}, `"5K6" is a value: ringwise code says which rings write it`},
		{[]string{"help", "red"}, `no command "red"`},
		{[]string{"help", "read", "code"}, "no command"},
		{[]string{"read"}, "name at least one photo"},
		{[]string{"read", "--jsn", "a.jpg"}, "no option --jsn"},
		{[]string{"read", "a.jpg", "--marked"}, "no value after --marked"},
		{[]string{"read", "--json", "--csv", "a.jpg"}, "one of --json and --csv"},
		{[]string{"read", "-", "-"}, "only once"},
		{[]string{"read", "a.jpg", "b.jpg", "--marked", "c.png"}, "several photos need one"},
		{[]string{"decode"}, "name the colours"},
		{[]string{"decode", "GN", "mauve"}, `"mauve" is no ring colour`},
		{[]string{"code"}, "name a value"},
		{[]string{"code", "lots"}, "lots"},
		{[]string{"code", "5K6", "--tolerance", "-3"}, `"-3" for --tolerance`},
		{[]string{"code", "5K6", "--tempco", "hot"}, `"hot" for --tempco`},
		{[]string{"score"}, "name at least one truth file"},
		{[]string{"score", "--page", "", "truth.json"}, "--page is empty"},
		{[]string{"stock", "take", "5K6", "--stock", ""}, "--stock is empty: name one"},
		{[]string{"read", "--confirm", "--stock=", "a.jpg"}, "--stock is empty"},
		{[]string{"combine", "5K", "--stock", ""}, "--stock is empty"},
		{[]string{"project", "list.csv", "--pick-sheet", ""}, "--pick-sheet is empty"},
		{[]string{"doctor", "--camera", ""}, "--camera is empty"},
	} {
		code, out, errs := ringwise(c.args...)
		assert.Equal(t, wrongUse, code, "%q", c.args)
		assert.Empty(t, out, "%q", c.args)
		assert.Contains(t, errs, c.want)
		if len(c.args) > 0 {
			assert.Equal(t, 1, strings.Count(errs, "\n"), "one line: %s", errs)
		}
	}
}

func TestHelp(t *testing.T) {
	for _, args := range [][]string{{"help"}, {"--help"}, {"-h"}} {
		code, out, _ := ringwise(args...)
		assert.Equal(t, allWell, code)
		for _, c := range commands() {
			assert.Contains(t, out, "  "+c.name)
			assert.Contains(t, out, c.brief)
		}
	}
	for _, c := range commands() {
		for _, args := range [][]string{{"help", c.name}, {c.name, "--help"}, {c.name, "-h"}} {
			code, out, errs := ringwise(args...)
			assert.Equal(t, allWell, code, "%q", args)
			assert.Empty(t, errs)
			assert.True(t, strings.HasPrefix(out, "usage: ringwise "+c.name), "%q", args)
			assert.Contains(t, out, "Example")
			for line := range strings.Lines(out) {
				assert.LessOrEqual(t, len([]rune(strings.TrimSuffix(line, "\n"))), 80, line)
			}
		}
	}
}

// Worked examples of the code, checked against the tables of IEC 60062 by
// hand: 56 · 10^2, 100 · 10^2, 47 · 10^-1.
func TestDecode(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"GN BU RD GD", "GN BU RD GD  (green blue red gold)\n  5.6 kΩ ±5 %, marked 5K6J, from 5.32 kΩ to 5.88 kΩ\n"},
		{"green,blue,red,gold", "  5.6 kΩ ±5 %, marked 5K6J"},
		{"BN-BK-BK-RD-BN", "  10 kΩ ±1 %, marked 10KF, from 9.9 kΩ to 10.1 kΩ\n"},
		{"BN BK BK RD BN", "\nfrom the other end:\nBN RD BK BK BN"},
		{"GD OG VT YE", "ring 1 cannot be gold: the first ring is a digit, and gold is none; the row makes sense read from the other end; it could be brown, red, orange, yellow, green, blue, violet, grey, white\n\nfrom the other end:\nYE VT OG GD  (yellow violet orange gold)\n  47 kΩ ±5 %, marked 47KJ"},
		{"yellow Violet gold GOLD", "  4.7 Ω ±5 %, marked 4R7J, from 4.465 Ω to 4.935 Ω\n"},
		{"BK", "BK  (black)\n  0 Ω link\n"},
	} {
		code, out, errs := ringwise(append([]string{"decode"}, strings.Fields(c.args)...)...)
		assert.Equal(t, allWell, code, c.args)
		assert.Empty(t, errs)
		assert.Contains(t, out, c.want)
		assert.NotContains(t, out, "\x1b", "plain text without a terminal")
	}
}

func TestDecodeNamesTheRing(t *testing.T) {
	for _, c := range []struct{ args, want string }{
		{"GD BN RD GD", "ring 1 cannot be gold"},
		{"BN BK PK PK", "ring 4 cannot be pink"},
		{"BN BK", "2 rings have no meaning"},
	} {
		code, out, errs := ringwise(append([]string{"decode"}, strings.Fields(c.args)...)...)
		assert.Equal(t, failed, code, c.args)
		assert.Empty(t, out)
		assert.Contains(t, errs, c.want)
	}
}

func TestCode(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"5K6", "--tolerance", "5"}, "5.6 kΩ ±5 %, marked 5K6J\n  GN BU RD GD     green blue red gold\n  GN BU BK BN GD  green blue black brown gold\n"},
		{[]string{"--tolerance=5%", "5.6", "kΩ"}, "  GN BU RD GD     green blue red gold\n"},
		{[]string{"5K6J"}, "  GN BU RD GD     green blue red gold\n"},
		{[]string{"5600", "--tolerance", "J"}, "  GN BU RD GD     green blue red gold\n"},
		{[]string{"4.99k", "--tempco", "50", "--tolerance", "1"}, "4.99 kΩ ±1 %, 50 ppm/K, marked 4K99F\n  YE WH WH BN BN RD  yellow white white brown brown red\n"},
		{[]string{"10K"}, "10 kΩ ±1 %, marked 10KF\n  BN BK BK RD BN  brown black black red brown\n"},
		{[]string{"0"}, "0 Ω link\n  BK  black\n"},
		{[]string{"1M", "--tolerance", "5", "--high-voltage"}, "BN BK GN YE  brown black green yellow"},
	} {
		code, out, errs := ringwise(append([]string{"code"}, c.args...)...)
		assert.Equal(t, allWell, code, "%q: %s", c.args, errs)
		assert.Contains(t, out, c.want)
	}
	for _, option := range [][]string{{"--tolerance", "5"}, {"--tempco", "50"}, {"--failure-rate", "1"}, {"--high-voltage"}} {
		code, out, errs := ringwise(append([]string{"code", "0R"}, option...)...)
		assert.Equal(t, wrongUse, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, option[0]+" says nothing of a link of 0 Ω")
	}
	code, out, errs := ringwise("code", "1234567")
	assert.Equal(t, failed, code)
	assert.Empty(t, out)
	assert.Contains(t, errs, "the nearest is 1.23 MΩ")
}

// What code writes, decode must read.
func TestCodeAndDecodeAgree(t *testing.T) {
	for _, value := range []string{"R33", "4R7", "100R", "5K6", "82K", "1M0", "22M"} {
		_, out, _ := ringwise("code", value, "--tolerance", "5")
		row := strings.Fields(strings.SplitN(out, "\n", 3)[1])[:4]
		_, out, _ = ringwise(append([]string{"decode"}, row...)...)
		assert.Contains(t, out, "marked "+value+"J", "%q", row)
	}
}

func TestScoreRefuses(t *testing.T) {
	code, out, errs := ringwise("score", filepath.Join(t.TempDir(), "truth.json"))
	assert.Equal(t, failed, code)
	assert.Empty(t, out)
	assert.Contains(t, errs, "no such file")
	code, _, errs = ringwise("score", t.TempDir())
	assert.Equal(t, failed, code)
	assert.Contains(t, errs, "this is a folder: name the truth file in it")
}

func TestScore(t *testing.T) {
	folder := t.TempDir()
	write(t, filepath.Join(folder, "mat.png"), asPNG(t, plainPicture(200, 150)))
	truth := filepath.Join(folder, "truth.json")
	write(t, truth, []byte(`{"photos": [
		{"file": "mat.png", "resistors": [{"bands": ["brown", "black", "red", "gold"], "body": {"center": [100, 75], "length_px": 90}}]},
		{"file": "gone.jpg", "resistors": [{"bands": ["red", "red", "red"], "body": {"center": [100, 75], "length_px": 90}}]}]}`))

	code, out, _ := ringwise("score", truth, "--each", "--groups")
	assert.Equal(t, failed, code, "a photo is missing")
	assert.Contains(t, out, "found                 0/2")
	assert.Contains(t, out, "not opened: 1")
	assert.Contains(t, out, "no such file")

	code, out, _ = ringwise("score", "--json", truth)
	assert.Equal(t, failed, code)
	var got struct {
		Photos int
		Parts  []struct{ Photo string }
	}
	require.NoError(t, json.Unmarshal([]byte(out), &got))
	assert.Equal(t, 2, got.Photos)
	assert.Len(t, got.Parts, 2)
}

func write(t *testing.T, path string, data []byte) {
	t.Helper()
	require.NoError(t, os.WriteFile(path, data, 0o600))
}
