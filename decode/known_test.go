package decode_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// knownRow is the rings of a cut as a person leaves them: the colours at the
// given indices are fixed.
func knownRow(c decode.Cut, fixed map[int]decode.Colour) []decode.KnownRing {
	var out []decode.KnownRing
	for i, r := range c.Rings {
		colour, sure := fixed[i]
		out = append(out, decode.KnownRing{Centre: r.Centre, Width: r.Width, Colour: colour, Sure: sure})
	}
	return out
}

func rankKnown(t testing.TB, s decode.Sighting, k decode.Known) decode.Ranking {
	t.Helper()
	r, bound := decode.RankKnown(s, k)
	sound(t, bound, r)
	return r
}

// A row that reads well both ways is read from the end that the person names
// (IEC 60062: brown black red gold is 1 kΩ ±5 %; gold cannot stand first).
func TestKnownEnd(t *testing.T) {
	s := seen(cut(t, "BN BK RD BN", fourPlaces)) // 1 kΩ ±1 %, or 12 Ω ±1 % backwards
	assert.Equal(t, row(t, "BN BK RD BN"), rankKnown(t, s, decode.Known{From: decode.LeftEnd}).Candidates[0].Rings)
	flipped := rankKnown(t, s, decode.Known{From: decode.RightEnd})
	for _, c := range flipped.Candidates {
		assert.Equal(t, []int{3, 2, 1, 0}, c.Order)
	}
	assert.Equal(t, row(t, "BN RD BK BN"), flipped.Candidates[0].Rings)
	assert.NotContains(t, flipped.Why, "other end")

	gold := rankKnown(t, seen(cut(t, "BN BK RD GD", fourPlaces)), decode.Known{From: decode.LeftEnd})
	assert.Equal(t, row(t, "BN BK RD GD"), gold.Candidates[0].Rings)
}

// What is said of one ring leaves the others to what was seen.
func TestKnownColour(t *testing.T) {
	c := cut(t, "YE VT RD GD", fourPlaces)
	s := seen(c)
	r := rankKnown(t, s, decode.Known{Rings: knownRow(c, map[int]decode.Colour{2: decode.Orange})})
	assert.Equal(t, row(t, "YE VT OG GD"), r.Candidates[0].Rings)
	for _, candidate := range r.Candidates {
		assert.Equal(t, decode.Orange, candidate.Rings[candidate.Order[2]])
	}

	all := map[int]decode.Colour{0: decode.Red, 1: decode.Red, 2: decode.Red, 3: decode.Gold}
	s.Handicap, s.Doubt = []string{"few pixels"}, 0.3
	r = rankKnown(t, s, decode.Known{Rings: knownRow(c, all), From: decode.LeftEnd})
	require.Len(t, r.Candidates, 1)
	assert.Equal(t, row(t, "RD RD RD GD"), r.Candidates[0].Rings)
	assert.InDelta(t, 1, r.Candidates[0].Confidence, 1e-9, "the person saw them all")
	assert.NotContains(t, r.Why, "few pixels")
}

// Rings can be dropped, added and moved; a ring that was not seen may have any
// colour that makes a code.
func TestKnownPlaces(t *testing.T) {
	five := cut(t, "YE VT BK RD BN", fivePlaces)
	rings := knownRow(five, nil)
	dropped := append(rings[:2:2], rings[3:]...)
	r := rankKnown(t, seen(five), decode.Known{Rings: dropped, From: decode.LeftEnd})
	assert.Equal(t, row(t, "YE VT RD BN"), r.Candidates[0].Rings)

	three := cut(t, "YE VT RD", threePlaces)
	added := append(knownRow(three, nil), decode.KnownRing{Centre: 0.8, Width: 0.06})
	r = rankKnown(t, seen(three), decode.Known{Rings: added, From: decode.LeftEnd})
	assert.Equal(t, row(t, "YE VT RD GD"), r.Candidates[0].Rings, "gold is the commonest tolerance of four rings (common practice, no source)")
	added[3] = decode.KnownRing{Centre: 0.8, Width: 0.06, Colour: decode.Silver, Sure: true}
	r = rankKnown(t, seen(three), decode.Known{Rings: added, From: decode.LeftEnd})
	assert.Equal(t, row(t, "YE VT RD SR"), r.Candidates[0].Rings)
}

// A body of which nothing was seen can be told ring by ring.
func TestKnownWithoutSight(t *testing.T) {
	var rings []decode.KnownRing
	for i, c := range row(t, "GN BU RD GD") {
		rings = append(rings, decode.KnownRing{Centre: fourPlaces[i], Colour: c, Sure: true})
	}
	r := rankKnown(t, decode.Sighting{Fault: "no rings found"}, decode.Known{Rings: rings})
	assert.Equal(t, row(t, "GN BU RD GD"), r.Candidates[0].Rings)
}

// A row without meaning says which ring cannot stand where.
func TestKnownNonsense(t *testing.T) {
	known := func(colours string, places []float64) []decode.KnownRing {
		var out []decode.KnownRing
		for i, c := range row(t, colours) {
			out = append(out, decode.KnownRing{Centre: places[i], Width: 0.06, Colour: c, Sure: true})
		}
		return out
	}
	for _, w := range []struct {
		rings []decode.KnownRing
		from  decode.End
		want  string
	}{
		{known("GD BN RD GD", fourPlaces), decode.LeftEnd, "ring 1 cannot be gold"},
		{known("GD RD BN BN", fourPlaces), decode.LeftEnd, "other end"},
		{known("BN RD BN GD", fourPlaces), decode.RightEnd, "ring 1 cannot be gold"},
		{known("BN RD", []float64{0.2, 0.4}), decode.EitherEnd, "2 rings have no meaning"},
		{[]decode.KnownRing{}, decode.EitherEnd, "0 rings have no meaning"},
		{known("RD", []float64{0.5}), decode.EitherEnd, "zero-ohm link"},
	} {
		r, _ := decode.RankKnown(seen(cut(t, "YE VT RD GD", fourPlaces)), decode.Known{Rings: w.rings, From: w.from})
		assert.Empty(t, r.Candidates)
		assert.Equal(t, decode.Unreadable, r.Verdict)
		assert.Contains(t, r.Why, w.want)
	}
}
