package score

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The parts measured are the same whatever was confirmed, and confirming none
// changes nothing.
func TestTaught(t *testing.T) {
	truth, err := LoadTruth(filepath.Join("..", "..", "..", "..", "samples", "truth.json"))
	require.NoError(t, err)
	truth.Photos = truth.Photos[:2]
	card, err := Measure(context.Background(), []Truth{truth}, nil)
	require.NoError(t, err)

	lessons := card.Taught(4)
	require.Len(t, lessons, 3)
	var plain []Labelled
	seen := map[*Photo]int{}
	for _, l := range card.Labelled {
		if l.Found {
			if seen[l.Photo]++; seen[l.Photo] > 4 {
				plain = append(plain, l)
			}
		}
	}
	for i, n := range []int{0, 3, 4} {
		assert.Equal(t, n, lessons[i].Confirmed)
		assert.Equal(t, 2, lessons[i].Batches)
		assert.Equal(t, len(plain), lessons[i].First.Total)
	}
	assert.Equal(t, tally(plain), lessons[0].Tally)

	// As one batch there is one lamp, and more is left to read.
	for i := range truth.Photos {
		truth.Photos[i].Scene["batch"] = "window"
	}
	together := card.Taught(4)
	assert.Equal(t, 1, together[0].Batches)
	assert.Equal(t, len(plain)+4, together[0].First.Total)

	var out bytes.Buffer
	PrintTaught(&out, together)
	assert.Contains(t, out.String(), "parts of 1 batch")
	out.Reset()
	PrintTaught(&out, card.Taught(100))
	assert.Contains(t, out.String(), "more than 100 parts")
}

// What is confirmed are the true colours from the strip's left end, whichever
// end is read first.
func TestConfirmedByTruth(t *testing.T) {
	truth, err := LoadTruth(filepath.Join("..", "..", "..", "..", "samples", "truth.json"))
	require.NoError(t, err)
	truth.Photos = truth.Photos[:1]
	card, err := Measure(context.Background(), []Truth{truth}, nil)
	require.NoError(t, err)
	for _, l := range card.Labelled {
		if !l.First() {
			continue
		}
		best := l.Reported.Candidates[0]
		rings := l.confirmed()
		require.Len(t, rings, len(best.Rings))
		for place, i := range best.Order {
			assert.Equal(t, best.Rings[place], rings[i].Colour, "ring %d", place+1)
			assert.InDelta(t, l.Reported.Seen.Cuts[best.Cut].Rings[i].Centre, rings[i].Centre, 0.05)
		}
	}
	card.Labelled[0].Truth.Body.Axis = nil
	assert.Nil(t, card.Labelled[0].confirmed())
}
