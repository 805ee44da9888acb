package bench

import (
	"context"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// newTray is a tray with one drawn photo and an empty stock.
func newTray(t *testing.T) *tray {
	t.Helper()
	store, err := stock.Open(context.Background(), filepath.Join(t.TempDir(), "stock.db"))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	tray := &tray{store: store, hub: newHub(), now: time.Now, key: "test"}
	require.NoError(t, tray.add(drawnPhoto(t, "tin.jpg")))
	return tray
}

// change changes a part of the first photo in the version it has.
func (t *tray) changeNow(number int, c change) (string, int, error) {
	return t.change(1, number, t.photos[0].parts[number-1].version, c)
}

// taken is what a part is taken for, in words; empty if for nothing.
func (t *tray) taken(number int) string {
	if c, ok := t.photos[0].parts[number-1].judge().reading(); ok {
		return stock.Meaning(c.Reading)
	}
	return ""
}

func (t *tray) undoLast(test *testing.T) {
	test.Helper()
	_, err := t.undo(t.lastDeed)
	require.NoError(test, err)
	t.lastDeed = 0
	if n := len(t.done); n > 0 {
		t.lastDeed = t.done[n-1].number
	}
}

func (t *tray) redoLast(test *testing.T) {
	test.Helper()
	require.NotEmpty(test, t.undone)
	_, err := t.redo(t.undone[len(t.undone)-1].number)
	require.NoError(test, err)
	t.lastDeed = t.done[len(t.done)-1].number
}

// What was undone can be done again, in order, until something else is done:
// words about a part, a confirmation with its entry in the stock, a marked body
// and a photo.
func TestRedo(t *testing.T) {
	tray := newTray(t)
	ctx := context.Background()
	values := func() []string {
		parts, err := tray.store.Parts(ctx, stock.Filter{})
		require.NoError(t, err)
		list := []string{}
		for _, p := range parts {
			list = append(list, stock.Meaning(p.Reading))
		}
		return list
	}
	_, _, err := tray.changeNow(1, change{Do: "colour", Ring: 2, Colour: "orange"})
	require.NoError(t, err)
	_, err = tray.confirm(ctx, 1, 1, tray.photos[0].parts[0].version)
	require.NoError(t, err)
	number, err := tray.mark(ctx, 1, [2][2]float64{{0.3, 0.9}, {0.5, 0.9}})
	require.NoError(t, err)
	require.Equal(t, 6, number)
	require.NoError(t, tray.clear(1))

	for range 4 {
		tray.undoLast(t)
	}
	assert.Equal(t, "5.6 kΩ ±5 %", tray.taken(1))
	assert.Empty(t, values())
	assert.Len(t, tray.photos[0].parts, 5)
	assert.Equal(t, "part 1: ring 3 is orange", tray.session().RedoWhat)

	tray.redoLast(t)
	assert.Equal(t, "56 kΩ ±5 %", tray.taken(1))
	assert.Empty(t, values())
	tray.redoLast(t)
	assert.Equal(t, []string{"56 kΩ ±5 %"}, values())
	assert.Equal(t, stocked, tray.photos[0].parts[0].said.status)
	tray.redoLast(t)
	assert.Len(t, tray.photos[0].parts, 6)
	tray.redoLast(t)
	assert.Empty(t, tray.photos)
	_, err = tray.redo(99)
	assert.ErrorContains(t, err, "nothing to do again")

	// A second time round, and what is done again can be undone again.
	for range 4 {
		tray.undoLast(t)
	}
	tray.redoLast(t)
	tray.redoLast(t)
	tray.undoLast(t)
	assert.Empty(t, values())
	assert.Equal(t, open, tray.photos[0].parts[0].said.status)

	// Something else ends it.
	_, _, err = tray.changeNow(2, change{Do: "flip"})
	require.NoError(t, err)
	assert.Zero(t, tray.session().Redo)
}

// A body that was missed is read where a person points at its ends, goes the
// same way as the others, and is never sure.
func TestMark(t *testing.T) {
	tray := newTray(t)
	p := tray.photos[0]
	missed := p.parts[0]
	p.parts = p.parts[1:] // as if the reader had not seen it
	for i, q := range p.parts {
		q.number = i + 1
	}
	end := func(along float64) [2]float64 {
		at := missed.found.At(along, 0.5)
		return [2]float64{at.X / float64(p.width), at.Y / float64(p.height)}
	}
	number, err := tray.mark(context.Background(), 1, [2][2]float64{end(0), end(1)})
	require.NoError(t, err)
	require.Equal(t, 5, number)
	assert.Equal(t, "5.6 kΩ ±5 %", tray.taken(5)) // GN BU RD GD by IEC 60062
	assert.Equal(t, decode.Check, p.parts[4].judge().Verdict)
	middle, want := p.parts[4].found.At(0.5, 0.5), missed.found.At(0.5, 0.5)
	assert.InDelta(t, want.X, middle.X, 12)
	assert.InDelta(t, want.Y, middle.Y, 12)
	assert.NotEmpty(t, p.parts[4].strip())
	_, err = tray.confirm(context.Background(), 1, 5, 0)
	require.NoError(t, err)

	_, err = tray.mark(context.Background(), 1, [2][2]float64{{0.2, 0.2}, {1.2, 0.2}})
	assert.ErrorContains(t, err, "outside the photo")
	_, err = tray.mark(context.Background(), 7, [2][2]float64{end(0), end(1)})
	assert.Equal(t, errGone, err)
}

// What is said of a part makes another value of it, by IEC 60062, and undo takes
// each word back.
func TestChanges(t *testing.T) {
	for _, w := range []struct {
		name    string
		part    int
		changes []change
		want    string
	}{
		{"as read", 1, nil, "5.6 kΩ ±5 %"},
		{"a colour", 1, []change{{Do: "colour", Ring: 2, Colour: "orange"}}, "56 kΩ ±5 %"},
		{"a colour by letters", 1, []change{{Do: "colour", Ring: 1, Colour: "GY"}}, "5.8 kΩ ±5 %"},
		{"a colour and back", 1, []change{{Do: "colour", Ring: 2, Colour: "orange"}, {Do: "colour", Ring: 2}}, "5.6 kΩ ±5 %"},
		{"the second candidate", 2, []change{{Do: "take", Candidate: 1}}, "43 kΩ ±5 %"},
		{"the second candidate, then a colour", 2, []change{{Do: "take", Candidate: 1}, {Do: "colour", Ring: 3, Colour: "silver"}}, "43 kΩ ±10 %"},
		{"the other end", 4, []change{{Do: "flip"}}, "12 Ω ±1 %"},
		{"the other end and back", 4, []change{{Do: "flip"}, {Do: "flip"}}, "1 kΩ ±1 %"},
		{"a colour from the other end", 4, []change{{Do: "flip"}, {Do: "colour", Ring: 0, Colour: "yellow"}}, "42 Ω ±1 %"},
		{"a ring less", 3, []change{{Do: "drop", Ring: 2}}, "1 kΩ ±1 %"},
		{"a ring less, then one more", 3, []change{{Do: "drop", Ring: 2}, {Do: "add", Ring: 1}, {Do: "colour", Ring: 2, Colour: "brown"}}, "10.1 kΩ ±1 %"},
		{"no such code", 1, []change{{Do: "colour", Ring: 0, Colour: "gold"}, {Do: "colour", Ring: 1, Colour: "gold"}}, ""},
		{"an unreadable part, ring by ring", 5, []change{
			{Do: "add", Ring: -1}, {Do: "add", Ring: 0}, {Do: "add", Ring: 1}, {Do: "add", Ring: 2},
			{Do: "colour", Ring: 0, Colour: "RD"}, {Do: "colour", Ring: 1, Colour: "RD"}, {Do: "colour", Ring: 2, Colour: "BN"}, {Do: "colour", Ring: 3, Colour: "GD"},
		}, "220 Ω ±5 %"},
		{"another meaning of yellow", 1, []change{{Do: "colour", Ring: 3, Colour: "yellow"}, {Do: "mean", Sense: 1}}, "5.6 kΩ ±4 %"}, // from memory: an older use
		{"afresh", 1, []change{{Do: "colour", Ring: 2, Colour: "orange"}, {Do: "meter", Meter: "56k"}, {Do: "afresh"}}, "5.6 kΩ ±5 %"},
	} {
		t.Run(w.name, func(t *testing.T) {
			tray := newTray(t)
			before := []string{}
			for _, c := range w.changes {
				before = append(before, tray.taken(w.part))
				_, _, err := tray.changeNow(w.part, c)
				require.NoError(t, err, c.Do)
			}
			assert.Equal(t, w.want, tray.taken(w.part))
			for i := len(before) - 1; i >= 0; i-- {
				tray.undoLast(t)
				assert.Equal(t, before[i], tray.taken(w.part), "undo of %s", w.changes[i].Do)
			}
		})
	}
}

// The ring to go on with is the one that was changed, wherever it is then.
func TestRingToGoOnWith(t *testing.T) {
	tray := newTray(t)
	for _, w := range []struct {
		c    change
		ring int
	}{
		{change{Do: "move", Ring: 1, By: 0.02}, 1}, {change{Do: "add", Ring: 1}, 2}, {change{Do: "drop", Ring: 2}, 2},
		{change{Do: "drop", Ring: 3}, 2}, {change{Do: "flip", Ring: 0}, 2},
	} {
		_, ring, err := tray.changeNow(1, w.c)
		require.NoError(t, err)
		assert.Equal(t, w.ring, ring, w.c.Do)
	}
}

// A ring that is moved stays between its neighbours and on the body.
func TestMovedRing(t *testing.T) {
	tray := newTray(t)
	for range 40 {
		_, _, err := tray.changeNow(1, change{Do: "move", Ring: 1, By: 0.02})
		require.NoError(t, err)
	}
	rings := tray.photos[0].parts[0].judge().rings
	assert.Less(t, rings[1].centre, rings[2].centre)
	assert.Greater(t, rings[1].centre, rings[2].centre-0.02)
}

func TestWrongChanges(t *testing.T) {
	tray := newTray(t)
	for _, w := range []struct {
		c    change
		want string
	}{
		{change{Do: "colour", Ring: 9, Colour: "red"}, "no such ring"},
		{change{Do: "colour", Ring: -1, Colour: "red"}, "no such ring"},
		{change{Do: "colour", Ring: 0, Colour: "mauve"}, "no ring colour"},
		{change{Do: "take", Candidate: 7}, "no such candidate"},
		{change{Do: "take", Candidate: -1}, "no such candidate"},
		{change{Do: "mean", Sense: 5}, "no such meaning"},
		{change{Do: "mean", Sense: -1}, "no such meaning"},
		{change{Do: "meter", Meter: "lots"}, "cannot be read"},
		{change{Do: "facts", Facts: factsText{Kind: "rubber"}}, "no kind"},
		{change{Do: "facts", Facts: factsText{Size: "huge"}}, "no body size"},
		{change{Do: "facts", Facts: factsText{Rating: "1/0"}}, "in watts"},
		{change{Do: "facts", Facts: factsText{Rating: "1e9"}}, "in watts"},
		{change{Do: "facts", Facts: factsText{Count: -3}}, "number of parts"},
		{change{Do: "dance"}, "knows no change"},
	} {
		_, _, err := tray.changeNow(1, w.c)
		assert.ErrorContains(t, err, w.want)
	}
	for range 3 {
		_, _, err := tray.changeNow(1, change{Do: "add", Ring: 0})
		require.NoError(t, err)
	}
	_, _, err := tray.changeNow(1, change{Do: "add", Ring: 0})
	assert.ErrorContains(t, err, "drop one first")
	_, _, err = tray.change(1, 2, 99, change{Do: "flip"})
	assert.ErrorIs(t, err, errStale)
	_, _, err = tray.change(1, 99, 0, change{Do: "flip"})
	assert.ErrorIs(t, err, errNoPart)
	_, _, err = tray.change(9, 1, 0, change{Do: "flip"})
	assert.ErrorIs(t, err, errGone)
}

// A meter that shows one candidate's value brings it to the front; one that
// shows none of them is answered with what may be wrong.
func TestMeter(t *testing.T) {
	tray := newTray(t)
	assert.Equal(t, "47 kΩ ±5 %", tray.taken(2))
	_, _, err := tray.changeNow(2, change{Do: "meter", Meter: "42.80k"}) // 43 kΩ + 5 % is 45.15 kΩ, 47 kΩ - 5 % is 44.65 kΩ
	require.NoError(t, err)
	assert.Equal(t, "43 kΩ ±5 %", tray.taken(2))
	v := viewPart(tray.photos[0], tray.photos[0].parts[1])
	assert.Equal(t, "42.80k", v.Meter.Text)
	assert.True(t, v.Meter.Agrees)

	// In its circuit the same is no proof: a part of more ohms reads so with the
	// right neighbour in parallel (worked by hand: 56 kΩ with 182 kΩ).
	_, _, err = tray.changeNow(2, change{Do: "meter", Meter: "42.80k", InCircuit: true})
	require.NoError(t, err)
	v = viewPart(tray.photos[0], tray.photos[0].parts[1])
	assert.False(t, v.Meter.Agrees)
	assert.Contains(t, v.Meter.Fit, "no proof in its circuit")

	_, _, err = tray.changeNow(1, change{Do: "meter", Meter: "56k"})
	require.NoError(t, err)
	v = viewPart(tray.photos[0], tray.photos[0].parts[0])
	assert.False(t, v.Meter.Agrees)
	assert.Contains(t, v.Meter.Notes[0], "orange would agree", "GN BU OG GD is 56 kΩ (IEC 60062)")
	assert.NotEqual(t, decode.Sure.String(), v.Verdict)
	var shown []string
	for _, ring := range v.Rings {
		shown = append(shown, ring.Colour)
	}
	assert.Equal(t, []string{"green", "blue", "red", "gold"}, shown, "what the rings say stays in view, to be compared with the part")
}

// What is confirmed is in the stock with all that was said; undo takes it out.
func TestConfirm(t *testing.T) {
	tray := newTray(t)
	ctx := context.Background()
	for _, c := range []change{
		{Do: "colour", Ring: 1, Colour: "violet"}, {Do: "meter", Meter: "5.65k"},
		{Do: "facts", Facts: factsText{Kind: "metal film", Size: "0207", SizeBasis: "estimated", Rating: "1/4 W", Count: 3, Note: "from the biscuit tin"}},
	} {
		_, _, err := tray.changeNow(1, c)
		require.NoError(t, err)
	}
	version := tray.photos[0].parts[0].version
	entry, err := tray.confirm(ctx, 1, 1, version)
	require.NoError(t, err)
	_, err = tray.confirm(ctx, 1, 1, version)
	assert.ErrorIs(t, err, errStale, "a second press of the key confirms nothing twice")
	_, err = tray.confirm(ctx, 1, 1, version+1)
	assert.ErrorContains(t, err, "already")

	kept, err := tray.store.Part(ctx, entry.ID)
	require.NoError(t, err)
	assert.Equal(t, "5.7 kΩ ±5 %", stock.Meaning(kept.Reading))
	assert.Equal(t, []stock.Change{{What: "ring 2", From: "blue", To: "violet"}}, kept.Changes)
	assert.Equal(t, "5650", kept.Meter.Ohms.String())
	assert.Equal(t, stock.FromRings, kept.Origin)
	assert.Equal(t, decode.KindMetalFilm, kept.Kind)
	assert.Equal(t, []stock.Basis{stock.Said, stock.Estimated, stock.Said}, []stock.Basis{kept.KindBasis, kept.SizeBasis, kept.RatingBasis})
	assert.Equal(t, "0.25", kept.RatingWatts.Decimal.String())
	assert.Equal(t, 3, kept.Count)
	assert.Equal(t, "tin.jpg", kept.Photo)
	assert.Equal(t, 1, kept.PhotoPart)
	assert.Equal(t, "sure", kept.Verdict)
	assert.NotEmpty(t, kept.Candidates)
	crop, err := tray.store.Crop(ctx, entry.ID)
	require.NoError(t, err)
	assert.Equal(t, tray.photos[0].parts[0].strip(), crop)
	assert.Equal(t, 1, tray.session().Confirmed)

	_, _, err = tray.changeNow(1, change{Do: "flip"})
	assert.ErrorContains(t, err, "in the stock")
	tray.undoLast(t)
	all, err := tray.store.Parts(ctx, stock.Filter{Empty: true})
	require.NoError(t, err)
	assert.Empty(t, all)
	assert.Equal(t, "5.7 kΩ ±5 %", tray.taken(1))
	assert.Equal(t, open, tray.photos[0].parts[0].said.status)
	assert.Zero(t, tray.session().Confirmed)

	_, err = tray.confirm(ctx, 1, 5, 0)
	assert.ErrorContains(t, err, "no value to confirm")
}

// Undo of a confirmation leaves alone what was done to the stock since, and
// says so if it is the very entry.
func TestUndoOfConfirmation(t *testing.T) {
	tray := newTray(t)
	ctx := context.Background()
	first, err := tray.confirm(ctx, 1, 1, 0)
	require.NoError(t, err)
	_, err = tray.store.Confirm(ctx, stock.Part{Count: 1, Origin: stock.ByHand, Reading: decode.Reading{Ohms: first.Reading.Ohms}})
	require.NoError(t, err)
	tray.undoLast(t)
	all, err := tray.store.Parts(ctx, stock.Filter{})
	require.NoError(t, err)
	require.Len(t, all, 1)
	assert.Equal(t, stock.ByHand, all[0].Origin)

	second, err := tray.confirm(ctx, 1, 1, tray.photos[0].parts[0].version)
	require.NoError(t, err)
	_, err = tray.store.Take(ctx, second.ID, 1)
	require.NoError(t, err)
	_, err = tray.undo(tray.lastDeed)
	assert.ErrorContains(t, err, "changed in the stock since")
}

// When another program takes the entry out of the stock the part is open again;
// when it puts it back the part is confirmed.
func TestReconcile(t *testing.T) {
	tray := newTray(t)
	ctx := context.Background()
	_, err := tray.confirm(ctx, 1, 1, 0)
	require.NoError(t, err)
	_, err = tray.store.Undo(ctx)
	require.NoError(t, err)
	tray.reconcile(ctx)
	assert.Equal(t, open, tray.photos[0].parts[0].said.status)
	_, err = tray.store.Redo(ctx)
	require.NoError(t, err)
	tray.reconcile(ctx)
	assert.Equal(t, stocked, tray.photos[0].parts[0].said.status)
}

// Parts without rings come in by their value.
func TestByHand(t *testing.T) {
	tray := newTray(t)
	ctx := context.Background()
	for _, w := range []struct{ value, tolerance, want string }{
		{"5K6J", "", "5.6 kΩ ±5 %"}, {"0.33 Ω", "5", "0.33 Ω ±5 %"}, {"330", "J", "330 Ω ±5 %"}, {"2M2", "±10 %", "2.2 MΩ ±10 %"}, {"47k", "0,5", "47 kΩ ±0.5 %"},
		{"10", "", "10 Ω"}, {"0", "", "0 Ω link"},
	} {
		entry, err := tray.enter(ctx, byHand{Value: w.value, Tolerance: w.tolerance})
		require.NoError(t, err, w.value)
		assert.Equal(t, w.want, stock.Meaning(entry.Reading))
	}
	for _, w := range []struct{ value, tolerance, want string }{
		{"", "", "empty"}, {"lots", "", "lots"}, {"5k", "many", "is no tolerance"}, {"5k", "-3", "percent above 0"}, {"5k", "400", "up to 100"},
	} {
		_, err := tray.enter(ctx, byHand{Value: w.value, Tolerance: w.tolerance})
		assert.ErrorContains(t, err, w.want, w.value)
	}
	entry, err := tray.enter(ctx, byHand{Value: "220R", Tolerance: "5", Photo: 1, Part: 5})
	require.NoError(t, err)
	assert.Equal(t, "tin.jpg", entry.Photo)
	assert.Equal(t, stocked, tray.photos[0].parts[4].said.status)
	tray.undoLast(t)
	assert.Equal(t, open, tray.photos[0].parts[4].said.status)
}

// A value that the meter contradicts is entered only by who was told so. 4.7 kΩ
// ±5 % is 4.465 kΩ to 4.935 kΩ, worked out by hand; that composition parts rise
// far above their tolerance with age is common practice, no source.
func TestByHandAgainstMeter(t *testing.T) {
	for _, c := range []struct {
		name, meter, value, tolerance, kind string
		despite, refused                    bool
	}{
		{"within", "4.75k", "4k7", "5", "", false, false},
		{"not measured", "", "4k7", "5", "", false, false},
		{"contradicted", "162", "4k7", "5", "", false, true},
		{"all the same", "162", "4k7", "5", "", true, false},
		{"risen far", "6.00k", "4k7", "5", "", false, true},
		{"risen far, as its kind does", "6.00k", "4k7", "5", "composition", false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			tray := newTray(t)
			_, _, err := tray.changeNow(1, change{Do: "meter", Meter: c.meter})
			require.NoError(t, err)
			entry, err := tray.enter(context.Background(), byHand{Value: c.value, Tolerance: c.tolerance, Facts: factsText{Kind: c.kind}, Photo: 1, Part: 1, Version: 1, Despite: c.despite})
			if c.refused {
				require.ErrorContains(t, err, "it is said to be 4.7 kΩ ±5 %, the meter says ")
				assert.ErrorContains(t, err, "enter it all the same")
				assert.Equal(t, open, tray.photos[0].parts[0].said.status)
				assert.Empty(t, tray.photos[0].parts[0].said.facts)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, "4.7 kΩ ±5 %", stock.Meaning(entry.Reading))
		})
	}
}

