package stock

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two windows on one file: each sees what the other does.
func TestTwoWindows(t *testing.T) {
	s := newStock(t)
	other := openStock(t, s.Path())
	before, err := other.Revision(bg)
	require.NoError(t, err)
	confirmed(t, s, fromRings(t, "BN BK RD GD", 2))
	after, err := other.Revision(bg)
	require.NoError(t, err)
	assert.Greater(t, after, before)
	assert.Equal(t, []string{"1: 2 × 1 kΩ ±5 %"}, counts(t, other))
	_, err = other.Undo(bg)
	require.NoError(t, err)
	last, err := s.Revision(bg)
	require.NoError(t, err)
	assert.Greater(t, last, after, "undoing is a change")
	_, err = s.Take(bg, 1, 1)
	assert.ErrorContains(t, err, "no entry #1")
	again, err := s.Revision(bg)
	require.NoError(t, err)
	assert.Equal(t, last, again, "what was refused is none")
}

func TestWatch(t *testing.T) {
	s := newStock(t)
	other := openStock(t, s.Path())
	ctx, stop := context.WithCancel(bg)
	changes := s.Watch(ctx, 5*time.Millisecond)
	confirmed(t, other, fromRings(t, "BN BK RD GD", 2))
	select {
	case number := <-changes:
		now, err := s.Revision(bg)
		require.NoError(t, err)
		assert.Equal(t, now, number)
	case <-time.After(5 * time.Second):
		t.Fatal("the change was not seen")
	}
	stop()
	_, open := <-changes
	assert.False(t, open)
}
