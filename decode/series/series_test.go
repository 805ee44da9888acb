package series_test

import (
	"encoding/csv"
	"math/big"
	"os"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode/series"
)

// published reads a table of IEC 60063 without its source and header lines.
func published(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("../../testdata/" + name)
	require.NoError(t, err)
	defer file.Close()
	table := csv.NewReader(file)
	table.Comment = '#'
	rows, err := table.ReadAll()
	require.NoError(t, err)
	return rows[1:]
}

func texts(e series.E) []string {
	var list []string
	for _, v := range series.Values(e) {
		list = append(list, v.StringFixed(int32(e.Digits()-1)))
	}
	return list
}

// Source: IEC 60063:2015, tables for E3 to E24, from memory.
func TestTwoDigitSeriesAreThePublishedOnes(t *testing.T) {
	want := map[string][]string{}
	for _, row := range published(t, "iec60063_e24.csv") {
		want[row[0]] = append(want[row[0]], row[1])
	}
	require.Len(t, want, 4)
	for _, e := range []series.E{series.E3, series.E6, series.E12, series.E24} {
		assert.Equal(t, want[e.String()], texts(e), e)
	}
}

// Source: IEC 60063:2015, tables for E48 to E192, from memory.
func TestThreeDigitSeriesAreThePublishedOnes(t *testing.T) {
	for e, name := range map[series.E]string{
		series.E48: "iec60063_e48.csv", series.E96: "iec60063_e96.csv", series.E192: "iec60063_e192.csv",
	} {
		var want []string
		for _, row := range published(t, name) {
			want = append(want, row[0])
		}
		assert.Equal(t, want, texts(e), e)
		assert.Len(t, want, int(e))
	}
}

// Second source: IEC 60063 defines the values as 10^(i/n) rounded to three
// digits, but for 9.20. The check is exact, in whole numbers: v is the
// rounded i-th power if (v-1/2)^n <= 100^n 10^i < (v+1/2)^n.
func TestPublishedTablesFollowTheFormula(t *testing.T) {
	power := func(base int64, n int) *big.Int {
		return new(big.Int).Exp(big.NewInt(base), big.NewInt(int64(n)), nil)
	}
	for n, name := range map[int]string{48: "iec60063_e48.csv", 96: "iec60063_e96.csv", 192: "iec60063_e192.csv"} {
		var exceptions []string
		for i, row := range published(t, name) {
			v := decimal.RequireFromString(row[0]).Shift(2).IntPart()
			exact := new(big.Int).Mul(power(200, n), power(10, i))
			low, high := power(2*v-1, n), power(2*v+1, n)
			// The i-th number is 100*10^(i/n), so its n-th power has 10^i.
			if low.Cmp(exact) > 0 || exact.Cmp(high) >= 0 {
				exceptions = append(exceptions, row[0])
			}
		}
		if n == 192 {
			assert.Equal(t, []string{"9.20"}, exceptions)
		} else {
			assert.Empty(t, exceptions, name)
		}
	}
}

// Source: IEC 60063, the series of each group are nested.
func TestSeriesAreNested(t *testing.T) {
	for _, chain := range [][]series.E{
		{series.E3, series.E6, series.E12, series.E24}, {series.E48, series.E96, series.E192},
	} {
		for i := 1; i < len(chain); i++ {
			assert.Subset(t, series.Significands(chain[i]), series.Significands(chain[i-1]))
		}
	}
}

func TestLowest(t *testing.T) {
	for _, tt := range []struct {
		significand int
		want        series.E
	}{
		{100, series.E3}, {470, series.E3}, {330, series.E6}, {560, series.E12}, {240, series.E24},
		{475, series.E96}, {487, series.E48}, {920, series.E192}, {988, series.E192},
		{919, 0}, {460, 0}, {999, 0}, {99, 0}, {1000, 0}, {-470, 0}, {0, 0},
	} {
		e, ok := series.Lowest(tt.significand)
		assert.Equal(t, tt.want, e, tt.significand)
		assert.Equal(t, tt.want != 0, ok, tt.significand)
	}
	assert.Zero(t, testing.AllocsPerRun(100, func() { series.Lowest(475) }))
}