// Photos come and go, and undo brings them back; the bench has bounds.
func TestPhotosOnTray(t *testing.T) {
	tray := newTray(t)
	require.NoError(t, tray.clear(1))
	assert.Empty(t, tray.photos)
	assert.ErrorIs(t, tray.clear(1), errGone)
	tray.undoLast(t)
	require.Len(t, tray.photos, 1)
	for len(tray.photos) < mostPhotos {
		require.NoError(t, tray.add(drawnPhoto(t, "more.jpg")))
	}
	assert.ErrorContains(t, tray.add(&photo{}), "parts to answer")
	tray.undoLast(t)
	assert.Len(t, tray.photos, mostPhotos-1)
	_, err := tray.undo(1)
	assert.ErrorContains(t, err, "in the meantime")
}

// A full bench makes room by clearing away what is done, and does not keep all
// of it for undo.
func TestRoomOnTray(t *testing.T) {
	tray := newTray(t)
	for range 3 * mostPhotos {
		require.NoError(t, tray.add(&photo{name: "nothing.jpg"})) // no part, nothing to answer
	}
	assert.Len(t, tray.photos, mostPhotos)
	assert.Equal(t, "tin.jpg", tray.photos[0].name, "it has parts to answer")
	kept := 0
	for _, d := range tray.done {
		if d.clears {
			kept++
		}
	}
	assert.Equal(t, mostCleared, kept)
	for len(tray.done) > 0 {
		if _, err := tray.undo(tray.done[len(tray.done)-1].number); err != nil {
			require.ErrorContains(t, err, "lie on the bench")
			break
		}
	}
}

