package picksheet

import (
	"context"
	"encoding/xml"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
	"ringwise/decode/network"
)

// sheet writes the pick sheet of a list with a small stock (invented data).
func sheet(t *testing.T, list string) string {
	t.Helper()
	lines, err := network.ParseList(list)
	require.NoError(t, err)
	part := func(id, text string, count int) network.Part {
		v, err := network.ParseValue(text)
		require.NoError(t, err)
		return network.Part{ID: id, Where: "#" + id, Value: v, Kind: decode.KindMetalFilm, RatedWatts: 0.25, Count: count}
	}
	coil := part("9", "820 ±5 %", 1)
	coil.Kind = decode.KindWireWound
	p, err := network.PlanProject(context.Background(), lines, []network.Part{part("1", "5K6 ±5 %", 2), part("2", "1K0 ±1 %", 3), coil})
	require.NoError(t, err)
	var b strings.Builder
	require.NoError(t, Write(&b, "receiver <1>", time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), p))
	return b.String()
}

const list = "reference,value,tolerance,power,quantity,kind\nR1,5k6,5,1/4,2,ordinary\nR2,1k5,5,1/4,1,ordinary\n<script>alert(1)</script>,820,5,1/4,1,ordinary\n"

func TestSheetSaysWhatToPick(t *testing.T) {
	page := sheet(t, list)
	for _, want := range []string{
		"2026-03-01. 4 places: 3 have parts, 0 of them only if what is said holds; 1 missing.",
		"GN BU RD GD", "green, blue, red, gold", "5K6J", "#1", "five point six kilo-ohm, plus or minus five percent",
		"joined: 1 kΩ in series with (1 kΩ in parallel with 1 kΩ), makes 1.5 kΩ",
		"to buy: 820 Ω ±5 %", "not 820 Ω ±5 % from #9: it is no ordinary part", "Caution:",
	} {
		assert.Contains(t, page, want)
	}
}

// A page may break between any two rows, so each names its place; what joined
// parts make is as exact as on the terminal.
func TestEveryRowNamesItsPlace(t *testing.T) {
	page := sheet(t, "reference,value,tolerance,power,quantity,kind\nR7,850,10,1/4,1,ordinary\n,6k6,10,1/4,1,ordinary\n")
	var places []string
	for _, cell := range strings.Split(page, `<th scope="row">`)[1:] {
		place, _, _ := strings.Cut(cell, "</th>")
		places = append(places, place)
	}
	assert.Equal(t, []string{"R7<br>1 × 850 Ω ±10 %, 0.25 W", "R7", "1 × 6.6 kΩ ±10 %, 0.25 W", "1 × 6.6 kΩ ±10 %, 0.25 W"}, places)
	assert.Contains(t, page, "makes 848.5 Ω")
}

// Text of the list is shown, never run.
func TestSheetEscapes(t *testing.T) {
	page := sheet(t, list)
	assert.NotContains(t, page, "<script")
	assert.Contains(t, page, "&lt;script&gt;")
	assert.Contains(t, page, "receiver &lt;1&gt;")
}

// Every table cell is opened and closed in its place, and every line of the
// table has a heading for screen readers.
func TestSheetIsWellFormed(t *testing.T) {
	page := sheet(t, list)
	body := page[strings.Index(page, "<table>"):strings.Index(page, "</body>")]
	decoder := xml.NewDecoder(strings.NewReader("<div>" + strings.ReplaceAll(body, "<br>", "") + "</div>"))
	headings := 0
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		if start, ok := token.(xml.StartElement); ok && start.Name.Local == "th" {
			headings++
		}
	}
	assert.Equal(t, 7+3, headings, "of columns and of lines")
}
