package bench

import (
	"context"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// eveningLamp is an invented photo of six parts under a warm lamp.
const eveningLamp = "../../../../samples/cleanout-04-evening-lamp.jpg"

// lampTray is a tray with that photo, so many times.
func lampTray(t *testing.T, times int) *tray {
	t.Helper()
	tray := newTray(t)
	require.NoError(t, tray.clear(1))
	data, err := os.ReadFile(eveningLamp)
	require.NoError(t, err)
	for range times {
		p, err := readPhoto(context.Background(), file("evening.jpg", data))
		require.NoError(t, err)
		require.Greater(t, len(p.parts), 3)
		require.NoError(t, tray.add(p))
	}
	return tray
}

func (t *tray) rankings(photo int) (list []decode.Ranking) {
	for _, p := range t.photos[photo].parts {
		list = append(list, p.found.Ranking)
	}
	return list
}

// changedFrom says for each part of a photo whether its ranking is another now.
func (t *tray) changedFrom(before []decode.Ranking, photo int) (list []bool) {
	for i, now := range t.rankings(photo) {
		list = append(list, !assert.ObjectsAreEqual(before[i], now))
	}
	return list
}

// firstReadable is a part with a value to confirm.
func (t *tray) firstReadable(photo int) *part {
	parts := t.photos[photo].parts
	return parts[slices.IndexFunc(parts, func(p *part) bool { _, ok := p.judge().reading(); return ok })]
}

// Confirming a part has the open parts of its photo weighed anew, and no other
// ones; undo takes that back.
func TestConfirmingTellsOfTheLight(t *testing.T) {
	tray := lampTray(t, 2)
	before, other := tray.rankings(0), tray.rankings(1)
	in := tray.photos[0]
	p := tray.firstReadable(0)
	last := in.parts[len(in.parts)-1]
	require.NotSame(t, p, last)
	_, _, err := tray.change(in.id, last.number, last.version, change{Do: string(noResistor)})
	require.NoError(t, err)
	versions := make([]int, len(in.parts))
	for i, q := range in.parts {
		versions[i] = q.version
	}

	_, err = tray.confirm(context.Background(), in.id, p.number, p.version)
	require.NoError(t, err)
	changed := tray.changedFrom(before, 0)
	for i, q := range in.parts {
		answered := q == p || q == last
		assert.Equal(t, !answered, changed[i], "part %d", q.number)
		assert.Equal(t, !answered || q == p, q.version > versions[i], "part %d: what was seen of it is stale", q.number)
	}
	assert.NotContains(t, tray.changedFrom(other, 1), true, "the photo of another light")

	tray.undoLast(t)
	assert.NotContains(t, tray.changedFrom(before, 0), true, "after undo")
	assert.Empty(t, p.before())
}

// What was not confirmed from its rings tells nothing of the light: parts
// answered otherwise, entered by hand, corrected or taken but left open.
func TestOnlyConfirmedPartsTellOfTheLight(t *testing.T) {
	tray := lampTray(t, 1)
	before := tray.rankings(0)
	in := tray.photos[0]
	p := tray.firstReadable(0)
	for _, c := range []change{{Do: "take", Candidate: 0}, {Do: "colour", Ring: 0, Colour: "blue"}, {Do: string(cannotTell)}} {
		_, _, err := tray.change(in.id, p.number, p.version, c)
		require.NoError(t, err)
		tray.relight(in.id)
		assert.NotContains(t, tray.changedFrom(before, 0), true, c.Do)
	}
	p.said.status = stocked // as by hand: nothing is known of its rings
	tray.relight(in.id)
	assert.NotContains(t, tray.changedFrom(before, 0), true)
}

// A candidate that the person took is not taken away by what is learnt.
func TestTakenCandidateStays(t *testing.T) {
	tray := lampTray(t, 1)
	in := tray.photos[0]
	p := tray.firstReadable(0)
	q := in.parts[slices.IndexFunc(in.parts, func(q *part) bool { return q != p && len(q.found.Candidates) > 1 })]
	_, _, err := tray.change(in.id, q.number, q.version, change{Do: "take", Candidate: 1})
	require.NoError(t, err)
	want, _ := q.judge().reading()
	version := q.version
	_, err = tray.confirm(context.Background(), in.id, p.number, p.version)
	require.NoError(t, err)
	got, _ := q.judge().reading()
	assert.Equal(t, want.Rings, got.Rings)
	assert.Equal(t, version, q.version)

	// Once let go, it is weighed anew as well.
	was := q.found.Ranking
	_, _, err = tray.change(in.id, q.number, q.version, change{Do: "afresh"})
	require.NoError(t, err)
	assert.NotEqual(t, was, q.found.Ranking)
}

// Photos of which the person says that they share a light share what is known of
// it, until that is taken back.
func TestSameLight(t *testing.T) {
	tray := lampTray(t, 3)
	other, third := tray.rankings(1), tray.rankings(2)
	p := tray.firstReadable(0)
	_, err := tray.confirm(context.Background(), tray.photos[0].id, p.number, p.version)
	require.NoError(t, err)
	assert.NotContains(t, tray.changedFrom(other, 1), true)

	require.NoError(t, tray.sameLight(tray.photos[1].id, true))
	assert.NotContains(t, tray.changedFrom(other, 1), false)
	require.NoError(t, tray.sameLight(tray.photos[2].id, true))
	assert.NotContains(t, tray.changedFrom(third, 2), false)
	require.NoError(t, tray.sameLight(tray.photos[1].id, false))
	assert.NotContains(t, tray.changedFrom(other, 1), true)
	tray.undoLast(t)
	assert.NotContains(t, tray.changedFrom(other, 1), false, "undone")

	assert.ErrorContains(t, tray.sameLight(tray.photos[0].id, true), "no photo before")
	assert.ErrorIs(t, tray.sameLight(99, true), errGone)
}

// A white spot has all open parts weighed anew; what cannot be white is refused
// in words for the person and changes nothing.
func TestWhiteSpot(t *testing.T) {
	tray := lampTray(t, 1)
	before := tray.rankings(0)
	in := tray.photos[0]
	ctx := context.Background()
	assert.ErrorContains(t, tray.white(ctx, in.id, 1.5, 0.5), "outside")
	assert.ErrorIs(t, tray.white(ctx, 99, 0.5, 0.5), errGone)
	assert.NotContains(t, tray.changedFrom(before, 0), true)

	require.NoError(t, tray.white(ctx, in.id, 0.97, 0.03))
	assert.NotContains(t, tray.changedFrom(before, 0), false)
	assert.Equal(t, 1, viewPhoto(in).Whites)
	tray.undoLast(t)
	assert.NotContains(t, tray.changedFrom(before, 0), true)
	assert.Zero(t, viewPhoto(in).Whites)
}
