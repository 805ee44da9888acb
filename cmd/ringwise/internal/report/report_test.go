package report

import (
	"bytes"
	"encoding/csv"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/ruler"
	"ringwise/decode"
)

func TestMeaning(t *testing.T) {
	assert.Equal(t, "5.6 kΩ ±5 %", Meaning(reading(t, 0, "GN", "BU", "RD", "GD")))
	assert.Equal(t, "4.99 kΩ ±1 %, 50 ppm/K", Meaning(reading(t, 0, "YE", "WH", "WH", "BN", "BN", "RD")))
	assert.Equal(t, "10 Ω ±2 %, 1 %/1000 h", Meaning(reading(t, 1, "BN", "BK", "BK", "RD", "BN")))
	assert.Equal(t, "0 Ω link", Meaning(reading(t, 0, "BK")))
}

func TestTable(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, NewTable(&out).Write(bench(t)))
	assert.Equal(t, strings.Join([]string{
		"bench.jpg: 4 parts",
		"  1  sure        5.6 kΩ ±5 %             5K6   GN BU RD GD        97 %",
		"  2  check       120 Ω ±5 %              120R  BN RD BN YE        60 %  blurred: hold the camera still; " +
			"or 4.1 kΩ ±1 % (YE BN RD BN) 30 %; " +
			"note: Yellow read in place of gold, ±5 %, as on high-voltage parts; " +
			"CAUTION: This may be a high-voltage part: replace it only with one rated for the voltage",
		"  3  sure        4.99 kΩ ±1 %, 50 ppm/K  4K99  YE WH WH BN BN RD  99 %",
		"  4  unreadable  too small: go closer",
		"",
	}, "\n"), out.String())
}

// A file's name neither steers the terminal nor makes lines of its own.
func TestName(t *testing.T) {
	assert.Equal(t, "a?[31m?.jpg", Name("a\x1b[31m\xff.jpg"))
	assert.Equal(t, "Küche 2.jpg", Name("Küche 2.jpg"))
	var out bytes.Buffer
	require.NoError(t, NewTable(&out).Write(photoread.Result{Name: "mat.jpg: 1 part\n  1  sure.jpg"}))
	assert.Equal(t, "mat.jpg: 1 part?  1  sure.jpg: no parts found\n", out.String())
}

func TestTableOnANarrowTerminal(t *testing.T) {
	var out bytes.Buffer
	table := Table{w: &out, ink: paint.Ink{}, width: 115}
	require.NoError(t, table.Write(bench(t)))
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	assert.Greater(t, len(lines), 6)
	for _, line := range lines {
		assert.LessOrEqual(t, len([]rune(line)), 115)
	}
	before, _, _ := strings.Cut(lines[2], "blurred")
	hang := strings.Repeat(" ", len([]rune(before)))
	assert.True(t, strings.HasPrefix(lines[3], hang) && !strings.HasPrefix(lines[3], hang+" "), "wrapped under the remark")
}

// On 80 columns no sensible room is left beside the parts.
func TestTableOnAVeryNarrowTerminal(t *testing.T) {
	var out bytes.Buffer
	table := Table{w: &out, ink: paint.Ink{}, width: 80}
	require.NoError(t, table.Write(bench(t)))
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	for _, line := range lines {
		assert.LessOrEqual(t, len([]rune(line)), 80)
	}
	assert.True(t, strings.HasSuffix(lines[2], "60 %"), lines[2])
	assert.True(t, strings.HasPrefix(lines[3], "     blurred: hold the camera still; or 4.1 kΩ"), lines[3])
	assert.Contains(t, lines, "  3  sure        4.99 kΩ ±1 %, 50 ppm/K  4K99  YE WH WH BN BN RD  99 %")
}

// What is said as the reason is not said again as a note.
func TestTableSaysNothingTwice(t *testing.T) {
	result := bench(t)
	result.Parts = result.Parts[:1]
	part := &result.Parts[0]
	part.Verdict, part.Why = decode.Check, decode.NoteLookAlike
	part.Candidates[0].Notes = []string{decode.NoteLookAlike}
	var out bytes.Buffer
	require.NoError(t, NewTable(&out).Write(result))
	assert.True(t, strings.HasSuffix(out.String(), "97 %  This could be a choke or another part: measure it\n"), out.String())
}

func TestTableOfNothing(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, NewTable(&out).Write(photoread.Result{Name: "mat.jpg"}))
	require.NoError(t, NewTable(&out).Write(photoread.Result{Name: "gone.jpg", Err: errors.New("no such file")}))
	assert.Equal(t, "mat.jpg: no parts found\n", out.String())
}

// The line is the one that the format of the command promises.
func TestWriteJSON(t *testing.T) {
	result := bench(t)
	result.Parts = result.Parts[:1]
	var out bytes.Buffer
	require.NoError(t, WriteJSON(&out, result))
	assert.Equal(t, 1, strings.Count(out.String(), "\n"))
	assert.JSONEq(t, `{"photo":"bench.jpg","width":800,"height":600,"parts":[
		{"outline":[[10,20],[110,20.3],[110,60],[10,60]],"verdict":"sure","why":"","readings":[
			{"bands":["green","blue","red","gold"],"ohms":5600,"tolerance_percent":5,"tempco_ppm":null,
			 "failure_rate_percent_per_1000h":null,"rkm":"5K6","confidence":0.9712,"notes":[],"cautions":[]}]}],
		"error":""}`, out.String())
}

