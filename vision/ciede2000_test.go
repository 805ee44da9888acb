package vision

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Colour differences come from go-colorful, whose Lab is on a scale of 1. The
// table's pairs are chosen to catch what implementations of CIEDE2000 get
// wrong. Source: Sharma, Wu and Dalal (2005), table 1, typed from memory; that
// the library agrees to four decimals is the second source.
func TestCIEDE2000(t *testing.T) {
	file, err := os.Open("../testdata/ciede2000_sharma.csv")
	require.NoError(t, err)
	defer file.Close()
	table := csv.NewReader(file)
	table.Comment = '#'
	rows, err := table.ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+34)
	for _, row := range rows[1:] {
		var n [7]float64
		for i, field := range row {
			n[i], err = strconv.ParseFloat(field, 64)
			require.NoError(t, err)
		}
		first := colorful.Lab(n[0]/100, n[1]/100, n[2]/100)
		second := colorful.Lab(n[3]/100, n[4]/100, n[5]/100)
		assert.InDelta(t, n[6], 100*first.DistanceCIEDE2000(second), 0.00005, "%v", row)
		assert.InDelta(t, n[6], 100*second.DistanceCIEDE2000(first), 0.00005, "turned round: %v", row)
	}
}
