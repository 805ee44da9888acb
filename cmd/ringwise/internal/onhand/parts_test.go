package onhand

import (
	"context"
	"path/filepath"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

var bg = context.Background()

// entry is a part of the stock, entered by hand (invented data).
func entry(ohms, tolerance int64, count int) stock.Part {
	return stock.Part{Origin: stock.ByHand, Count: count, KindBasis: stock.Unknown, SizeBasis: stock.Unknown, RatingBasis: stock.Unknown,
		Reading: decode.Reading{Ohms: decimal.New(ohms, 0), TolerancePercent: decimal.NewNullDecimal(decimal.New(tolerance, 0))}}
}

// filled opens a new stock with such entries.
func filled(t *testing.T, entries ...stock.Part) *stock.Store {
	t.Helper()
	s, err := stock.Open(bg, filepath.Join(t.TempDir(), "stock.db"))
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	for _, e := range entries {
		_, err := s.Confirm(bg, e)
		require.NoError(t, err)
	}
	return s
}

func TestOpenMakesNoStock(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stock.db")
	_, err := Open(bg, path)
	assert.ErrorIs(t, err, ErrNoStock)
	assert.ErrorContains(t, err, path)
	assert.NoFileExists(t, path)
}

// What is known only by estimate must not be taken for known.
func TestFromStockKeepsDoubt(t *testing.T) {
	plain := FromStock(entry(5600, 5, 3))
	assert.Equal(t, []any{"5.6 kΩ ±5 %", 3, decode.KindUnknown, 0.0, false}, []any{plain.Value.String(), plain.Count, plain.Kind, plain.RatedWatts, plain.RatingEstimated})

	said := entry(5600, 5, 1)
	said.Kind, said.KindBasis = decode.KindMetalFilm, stock.Said
	said.RatingWatts, said.RatingBasis = decimal.NewNullDecimal(decimal.New(25, -2)), stock.Said
	p := FromStock(said)
	assert.Equal(t, []any{decode.KindMetalFilm, 0.25, false}, []any{p.Kind, p.RatedWatts, p.RatingEstimated})

	said.KindBasis, said.RatingBasis = stock.Estimated, stock.Estimated
	p = FromStock(said)
	assert.Equal(t, []any{decode.KindUnknown, 0.25, true}, []any{p.Kind, p.RatedWatts, p.RatingEstimated})

	said.Kind = decode.KindFusible
	assert.Equal(t, decode.KindFusible, FromStock(said).Kind, "better refused than used")

	high := entry(1e6, 5, 1)
	high.Reading.Cautions = []string{decode.CautionHighVoltage}
	assert.Equal(t, decode.KindHighVoltage, FromStock(high).Kind)

	sized := entry(5600, 5, 1)
	sized.Size, sized.SizeBasis = "0207", stock.Said
	p = FromStock(sized)
	assert.Equal(t, []any{0.25, true, 250.0}, []any{p.RatedWatts, p.RatingEstimated, p.LimitVolts})
	sized.SizeBasis = stock.Estimated
	assert.Zero(t, FromStock(sized).LimitVolts, "not relied on")
}

// A reading counts for a single part, out of its circuit.
func TestFromStockMeasured(t *testing.T) {
	e := entry(5600, 20, 1)
	e.Meter = &decode.Measurement{Ohms: decimal.New(5500, 0), AccuracyPercent: decimal.New(1, 0), AccuracyOhms: decimal.New(5, 0)}
	p := FromStock(e)
	require.NotNil(t, p.Measured)
	assert.Equal(t, "5.44 kΩ to 5.56 kΩ", p.Measured.Low.String()+" to "+p.Measured.High.String())
	e.Count = 2
	assert.Nil(t, FromStock(e).Measured)
	e.Count, e.Meter.InCircuit = 1, true
	assert.Nil(t, FromStock(e).Measured)
}

func TestSize(t *testing.T) {
	for text, want := range map[string]string{"0411": "0411", "6.3 x 2.3": "0207", "6.3 mm": "0207", "": "", "90 mm": ""} {
		parsed, err := stock.ParseSize(text)
		require.NoError(t, err)
		size, ok := Size(parsed)
		assert.Equal(t, want, size.Name, text)
		assert.Equal(t, want != "", ok, text)
	}
}

func TestTakeIsAllOrNothing(t *testing.T) {
	s := filled(t, entry(100, 5, 3), entry(220, 5, 1))
	parts, err := Parts(bg, s)
	require.NoError(t, err)
	require.Len(t, parts, 2)
	counts := func() []int {
		now, err := s.Parts(bg, stock.Filter{Empty: true})
		require.NoError(t, err)
		return []int{now[0].Count, now[1].Count}
	}
	_, err = Take(bg, s, "", []network.Taking{{Part: parts[0], Count: 2}, {Part: parts[1], Count: 2}})
	assert.ErrorContains(t, err, "nothing was taken")
	assert.Equal(t, []int{3, 1}, counts())

	number, err := Take(bg, s, "project receiver", []network.Taking{{Part: parts[0], Count: 2}, {Part: parts[1], Count: 1}})
	require.NoError(t, err)
	assert.Equal(t, []int{1, 0}, counts())
	step, err := s.Undo(bg)
	require.NoError(t, err)
	assert.Equal(t, number, step.ID)
	assert.Equal(t, "took 3 parts for project receiver: 2 of #1, 1 of #2", step.What)
	assert.Equal(t, []int{3, 1}, counts(), "one undo puts all back")
	_, err = s.Redo(bg)
	require.NoError(t, err)
	assert.Equal(t, []int{1, 0}, counts(), "and one redo takes them again")

	_, err = s.Confirm(bg, entry(330, 5, 1))
	require.NoError(t, err)
	require.NoError(t, PutBack(bg, s, number, []network.Taking{{Part: parts[0], Count: 2}, {Part: parts[1], Count: 1}}))
	assert.Equal(t, []int{3, 1}, counts(), "put back though something was done since")

	_, err = Take(bg, s, "", []network.Taking{{Part: parts[0], Count: 1}, {Part: parts[0], Count: 1}})
	assert.ErrorContains(t, err, "named twice")
	assert.Equal(t, []int{3, 1}, counts())
	_, err = Take(bg, s, "", []network.Taking{{Part: network.Part{ID: "E24"}, Count: 1}})
	assert.ErrorContains(t, err, "nothing was taken")
}