func TestWriteJSONOfFailures(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, WriteJSON(&out, photoread.Result{Name: "<&>.jpg", Err: errors.New("no such file")}))
	assert.Equal(t, `{"photo":"<&>.jpg","width":0,"height":0,"parts":[],"error":"no such file"}`+"\n", out.String())

	out.Reset()
	require.NoError(t, WriteJSON(&out, photoread.Result{Name: "a.jpg", Parts: bench(t).Parts[3:]}))
	assert.Contains(t, out.String(), `"verdict":"unreadable","why":"too small: go closer","readings":[]`)
}

func TestWriteJSONGivesEveryRing(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, WriteJSON(&out, bench(t)))
	assert.Contains(t, out.String(), `"tolerance_percent":1,"tempco_ppm":50,`)
	link := bench(t)
	link.Parts = link.Parts[:1]
	link.Parts[0].Candidates[0].Reading = reading(t, 0, "BK")
	out.Reset()
	require.NoError(t, WriteJSON(&out, link))
	assert.Contains(t, out.String(), `"ohms":0,"tolerance_percent":null`)
}

// A spreadsheet does not reckon with a photo's name.
func TestCSVGuardsNames(t *testing.T) {
	var out bytes.Buffer
	table, err := NewCSV(&out)
	require.NoError(t, err)
	result := bench(t)
	result.Name = "=1.jpg"
	require.NoError(t, table.Write(result))
	require.NoError(t, table.Write(photoread.Result{Name: "-2.jpg", Err: errors.New("no such file")}))
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "'=1.jpg", rows[1][0])
	assert.Equal(t, "'-2.jpg", rows[len(rows)-1][0])
}

func TestCSV(t *testing.T) {
	var out bytes.Buffer
	table, err := NewCSV(&out)
	require.NoError(t, err)
	require.NoError(t, table.Write(bench(t)))
	require.NoError(t, table.Write(photoread.Result{Name: "gone, again.jpg", Err: errors.New("no such file")}))

	rows, err := csv.NewReader(&out).ReadAll() // it refuses rows of unequal length
	require.NoError(t, err)
	require.Len(t, rows, 6)
	assert.Equal(t, csvHeader, rows[0])
	assert.Equal(t, []string{"bench.jpg", "1", "sure", "", "5600", "5", "", "", "5K6", "GN BU RD GD", "0.9712", "", "", "", "", "", ""}, rows[1])
	assert.Equal(t, "50", rows[3][6])
	assert.Equal(t, []string{"bench.jpg", "4", "unreadable", "too small: go closer", "", "", "", "", "", "", "", "", "", "", "", "", ""}, rows[4])
	assert.Equal(t, "gone, again.jpg", rows[5][0])
	assert.Equal(t, "no such file", rows[5][13])
}

// With a scale every form of the report tells the size of bodies, marked as
// estimated, and without one none does.
func TestSizesByScale(t *testing.T) {
	result := bench(t)
	var plain, table, lines, rows bytes.Buffer
	require.NoError(t, NewTable(&plain).Write(result))
	assert.NotContains(t, plain.String(), "estimated")
	result.Scale = 20
	result.Parts[0].Body = ruler.Body{LengthMM: 6.3, DiameterMM: 2.3}
	require.NoError(t, NewTable(&table).Write(result))
	assert.Contains(t, table.String(), "body 6.3 × 2.3 mm, estimated; such bodies (size 0207) are sold at 0.25 W to 0.6 W: count on 0.25 W")
	assert.Contains(t, table.String(), ruler.Caveat)
	require.NoError(t, WriteJSON(&lines, result))
	assert.Contains(t, lines.String(), `"px_per_mm":20,`)
	assert.Contains(t, lines.String(), `"body":{"length_mm":6.3,"diameter_mm":2.3,"basis":"estimated","size":"0207","sold_watts":[0.25,0.6],"rating_watts":0.25,`)
	assert.Equal(t, 1, strings.Count(lines.String(), `"body":`), "only of the part that was measured")
	c, err := NewCSV(&rows)
	require.NoError(t, err)
	require.NoError(t, c.Write(result))
	assert.Contains(t, rows.String(), ",6.3,2.3,0.25\n")
}

func TestWrap(t *testing.T) {
	assert.Equal(t, []string{"one two three four five", "six"}, wrap("one two three four five six", 24))
	assert.Equal(t, []string{"one two three four five six"}, wrap("one two three four five six", 10), "no sensible room")
	assert.Equal(t, []string{""}, wrap("", 40))
}

func TestPercentNeverPromises(t *testing.T) {
	assert.Equal(t, "99 %", percent(0.99999))
	assert.Equal(t, "97 %", percent(0.97))
	assert.Equal(t, "0 %", percent(0.004))
}
