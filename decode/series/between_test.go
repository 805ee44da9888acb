package series_test

import (
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode/series"
)

// Source: IEC 60063:2015, tables, from memory.
func TestBetween(t *testing.T) {
	for _, tt := range []struct {
		e         series.E
		low, high string
		want      []string
	}{
		{series.E6, "4.7", "33", []string{"4.7", "6.8", "10", "15", "22", "33"}},
		{series.E3, "0.11", "10", []string{"0.22", "0.47", "1", "2.2", "4.7", "10"}},
		{series.E96, "9.76", "1.02e1", []string{"9.76", "10", "10.2"}},
		{series.E12, "100", "100", []string{"100"}},
		{series.E12, "101", "119", nil},
	} {
		values, err := series.Between(tt.e, decimal.RequireFromString(tt.low), decimal.RequireFromString(tt.high))
		require.NoError(t, err)
		var got []string
		for _, v := range values {
			got = append(got, v.String())
		}
		assert.Equal(t, tt.want, got, "%s", tt.e)
	}
	values, err := series.Between(series.E24, decimal.New(1, 0), decimal.New(1, 7))
	require.NoError(t, err)
	assert.Len(t, values, 7*24+1)
}

func TestBetweenRefuses(t *testing.T) {
	one := decimal.New(1, 0)
	for says, ask := range map[string]func() error{
		"first":           func() error { _, err := series.Between(series.E24, decimal.New(2, 0), one); return err },
		"not above zero":  func() error { _, err := series.Between(series.E24, decimal.Zero, one); return err },
		"E7 is no series": func() error { _, err := series.Between(series.E(7), one, one); return err },
		"more than 4000":  func() error { _, err := series.Between(series.E192, one, decimal.New(1, 30)); return err },
	} {
		assert.ErrorContains(t, ask(), says)
	}
}

// Absurd exponents must neither fill the memory nor take time.
func TestBetweenAbsurdExponents(t *testing.T) {
	one, huge, tiny := decimal.New(1, 0), decimal.New(1, 2147483000), decimal.New(1, -2147483000)
	for _, tt := range []struct {
		low, high decimal.Decimal
		says      string
	}{
		{one, huge, "more than 4000"},
		{tiny, one, "more than 4000"},
		{tiny, huge, "more than 4000"},
		{huge, one, "first"},
		{one, tiny, "first"},
		{one, tiny.Neg(), "first"},
		{one, huge.Neg(), "first"},
		{one, decimal.New(12345, 2147483647), "beyond reach"},
	} {
		_, err := series.Between(series.E24, tt.low, tt.high)
		assert.ErrorContains(t, err, tt.says)
	}
	values, err := series.Between(series.E3, huge, decimal.New(10, 2147483000))
	require.NoError(t, err)
	assert.Len(t, values, 4)
}

// Worked by hand from the published tables of IEC 60063.
func TestChoices(t *testing.T) {
	choices, err := series.Choices(decimal.New(5, 3))
	require.NoError(t, err)
	var got [][2]string
	for _, c := range choices {
		got = append(got, [2]string{c.Nearest.String(), c.ErrorPercent.String()})
	}
	assert.Equal(t, [][2]string{{"4700", "-6"}, {"4700", "-6"}, {"4700", "-6"}, {"5100", "2"}, {"5110", "2.2"}, {"4990", "-0.2"}, {"4990", "-0.2"}}, got)
	_, err = series.Choices(decimal.Zero)
	assert.ErrorContains(t, err, "not above zero")
}
