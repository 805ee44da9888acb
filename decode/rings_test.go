package decode_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

func letters(rows [][]decode.Colour) []string {
	var list []string
	for _, rings := range rows {
		var words []string
		for _, c := range rings {
			words = append(words, c.Letters())
		}
		list = append(list, strings.Join(words, " "))
	}
	return list
}

func ppm(value int) *int { return &value }

// The source of each example stands beside it in the table.
func TestRingsWritesTheWorkedExamples(t *testing.T) {
	for _, example := range published(t, "ring_examples.csv") {
		var options decode.RingOptions
		readings, err := decode.Readings(row(t, example["rings"]))
		require.NoError(t, err)
		options.TempcoPPM = readings[0].TempcoPPM
		tolerance := decimal.Zero
		if example["tolerance_percent"] != "" {
			tolerance = num(example["tolerance_percent"])
		}
		rows, err := decode.Rings(num(example["ohms"]), tolerance, options)
		require.NoError(t, err, example["rings"])
		assert.Equal(t, row(t, example["rings"]), rows[0], example["rings"])
	}
}

// Worked by hand from IEC 60062:2016 (from memory); which count is usual for
// which tolerance is common practice, no source.
func TestRingsOffersTheUsualRowFirst(t *testing.T) {
	for _, tt := range []struct {
		ohms, tolerance string
		options         decode.RingOptions
		want            []string
	}{
		{"5600", "5", decode.RingOptions{}, []string{"GN BU RD GD", "GN BU BK BN GD"}},
		{"5600", "10", decode.RingOptions{}, []string{"GN BU RD SR", "GN BU BK BN SR"}},
		{"5600", "20", decode.RingOptions{}, []string{"GN BU RD"}},
		{"5600", "1", decode.RingOptions{}, []string{"GN BU BK BN BN", "GN BU RD BN"}},
		{"5600", "0.05", decode.RingOptions{}, []string{"GN BU BK BN OG"}},
		{"5600", "0.02", decode.RingOptions{}, []string{"GN BU BK BN YE"}},
		{"5620", "5", decode.RingOptions{}, []string{"GN BU RD BN GD"}},
		{"1", "5", decode.RingOptions{}, []string{"BN BK GD GD", "BN BK BK SR GD"}},
		{"0.047", "1", decode.RingOptions{}, []string{"YE VT PK BN"}},
		{"0.01", "20", decode.RingOptions{}, []string{"BN BK PK"}},
		{"999000000000", "5", decode.RingOptions{}, []string{"WH WH WH WH GD"}},
		{"5600", "1", decode.RingOptions{TempcoPPM: ppm(50)}, []string{"GN BU BK BN BN RD"}},
		{"5600", "5", decode.RingOptions{TempcoPPM: ppm(250)}, []string{"GN BU BK BN GD BK"}},
		{"5600", "5", decode.RingOptions{FailureRate: decimal.NewNullDecimal(num("0.001"))}, []string{"GN BU RD GD YE"}},
		{"5600", "5", decode.RingOptions{HighVoltage: true}, []string{"GN BU RD YE"}},
		{"5600", "10", decode.RingOptions{HighVoltage: true}, []string{"GN BU RD GY"}},
		{"0", "7", decode.RingOptions{}, []string{"BK"}},
	} {
		rows, err := decode.Rings(num(tt.ohms), num(tt.tolerance), tt.options)
		require.NoError(t, err, tt.ohms)
		assert.Equal(t, tt.want, letters(rows), "%s ±%s", tt.ohms, tt.tolerance)
	}
	rows, err := decode.Rings(decimal.New(0, 2000000000), num("1"), decode.RingOptions{})
	require.NoError(t, err)
	assert.Equal(t, []string{"BK"}, letters(rows), "zero with an absurd exponent")
}

func TestRingsRefuses(t *testing.T) {
	huge := decimal.New(1, 2000000000)
	for _, tt := range []struct {
		ohms, tolerance decimal.Decimal
		options         decode.RingOptions
		says            string
	}{
		{num("-1"), num("5"), decode.RingOptions{}, "not negative"},
		{huge, num("5"), decode.RingOptions{}, "1E2000000000 ohms is out of range"},
		{num("10"), huge, decode.RingOptions{}, "no ring stands for a tolerance of 1E2000000000 %"},
		{num("5610"), num("20"), decode.RingOptions{}, "5.61 kΩ has 3 figures, and 3 rings write 2: the nearest is 5.6 kΩ"},
		{num("12345"), num("1"), decode.RingOptions{}, "12.345 kΩ has 5 figures, and 5 rings write 3: the nearest is 12.3 kΩ"},
		{num("0.009"), num("20"), decode.RingOptions{}, "9 mΩ is out of range: 3 rings write 10 mΩ to 99 GΩ"},
		{num("0.099"), num("1"), decode.RingOptions{TempcoPPM: ppm(50)}, "99 mΩ is out of range: 6 rings write 0.1 Ω to 999 GΩ"},
		{num("1e12"), num("5"), decode.RingOptions{}, "1 TΩ is out of range"},
		{num("0.047"), num("0.05"), decode.RingOptions{}, "with 4 rings ±0.05 % would be taken for another tolerance"},
		{num("10"), num("7"), decode.RingOptions{}, "no ring stands for ±7 %: rings stand for 0.01, 0.02, 0.05, 0.1, 0.25, 0.5, 1, 2, 5, 10, and none for 20"},
		{num("10"), num("0.005"), decode.RingOptions{}, "no ring stands for ±0.005 %, only the letter E"},
		{num("10"), num("3"), decode.RingOptions{}, "no ring stands for ±3 %, only the letter H"},
		{num("10"), num("30"), decode.RingOptions{}, "no ring stands for ±30 %, only the letter N"},
		{num("10"), num("-5"), decode.RingOptions{}, "no ring stands for ±-5 %"},
		{num("10"), num("20"), decode.RingOptions{TempcoPPM: ppm(50)}, "no ring stands for ±20 %: "},
		{num("10"), num("1"), decode.RingOptions{TempcoPPM: ppm(30)}, "no ring stands for 30 ppm/K: rings stand for 1, 5, 10, 15, 20, 25, 50, 100, 250"},
		{num("10"), num("1"), decode.RingOptions{FailureRate: decimal.NewNullDecimal(num("2"))}, "no ring stands for that failure rate"},
		{num("10"), num("1"), decode.RingOptions{FailureRate: decimal.NewNullDecimal(huge)}, "no ring stands for that failure rate"},
		{num("10"), num("0.1"), decode.RingOptions{FailureRate: decimal.NewNullDecimal(num("1"))}, "with a failure-rate ring the tolerance is 1, 2, 5 or 10 %, not 0.1 %"},
		{num("10"), num("1"), decode.RingOptions{HighVoltage: true}, "±5 % and ±10 % only"},
		{num("10"), num("5"), decode.RingOptions{HighVoltage: true, TempcoPPM: ppm(50)}, "ask for one"},
	} {
		rows, err := decode.Rings(tt.ohms, tt.tolerance, tt.options)
		assert.Nil(t, rows)
		assert.ErrorContains(t, err, tt.says)
	}
}

