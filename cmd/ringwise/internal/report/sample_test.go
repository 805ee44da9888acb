package report

import (
	"testing"

	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

// reading is the n-th meaning of a row of rings.
func reading(t *testing.T, n int, letters ...string) decode.Reading {
	t.Helper()
	var rings []decode.Colour
	for _, l := range letters {
		c, err := decode.ParseColour(l)
		require.NoError(t, err)
		rings = append(rings, c)
	}
	readings, err := decode.Readings(rings)
	require.NoError(t, err)
	return readings[n]
}

// bench is a made-up photo from a radio-repair club's clean-out.
func bench(t *testing.T) photoread.Result {
	sure := photoread.Part{
		Part: vision.Part{Outline: [4]vision.Point{{X: 10.04, Y: 20}, {X: 110, Y: 20.26}, {X: 110, Y: 60}, {X: 10, Y: 60}}},
		Ranking: decode.Ranking{Verdict: decode.Sure, Candidates: []decode.Candidate{
			{Reading: reading(t, 0, "GN", "BU", "RD", "GD"), Confidence: 0.97123}}},
	}
	check := photoread.Part{Ranking: decode.Ranking{Verdict: decode.Check, Why: "blurred: hold the camera still",
		Candidates: []decode.Candidate{
			{Reading: reading(t, 0, "BN", "RD", "BN", "YE"), Confidence: 0.6},
			{Reading: reading(t, 0, "YE", "BN", "RD", "BN"), Confidence: 0.3}}}}
	six := photoread.Part{Ranking: decode.Ranking{Verdict: decode.Sure, Candidates: []decode.Candidate{
		{Reading: reading(t, 0, "YE", "WH", "WH", "BN", "BN", "RD"), Confidence: 0.9999}}}}
	gone := photoread.Part{Ranking: decode.Ranking{Verdict: decode.Unreadable, Why: "too small: go closer"}}
	return photoread.Result{Name: "bench.jpg", Width: 800, Height: 600, Parts: []photoread.Part{sure, check, six, gone}}
}
