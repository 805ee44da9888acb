package decode_test

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// published reads a table of testdata, without its source line, as one map
// from column name to cell for each row.
func published(t testing.TB, name string) []map[string]string {
	t.Helper()
	file, err := os.Open("../testdata/" + name)
	require.NoError(t, err)
	defer file.Close()
	table := csv.NewReader(file)
	table.Comment = '#'
	cells, err := table.ReadAll()
	require.NoError(t, err)
	var rows []map[string]string
	for _, line := range cells[1:] {
		row := map[string]string{}
		for i, cell := range line {
			row[cells[0][i]] = cell
		}
		rows = append(rows, row)
	}
	require.NotEmpty(t, rows)
	return rows
}

// row reads a row of rings from names or letters parted by spaces.
func row(t testing.TB, text string) []decode.Colour {
	t.Helper()
	var rings []decode.Colour
	for _, word := range strings.Fields(text) {
		c, err := decode.ParseColour(word)
		require.NoError(t, err)
		rings = append(rings, c)
	}
	return rings
}

func num(text string) decimal.Decimal { return decimal.RequireFromString(text) }