// Every meaning of every row of three to five rings is written again as that
// row, but for the meanings Rings does not offer: other senses of a tolerance
// ring than the most usual.
func TestRingsUndoesReadings(t *testing.T) {
	counts := map[int]int{}
	for count := 3; count <= 5; count++ {
		for rings := range rows(count) {
			readings, err := decode.Readings(rings)
			if err != nil {
				continue
			}
			for i, r := range readings {
				options := decode.RingOptions{FailureRate: r.FailureRate, HighVoltage: len(r.Cautions) > 0}
				if i > 0 && count == 4 || oldGrey(r) || count == 4 && rings[3] == decode.Orange {
					continue
				}
				got, err := decode.Rings(r.Ohms, r.TolerancePercent.Decimal, options)
				if err != nil || !slices.ContainsFunc(got, func(row []decode.Colour) bool { return slices.Equal(row, rings) }) {
					t.Fatalf("%v, read as %s, is written as %v, %v", rings, brief(r), letters(got), err)
				}
				counts[count]++
			}
		}
	}
	// 9 leading digits, 10 digits, 13 multipliers, 10 tolerances; on four
	// rings all tolerances but orange; on five 4 tolerances and 4 failure
	// rates besides.
	assert.Equal(t, map[int]int{
		3: 9 * 10 * 13,
		4: 9 * 10 * 13 * 9,
		5: 9*10*10*13*10 + 9*10*13*4*4,
	}, counts)
}

// oldGrey reports whether grey is read in its meaning before 2016.
func oldGrey(r decode.Reading) bool {
	return len(r.Rings) > 4 && r.Rings[4] == decode.Grey && r.TolerancePercent.Decimal.Equal(num("0.05"))
}

// Every value of two or three digits, tolerance and coefficient that has a
// row is read back from each row offered; the first meaning is the one asked,
// but for five rings, which can be taken for a four-ring code with a failure
// rate.
func TestReadingsUndoesRings(t *testing.T) {
	checked := 0
	for significand := int64(10); significand < 1000; significand++ {
		for _, exponent := range []int32{-4, -3, 0, 5, 9} {
			for _, tolerance := range []string{"20", "10", "5", "2", "1", "0.5", "0.25", "0.1", "0.05", "0.02", "0.01"} {
				ohms := decimal.New(significand, exponent)
				rows, err := decode.Rings(ohms, num(tolerance), decode.RingOptions{})
				if err != nil {
					continue
				}
				for _, rings := range rows {
					readings, err := decode.Readings(rings)
					require.NoError(t, err)
					at := slices.IndexFunc(readings, func(r decode.Reading) bool {
						return r.Ohms.Equal(ohms) && r.TolerancePercent.Decimal.Equal(num(tolerance))
					})
					require.GreaterOrEqual(t, at, 0, "%v", rings)
					if len(rings) != 5 {
						require.Zero(t, at, "%v", rings)
					}
					checked++
				}
			}
		}
	}
	assert.Greater(t, checked, 40000)
}

func TestSixRingsBothWays(t *testing.T) {
	for _, coefficient := range []int{250, 100, 50, 15, 25, 20, 10, 5, 1} {
		for _, tolerance := range []string{"10", "5", "2", "1", "0.5", "0.25", "0.1", "0.05", "0.02", "0.01"} {
			rows, err := decode.Rings(num("32.4"), num(tolerance), decode.RingOptions{TempcoPPM: &coefficient})
			require.NoError(t, err)
			require.Len(t, rows, 1)
			readings, err := decode.Readings(rows[0])
			require.NoError(t, err)
			assert.Equal(t, decode.Reading{Rings: rows[0], Ohms: readings[0].Ohms, TempcoPPM: &coefficient,
				TolerancePercent: decimal.NewNullDecimal(readings[0].TolerancePercent.Decimal)}, readings[0])
			assert.Equal(t, "32.4", readings[0].Ohms.String())
			assert.Equal(t, tolerance, readings[0].TolerancePercent.Decimal.String())
		}
	}
}
