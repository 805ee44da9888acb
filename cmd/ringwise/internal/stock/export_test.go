package stock

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// export is the whole stock as JSON Lines.
func export(t *testing.T, s *Store) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, s.ExportJSON(bg, &b))
	return b.String()
}

func exportCSV(t *testing.T, s *Store) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, s.ExportCSV(bg, &b))
	return b.String()
}

// oddStock has entries of every sort.
func oddStock(t *testing.T) *Store {
	t.Helper()
	s := newStock(t)
	full := fullPart(t)
	full.Note, full.Photo = "=1+1", "'-x.jpg"
	id := confirmed(t, s, full).ID
	_, err := s.Take(bg, id, 3)
	require.NoError(t, err)
	confirmed(t, s, fromRings(t, "RD RD BK YE GN RD", 2))
	confirmed(t, s, fromRings(t, "RD RD RD GD BN", 2))
	confirmed(t, s, fromRings(t, "BK", 7))
	printed := fromRings(t, "OG OG SR GD", 1)
	printed.Origin, printed.Reading.Rings = ByHand, nil
	confirmed(t, s, printed)
	return s
}

func TestExportJSONRoundTrip(t *testing.T) {
	s := oddStock(t)
	text := export(t, s)
	for line := range strings.Lines(text) {
		require.True(t, json.Valid([]byte(line)))
	}
	assert.Contains(t, text, `"ohms":0.33,"tolerance_percent":5,`)
	other := newStock(t)
	done, err := other.ImportJSON(bg, strings.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, Imported{Added: 5}, done)
	assert.Equal(t, unnumbered(text), unnumbered(export(t, other)))

	done, err = other.ImportJSON(bg, strings.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, Imported{Known: 5}, done, "a second time it adds nothing")
	parts, err := other.Parts(bg, Filter{Empty: true})
	require.NoError(t, err)
	taken := slices.IndexFunc(parts, func(p Part) bool { return p.Count == 0 })
	require.GreaterOrEqual(t, taken, 0)
	_, err = other.Put(bg, parts[taken].ID, 3)
	assert.NoError(t, err, "they were taken before the export")
	_, err = other.Undo(bg)
	require.NoError(t, err)
	_, err = other.Undo(bg)
	require.NoError(t, err)
	assert.Empty(t, counts(t, other), "an import is one step")
	sound(t, other.Path())
}

// unnumbered leaves out the numbers, which each stock gives anew.
func unnumbered(text string) []string {
	var list []string
	for line := range strings.Lines(text) {
		_, rest, _ := strings.Cut(line, `"key"`)
		list = append(list, rest)
	}
	return list
}

func TestExportCSVRoundTrip(t *testing.T) {
	s := oddStock(t)
	text := exportCSV(t, s)
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 6)
	assert.Equal(t, csvHeader, rows[0])
	for _, row := range rows[1:] {
		for i, cell := range row {
			if cell != "" && csvHeader[i] != "changes" {
				assert.NotContains(t, "=+-@", cell[:1], "a spreadsheet would reckon with %s", cell)
			}
		}
	}
	other := newStock(t)
	done, err := other.ImportCSV(bg, strings.NewReader("\ufeff"+text))
	require.NoError(t, err)
	assert.Equal(t, Imported{Added: 5}, done)
	without := func(s *Store) []record {
		parts, err := s.Parts(bg, Filter{Empty: true})
		require.NoError(t, err)
		var list []record
		for _, p := range parts {
			r := newRecord(p)
			r.Number, r.Step, r.Candidates = 0, 0, nil // not in CSV
			list = append(list, r)
		}
		return list
	}
	assert.Equal(t, without(s), without(other))
	sound(t, other.Path())
}

// Nothing enters that nobody has confirmed, and an import with a fault adds
// nothing at all.
func TestImportRefuses(t *testing.T) {
	good := export(t, oddStock(t))
	lines := strings.SplitAfter(good, "\n")
	for want, text := range map[string]string{
		"entry 6 of the import: it is no JSON":                  good + "{",
		"entry 1 of the import: it was not confirmed by anyone": `{"photo":"a.jpg","width":1600,"height":1200,"parts":[],"error":"","ohms":1}`,
		`entry 2 of the import: "glass" is no kind of resistor`: lines[0] + strings.Replace(lines[1], `"kind":"unknown"`, `"kind":"glass"`, 1),
		"do not mean":                             strings.Replace(good, `"ohms":2200,`, `"ohms":2201,`, 1),
		`entry 1 of the import: "mauve" is`:       strings.Replace(lines[0], `"green"`, `"mauve"`, 1),
		`"1e999999999" is no number`:              strings.Replace(lines[0], `"ohms":5700,`, `"ohms":1e999999999,`, 1),
		"was not confirmed by anyone: confirm it": strings.Replace(lines[0], `"confirmed":"2`, `"confirmed_at":"2`, 1),
	} {
		s := newStock(t)
		_, err := s.ImportJSON(bg, strings.NewReader(text))
		require.ErrorContains(t, err, want)
		assert.Empty(t, counts(t, s), want)
	}
	odd := oddStock(t)
	table := exportCSV(t, odd)
	first, err := odd.Part(bg, 1)
	require.NoError(t, err)
	key := first.Key
	for want, text := range map[string]string{
		"nobody has confirmed: confirm them with ringwise read --confirm": "photo,part,verdict,why,ohms,confidence,error\na.jpg,1,sure,,215,0.95,\n",
		"the table has no header":        "",
		"the table has no column key":    "count,ohms\n1,5600\n",
		"not parted by commas":           "key;count;ohms\nx;1;5600\n",
		`entry 1 of the import: "many"`:  strings.Replace(table, ",0,rings,", ",many,rings,", 1),
		"it was not confirmed by anyone": strings.Replace(table, key, "", 1),
		"is no time of confirming":       strings.Replace(table, "2026-03-01T10:00:00Z", "yesterday", 1),
		"wrong number of fields":         table + "1,2\n",
	} {
		s := newStock(t)
		_, err := s.ImportCSV(bg, strings.NewReader(text))
		require.ErrorContains(t, err, want)
		assert.Empty(t, counts(t, s), want)
	}
}

// Numbers go out as exact decimal numbers, not as the nearest fraction of two.
func TestExportIsExact(t *testing.T) {
	s := newStock(t)
	p := fromRings(t, "BN BK PK GD", 1) // 10 mΩ
	confirmed(t, s, p)
	assert.Contains(t, export(t, s), `"ohms":0.01,`)
	assert.Contains(t, exportCSV(t, s), ",0.01,5,")
}