// What is spoken is what a person would say.
func TestSpoken(t *testing.T) {
	tray := newTray(t)
	say := func(number int) string {
		p := tray.photos[0].parts[number-1]
		return spoken(p, p.judge())
	}
	assert.Equal(t, "five point six kilo-ohm, plus or minus five percent; sure", say(1))
	assert.Contains(t, say(2), "forty-seven kilo-ohm")
	assert.Contains(t, say(2), "second ring may be orange; check: not certain enough: compare the rings with the part")
	assert.Contains(t, say(4), "from the other end, twelve ohm; check: from the other end it is a code too")
	assert.Equal(t, "no reading: too small: take the photo closer", say(5))
	_, _, err := tray.changeNow(5, change{Do: "not a resistor"})
	require.NoError(t, err)
	assert.Equal(t, "not a resistor", say(5))
	_, _, err = tray.changeNow(1, change{Do: "meter", Meter: "5.6k"})
	require.NoError(t, err)
	assert.Contains(t, say(1), "by the meter within tolerance")
	assert.NotContains(t, say(1), "check")
	_, _, err = tray.changeNow(1, change{Do: "meter", Meter: "5.6k", InCircuit: true})
	require.NoError(t, err)
	assert.Contains(t, say(1), "by the meter not contradicted, but no proof in its circuit")
	_, _, err = tray.changeNow(1, change{Do: "meter", Meter: "162"})
	require.NoError(t, err)
	assert.Contains(t, say(1), "no reading to trust: rings say 5.6 kilo-ohm plus or minus 5 percent, the meter says 162 ohm")
	_, _, err = tray.changeNow(1, change{Do: "confirm"})
	assert.Error(t, err, "the meter contradicts, and nothing was taken")
	_, _, err = tray.changeNow(1, change{Do: "take", Candidate: 0})
	require.NoError(t, err)
	assert.Contains(t, say(1), "taken by you; check: rings say 5.6 kilo-ohm")
	_, _, err = tray.changeNow(3, change{Do: "facts", Facts: factsText{Kind: "fusible"}})
	require.NoError(t, err)
	assert.Contains(t, say(3), "caution: "+strings.TrimSuffix(decode.KindFusible.Caution(), "."))

	// A part that may be none at all says so, whoever took its candidate.
	part := tray.photos[0].parts[1]
	part.found.Ranking.Why = decode.NoteLookAlike
	_, _, err = tray.changeNow(2, change{Do: "take", Candidate: 0})
	require.NoError(t, err)
	assert.Contains(t, say(2), "taken by you; check: "+strings.TrimSuffix(decode.NoteLookAlike, "."))
	_, err = tray.confirm(context.Background(), 1, 2, part.version)
	require.NoError(t, err)
	assert.NotContains(t, say(2), "check")
}