func TestSignificandsAreTheCallersOwn(t *testing.T) {
	series.Significands(series.E3)[0] = 999
	assert.Equal(t, []int{100, 220, 470}, series.Significands(series.E3))
	assert.Nil(t, series.Significands(series.E(7)))
	assert.Nil(t, series.Values(series.E(7)))
}

func TestContains(t *testing.T) {
	for _, tt := range []struct {
		e     series.E
		value string
		want  bool
	}{
		{series.E24, "5600", true}, {series.E24, "0.56", true}, {series.E24, "5.60", true},
		{series.E24, "1", true}, {series.E24, "1000000", true}, {series.E24, "5601", false},
		{series.E24, "487", false}, {series.E96, "487", true}, {series.E96, "0.0487", true},
		{series.E96, "560", false}, {series.E192, "92e-1", true}, {series.E192, "919", false},
		{series.E24, "0", false}, {series.E24, "-10", false}, {series.E(7), "10", false},
		{series.E24, "100000000000000000000000000000000000001", false},
	} {
		value := decimal.RequireFromString(tt.value)
		assert.Equal(t, tt.want, series.Contains(tt.e, value), "%s %s", tt.e, tt.value)
	}
	assert.True(t, series.Contains(series.E24, decimal.New(56, 2000000000)), "far decades cost nothing")
}

// Worked by hand from the published tables.
func TestNearestAndNeighbours(t *testing.T) {
	for _, tt := range []struct {
		e                            series.E
		value, below, above, nearest string
	}{
		{series.E24, "5000", "4700", "5100", "5100"},
		{series.E12, "5000", "4700", "5600", "4700"},
		{series.E24, "5600", "5600", "5600", "5600"},
		{series.E24, "95", "91", "100", "91"},
		{series.E24, "0.096", "0.091", "0.1", "0.1"},
		{series.E3, "9.99", "4.7", "10", "10"},
		{series.E24, "10.5", "10", "11", "11"}, // halfway
		{series.E96, "1000.1", "1000", "1020", "1000"},
		{series.E96, "4990.000001", "4990", "5110", "4990"},
		{series.E192, "9999999", "9880000", "10000000", "10000000"},
		{series.E6, "3", "2.2", "3.3", "3.3"},
		{series.E6, "0.00000000033", "0.00000000033", "0.00000000033", "0.00000000033"},
	} {
		below, above, err := series.Neighbours(tt.e, decimal.RequireFromString(tt.value))
		require.NoError(t, err)
		nearest, err := series.Nearest(tt.e, decimal.RequireFromString(tt.value))
		require.NoError(t, err)
		assert.Equal(t, []string{tt.below, tt.above, tt.nearest},
			[]string{below.String(), above.String(), nearest.String()}, "%s %s", tt.e, tt.value)
	}
}

func TestNearestRefuses(t *testing.T) {
	for name, tt := range map[string]struct {
		e     series.E
		value decimal.Decimal
		says  string
	}{
		"zero":      {series.E24, decimal.Zero, "not above zero"},
		"negative":  {series.E24, decimal.New(-1, 0), "not above zero"},
		"no series": {series.E(25), decimal.New(1, 0), "E25 is no series"},
		"absurd":    {series.E24, decimal.New(12345, 2147483647), "beyond reach"},
	} {
		_, err := series.Nearest(tt.e, tt.value)
		assert.ErrorContains(t, err, tt.says, name)
	}
}

func TestNamesBothWays(t *testing.T) {
	for _, e := range series.All {
		got, err := series.Parse(e.String())
		require.NoError(t, err)
		assert.Equal(t, e, got)
	}
	e, err := series.Parse("e96")
	require.NoError(t, err)
	assert.Equal(t, series.E96, e)
	for _, name := range []string{"", "E", "E25", "24", "E024", "EE24"} {
		_, err := series.Parse(name)
		assert.ErrorContains(t, err, "use one of E3", name)
	}
}

// Source: IEC 60063, the tolerance that goes with each series.
func TestTolerances(t *testing.T) {
	for e, want := range map[series.E]string{
		series.E6: "20", series.E12: "10", series.E24: "5", series.E48: "2", series.E96: "1", series.E192: "0.5",
		series.E(7): "0",
	} {
		assert.Equal(t, want, e.TolerancePercent().String(), e)
	}
	assert.True(t, series.E3.TolerancePercent().GreaterThan(decimal.New(20, 0)))
	assert.Equal(t, 0, series.E(7).Digits())
}
