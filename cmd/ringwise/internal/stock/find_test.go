package stock

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// clubStock is invented: a few parts of a radio club.
func clubStock(t *testing.T) *Store {
	t.Helper()
	s := newStock(t)
	for _, p := range []struct {
		rings string
		count int
	}{{"YE VT RD GD", 4}, {"YE VT RD SR", 2}, {"YE VT BK BN BN", 5}, {"BN BK RD GD", 1}, {"YE VT RD GD", 3}, {"OG OG SR GD", 1}, {"BK", 2}} {
		confirmed(t, s, fromRings(t, p.rings, p.count))
	}
	printed := Part{Count: 1, Origin: ByHand, Reading: decode.Reading{Ohms: decimal.New(4700, 0)}}
	confirmed(t, s, printed)
	wound := fromRings(t, "YE VT RD GD", 1)
	wound.Kind, wound.KindBasis = decode.KindWireWound, Said
	confirmed(t, s, wound)
	return s
}

func TestBins(t *testing.T) {
	bins, err := clubStock(t).Bins(bg)
	require.NoError(t, err)
	var got []string
	for _, b := range bins {
		got = append(got, Meaning(b.Reading)+" "+decode.RowLetters(b.Reading.Rings)+" "+string(rune('0'+b.Count)))
	}
	// YE VT BK BN BN is 470 · 10 = 4.7 kΩ as well, ±1 %.
	assert.Equal(t, []string{"0 Ω link BK 2", "0.33 Ω ±5 % OG OG SR GD 1", "1 kΩ ±5 % BN BK RD GD 1", "4.7 kΩ ±1 % YE VT BK BN BN 5",
		"4.7 kΩ ±5 % YE VT RD GD 8", "4.7 kΩ ±10 % YE VT RD SR 2", "4.7 kΩ  1"}, got)
	assert.Len(t, bins[4].Entries, 3)
}

func TestFilter(t *testing.T) {
	s := clubStock(t)
	_, err := s.Take(bg, 3, 5)
	require.NoError(t, err)
	number := func(text string) decimal.NullDecimal { return decimal.NewNullDecimal(decimal.RequireFromString(text)) }
	for _, c := range []struct {
		filter Filter
		want   []int64
	}{
		{Filter{Ohms: number("4700")}, []int64{1, 5, 9, 2, 8}},
		{Filter{Ohms: number("4700.00"), Empty: true}, []int64{3, 1, 5, 9, 2, 8}},
		{Filter{Ohms: number("4700"), TolerancePercent: number("5")}, []int64{1, 5, 9}},
		{Filter{Kind: decode.KindWireWound}, []int64{9}},
		{Filter{Low: number("0.3"), High: number("1000")}, []int64{6, 4}},
		{Filter{High: number("1"), TolerancePercent: number("1")}, []int64{7}},
	} {
		parts, err := s.Parts(bg, c.filter)
		require.NoError(t, err)
		var got []int64
		for _, p := range parts {
			got = append(got, p.ID)
		}
		assert.Equal(t, c.want, got, "%+v", c.filter)
	}
	_, err = s.Part(bg, 99)
	assert.ErrorContains(t, err, "no entry #99")
	crop, err := s.Crop(bg, 1)
	require.NoError(t, err)
	assert.Nil(t, crop)
}

func TestSummary(t *testing.T) {
	s := newStock(t)
	old := fromRings(t, "BN BK RD GD", 5)
	old.Confirmed = time.Date(2026, 2, 1, 0, 0, 0, 0, time.UTC)
	confirmed(t, s, old)
	corrected := fullPart(t)
	corrected.Verdict = "sure"
	id := confirmed(t, s, corrected).ID
	asOffered := fromRings(t, "GN BU RD GD", 2)
	asOffered.Candidates, asOffered.Confirmed = fullPart(t).Candidates, corrected.Confirmed
	asOffered.Verdict = "sure"
	confirmed(t, s, asOffered)
	confirmed(t, s, Part{Count: 1, Origin: ByHand, Reading: decode.Reading{Ohms: decimal.New(1, 3)}, Confirmed: corrected.Confirmed})
	_, err := s.Take(bg, id, 3)
	require.NoError(t, err)

	since := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	got, err := s.Summary(bg, since)
	require.NoError(t, err)
	assert.Equal(t, Summary{Since: since, Entries: 3, Parts: 3, Values: 3, AsOffered: 1, Corrected: 1, ByHand: 1, Measured: 1,
		SureButWrong: 1, TotalEntries: 3, TotalParts: 8, TotalValues: 3}, got)
}

func TestParseSize(t *testing.T) {
	for text, want := range map[string]Size{
		"0207": "0207", "": "", "6.3 x 2.3": "6.3 × 2.3 mm", "6,3×2,50 mm": "6.3 × 2.5 mm", "11mm": "11 mm", "0.9 x 0.50": "0.9 × 0.5 mm",
	} {
		got, err := ParseSize(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got)
		again, err := ParseSize(string(got))
		require.NoError(t, err, text)
		assert.Equal(t, got, again)
	}
	for _, text := range []string{"0208", "large", "0", "0.0", "6.3 x", "-3", "1e3"} {
		_, err := ParseSize(text)
		assert.ErrorContains(t, err, "is no body size", text)
	}
}