// The pace is that of the last minutes: seven parts half a minute apart are two
// a minute.
func TestPace(t *testing.T) {
	now := time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)
	tray := &tray{hub: newHub(), now: func() time.Time { return now }}
	assert.Zero(t, tray.session().PerMinute)
	tray.confirmed = []confirmation{{now.Add(-time.Hour), true}}
	for i := range 7 {
		tray.confirmed = append(tray.confirmed, confirmation{now.Add(time.Duration(i-6) * 30 * time.Second), i == 0})
	}
	assert.InDelta(t, 2, tray.session().PerMinute, 1e-9)
	assert.Equal(t, 8, tray.session().Confirmed)
	assert.Equal(t, 2, tray.session().Corrected)
}

// What is done to an entry of the stock on the page is undone there; what
// changes nothing leaves nothing to undo.
func TestChangeEntry(t *testing.T) {
	tray := newTray(t)
	ctx := context.Background()
	entry, err := tray.confirm(ctx, 1, 1, 0)
	require.NoError(t, err)
	now := func() stock.Part {
		p, err := tray.store.Part(ctx, entry.ID)
		require.NoError(t, err)
		return p
	}
	change := func(c entryChange) (string, error) {
		c.Step = now().Step
		return tray.changeEntry(ctx, entry.ID, c)
	}
	_, err = change(entryChange{Do: "facts", Facts: factsText{Count: 5}})
	require.NoError(t, err)
	_, err = change(entryChange{Do: "take", Count: 3})
	require.NoError(t, err)
	_, err = change(entryChange{Do: "put", Count: 1})
	require.NoError(t, err)
	assert.Equal(t, 3, now().Count)
	_, err = change(entryChange{Do: "facts", Facts: factsText{Kind: "metal film", Count: 3}})
	require.NoError(t, err)
	assert.Equal(t, decode.KindMetalFilm, now().Kind)
	deeds := len(tray.done)
	what, err := change(entryChange{Do: "facts", Facts: viewEntry(now()).Form})
	require.NoError(t, err)
	assert.Equal(t, "nothing changed", what)
	assert.Len(t, tray.done, deeds)

	_, err = change(entryChange{Do: "take", Count: 9})
	assert.ErrorContains(t, err, "cannot be taken")
	_, err = change(entryChange{Do: "put", Count: 3})
	assert.ErrorContains(t, err, "never had more than 5")
	_, err = change(entryChange{Do: "melt"})
	assert.ErrorContains(t, err, "no such change")
	_, err = tray.changeEntry(ctx, entry.ID, entryChange{Do: "put", Count: 1, Step: 77})
	assert.ErrorIs(t, err, errStale)
	_, err = tray.changeEntry(ctx, 99, entryChange{Do: "put", Count: 1})
	assert.ErrorContains(t, err, "no entry #99")

	_, err = change(entryChange{Do: "remove"})
	require.NoError(t, err)
	assert.Equal(t, open, tray.photos[0].parts[0].said.status, "the part on the photo is open again")
	tray.undoLast(t)
	assert.Equal(t, stocked, tray.photos[0].parts[0].said.status)
	for range 4 {
		tray.undoLast(t)
	}
	assert.Equal(t, 1, now().Count)
	assert.Equal(t, decode.KindUnknown, now().Kind)
}
