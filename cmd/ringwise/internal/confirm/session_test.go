package confirm

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

// drawn is a part whose rings lie where four, or five, usually lie on a body,
// from the left. Each ring is given by its letters, and after a slash another
// colour that it looks like, almost as much.
func drawn(t *testing.T, key, rings string) Part {
	t.Helper()
	fields := strings.Fields(rings)
	places := map[int][]float64{4: {0.14, 0.29, 0.44, 0.8}, 5: {0.12, 0.25, 0.38, 0.51, 0.82}}[len(fields)]
	require.NotNil(t, places)
	seen := decode.Sighting{Body: decode.BodyTan}
	if len(fields) == 5 {
		seen.Body = decode.BodyBlue
	}
	cut := decode.Cut{}
	for i, field := range fields {
		r := decode.SeenRing{Centre: places[i], Width: 0.06}
		for c := range r.LogLikelihood {
			r.LogLikelihood[c] = -14
		}
		for k, word := range strings.Split(field, "/") {
			c, err := decode.ParseColour(word)
			require.NoError(t, err)
			r.LogLikelihood[c] = -float64(k)
		}
		cut.Rings = append(cut.Rings, r)
	}
	seen.Cuts = []decode.Cut{cut}
	return Part{Key: key, Photo: "biscuit-tin.jpg", Seen: seen, Ranking: decode.Rank(seen)}
}

// A run is a session that a person has gone through.
type run struct {
	out   string
	said  []string
	tally Tally
	err   error
	store *stock.Store
}

// entries are the stock's entries in a line each.
func (r run) entries(t *testing.T) []string {
	t.Helper()
	parts, err := r.store.Parts(context.Background(), stock.Filter{Empty: true})
	require.NoError(t, err)
	list := []string{}
	for _, p := range parts {
		list = append(list, fmt.Sprintf("%d × %s %s", p.Count, stock.Meaning(p.Reading), p.Origin))
	}
	return list
}

func newStore(t *testing.T) *stock.Store {
	t.Helper()
	store, err := stock.Open(context.Background(), filepath.Join(t.TempDir(), "stock.db"))
	require.NoError(t, err)
	t.Cleanup(func() { store.Close() })
	return store
}

// goThrough has a person give the answers, a line each, to the parts.
func goThrough(t *testing.T, answers string, parts ...Part) run {
	t.Helper()
	return goThroughWith(t, newStore(t), strings.NewReader(answers), parts...)
}

func goThroughWith(t *testing.T, store *stock.Store, in io.Reader, parts ...Part) run {
	t.Helper()
	for i := range parts {
		parts[i].Number, parts[i].Of = i+1, len(parts)
	}
	var out bytes.Buffer
	r := run{store: store}
	s := Session{Store: store, In: in, Out: &out, Say: func(text string) { r.said = append(r.said, text) }}
	r.tally, r.err = s.Run(context.Background(), once(Photo{"biscuit-tin.jpg", parts}))
	r.out = out.String()
	return r
}

// once gives one photo.
func once(photo Photo) func() (Photo, bool) {
	given := false
	return func() (Photo, bool) {
		if given {
			return Photo{}, false
		}
		given = true
		return photo, true
	}
}

func TestConfirm(t *testing.T) {
	r := goThrough(t, "\n\n", drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK BK RD BN"))
	require.NoError(t, r.err)
	assert.Equal(t, Tally{Confirmed: 2}, r.tally)
	assert.Equal(t, []string{"1 × 5.6 kΩ ±5 % rings", "1 × 10 kΩ ±1 % rings"}, r.entries(t))
	assert.Contains(t, r.out, "biscuit-tin.jpg: 2 parts\nEnter confirms what is said of a part; ? tells what else can be answered\npart 1 of 2: five point six kilo-ohm, plus or minus five percent; sure\nrings: green, blue, red, gold\n")
	assert.Contains(t, r.out, "> confirmed as entry 1: five point six kilo-ohm, plus or minus five percent\npart 2 of 2: ten kilo-ohm, plus or minus one percent")
	assert.Contains(t, r.out, "2 parts answered: 2 confirmed\nCAUTION: ")

	p, err := r.store.Part(context.Background(), 1)
	require.NoError(t, err)
	assert.Equal(t, "a", p.Key)
	assert.Equal(t, "biscuit-tin.jpg", p.Photo)
	assert.Equal(t, 1, p.PhotoPart)
	assert.Equal(t, "sure", p.Verdict)
	assert.NotEmpty(t, p.Candidates)
	assert.Empty(t, p.Changes)
}

// doubtful is a part of which the second ring may be blue or violet.
func doubtful(t *testing.T) Part {
	t.Helper()
	p := drawn(t, "a", "GN BU/VT RD GD")
	p.Seen.Cuts[0].Rings[1].LogLikelihood[decode.Violet] = 3
	p.Ranking = decode.Rank(p.Seen)
	return p
}

func TestDoubtsAreNamed(t *testing.T) {
	r := goThrough(t, "quit\n", doubtful(t))
	assert.Regexp(t, `part 1 of 1: five point six kilo-ohm, plus or minus five percent; (likely|fairly sure); second ring may be violet\n`, r.out)
	assert.Contains(t, r.out, "\n1: five point six kilo-ohm, plus or minus five percent: green, blue, red, gold; ")
	assert.Regexp(t, `\n2: .*: green, violet, red, gold; \d+ percent\n`, r.out)
}

// The photo is sure of its own first reading and of no other: of what a person
// took or set it never says so.
func TestSureOfItsOwnReadingAlone(t *testing.T) {
	for _, c := range []struct{ rings, answer, want string }{
		{"GN BU RD GD", "1", "five point six kilo-ohm, plus or minus five percent; taken by you\n"},
		{"GN BU RD GD", "2", "five hundred and sixty ohm, plus or minus five percent; taken by you; third ring may be red\n"},
		{"GN BU RD GD", "2 GY", "five point eight kilo-ohm, plus or minus five percent; with what you said\n"},
		{"BN BK BK RD RD", "flip", "two hundred and twenty ohm, plus or minus one percent; with what you said\n"},
	} {
		r := goThrough(t, c.answer+"\n", drawn(t, "a", c.rings))
		_, after, _ := strings.Cut(r.out, "> ")
		assert.Contains(t, after, c.want)
		assert.NotRegexp(t, `\bsure\b`, after, c.answer)
	}
}

// What can hurt where one measures is said once, before anything else of the
// first measuring, and before the answers that there are.
func TestWarnsBeforeMeasuring(t *testing.T) {
	warning := "> CAUTION: before you measure: " + network.CautionMains + "\nCAUTION: before you measure: " + network.CautionCharge + "\n"
	for answers, then := range map[string]string{
		"m 5.58k|m 5.6k": "part 1 of 2: five point six kilo-ohm",
		"m 2.2k in||m 1": "part 1 of 2: five point six kilo-ohm",
		"meter|m 5.6k":   "name what the meter shows",
		"?|m 5.6k":       "Enter: confirm what was said",
	} {
		r := goThrough(t, strings.ReplaceAll(answers, "|", "\n")+"\nquit\n", drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD GD"))
		assert.Contains(t, r.out, warning+then, answers)
		assert.Equal(t, 1, strings.Count(r.out, network.CautionCharge+"\n")-min(1, r.tally.Confirmed), "%s: once, and once more at the end", answers)
	}
	assert.NotContains(t, goThrough(t, "2 VT\nquit\n", drawn(t, "a", "GN BU RD GD")).out, "CAUTION")
}

// Each answer, and what then comes into the stock when Enter confirms it.
func TestAnswers(t *testing.T) {
	for _, c := range []struct {
		rings, answers string
		want           string // the entry
		says           string // in what is written
	}{
		{"GN BU/VT RD GD", "2", "1 × 5.7 kΩ ±5 % rings", "part 1 of 1: five point seven kilo-ohm"},
		{"GN BU/BK RD GD", "2 GY", "1 × 5.8 kΩ ±5 % rings", "five point eight kilo-ohm"},
		{"GN BU RD GD", "1 red 2 RD", "1 × 2.2 kΩ ±5 % rings", ""},
		{"GN BU RD GD", "rings YE VT OG GD", "1 × 47 kΩ ±5 % rings", "forty-seven kilo-ohm, plus or minus five percent; as you said"},
		{"GN BU RD GD", "rings YE VT OG GD|3 RD", "1 × 4.7 kΩ ±5 % rings", ""},
		{"GN BU RD GD", "rings GD OG VT GD", "1 × 5.6 kΩ ±5 % rings", "ring 1 cannot be gold"},
		{"GN BU RD GD", "rings GD OG VT YE", "1 × 47 kΩ ±5 % rings", "forty-seven kilo-ohm, plus or minus five percent; as you said\nread from the other end: from the end that you named first the row has no meaning\nrings: yellow, violet, orange, gold\n"},
		{"GN BU RD GD", "rings GD OG VT YE|3 RD", "1 × 4.7 kΩ ±5 % rings", "as you said\nread from the other end: from the end"},
		{"GN BU RD GD", "m 215|rings GD OG VT YE||value 220|", "1 × 220 Ω by hand", "choose a candidate by its number\nread from the other end: from the end"},
		{"GN BU RD GD", "r BN BK BK RD RD|flip", "1 × 220 Ω ±1 % rings", "as you said\nread from the other end than you named first\nrings: red, red, black, black, brown\n"},
		{"GN BU RD GD", "r YE VT OG|add 3 GD", "1 × 47 kΩ ±5 % rings", "plus or minus twenty percent"},
		{"GN BU RD GD", "r YE VT OG GD RD|drop 5", "1 × 47 kΩ ±5 % rings", ""},
		{"BN BK BK RD RD", "flip", "1 × 220 Ω ±1 % rings", "rings: red, red, black, black, brown"},
		{"BN BK BK RD RD", "flip|flip", "1 × 10 kΩ ±2 % rings", ""},
		{"GN BU RD GD", "drop 4", "1 × 5.6 kΩ ±20 % rings", "rings: green, blue, red\n"},
		{"GN BU RD GD", "add 2 BK", "1 × 56 kΩ ±5 % rings", "rings: green, blue, black, red, gold"},
		{"GN BU RD GD", "drop 9", "1 × 5.6 kΩ ±5 % rings", "there is no ring 9: there are 4"},
		{"GN BU RD GD", "drop", "1 × 5.6 kΩ ±5 % rings", "name the number of the ring that is none, such as drop 2"},
		{"GN BU RD GD", "rings", "1 × 5.6 kΩ ±5 % rings", "name all rings, in reading order, such as rings GN BU RD GD"},
		{"GN BU RD GD", "value 4k7 10", "1 × 4.7 kΩ ±10 % by hand", "four point seven kilo-ohm, plus or minus ten percent; as you said"},
		{"GN BU RD GD", "v 5K6J", "1 × 5.6 kΩ ±5 % by hand", ""},
		{"GN BU RD GD", "v 5.6 kΩ ±5 %", "1 × 5.6 kΩ ±5 % by hand", ""},
		{"GN BU RD GD", "v 330", "1 × 330 Ω by hand", "three hundred and thirty ohm; as you said"},
		{"GN BU RD GD", "v lots", "1 × 5.6 kΩ ±5 % rings", "cannot be read"},
		{"GN BU RD GD", "m 5.58k", "1 × 5.6 kΩ ±5 % rings", "the meter agrees: five point five eight kilo-ohm"},
		{"GN BU/BK RD/BN GD", "m 558", "1 × 560 Ω ±5 % rings", "five hundred and sixty ohm"},
		{"GN BU RD GD", "m 558|rings GN BU BN GD", "1 × 560 Ω ±5 % rings", "; measure again, name all rings, such as rings GN BU RD GD, or choose a candidate by its number\n"},
		{"GN BU RD GD", "m 558||1", "1 × 560 Ω ±5 % rings", "there is nothing to confirm"},
		{"GN BU RD GD", "m 558|m off", "1 × 5.6 kΩ ±5 % rings", "the meter contradicts: rings say 5.6 kilo-ohm plus or minus 5 percent, the meter says 558 ohm: multiplier ring misread (brown would agree)"},
		{"GN BU RD GD", "m 2.2k in", "1 × 5.6 kΩ ±5 % rings", "the meter says two point two kilo-ohm: low in circuit"},
		{"GN BU RD GD", "m 5.58k in", "1 × 5.6 kΩ ±5 % rings", "\nthe meter does not contradict, but in its circuit it proves nothing, for the part may have more than is read: five point five eight kilo-ohm\nnote: Measured in its circuit"},
		{"GN BU RD GD", "m OL", "1 × 5.6 kΩ ±5 % rings", "an open reading"},
		{"GN BU RD GD", "accuracy 0.5 2|m 5.58k", "1 × 5.6 kΩ ±5 % rings", "the meter agrees"},
		{"GN BU RD GD", "accuracy good", "1 × 5.6 kΩ ±5 % rings", "such as accuracy 0.8 5"},
		{"GN BU RD GD", "count 4", "4 × 5.6 kΩ ±5 % rings", "; 4 of them"},
		{"GN BU RD GD", "count 0", "1 × 5.6 kΩ ±5 % rings", "is no count"},
		{"GN BU RD GD", "kind flameproof", "1 × 5.6 kΩ ±5 % rings", "CAUTION: " + decode.CautionSpecialPart},
		{"GN BU RD GD", "kind glass", "1 × 5.6 kΩ ±5 % rings", "is no kind of resistor"},
		{"GN BU RD GD", "7", "1 × 5.6 kΩ ±5 % rings", "there is no candidate 7"},
		{"GN BU RD GD", "2 mauve", "1 × 5.6 kΩ ±5 % rings", `"mauve" is no ring colour`},
		{"GN BU RD GD", "what now", "1 × 5.6 kΩ ±5 % rings", `"what now" is no answer: type ? for those there are`},
		{"GN BU RD GD", "Yes", "1 × 5.6 kΩ ±5 % rings", `"Yes" is no answer: Enter alone confirms`},
		{"GN BU RD GD", "4k7", "1 × 5.6 kΩ ±5 % rings", `"4k7" is no answer: value 4k7 enters it by hand, m 4k7 is what a meter shows`},
		{"GN BU RD GD", "5 6", "1 × 5.6 kΩ ±5 % rings", "no ring colour"},
		{"GN BU RD GD", "?", "1 × 5.6 kΩ ±5 % rings", "2 VT: the second ring is violet"},
		{"GN BU RD GD", "list|2", "1 × 560 Ω ±5 % rings", "part 1 of 1: 5 candidates\n1: five point six"},
		{"GN BU RD GD", "2 VT|undo", "1 × 5.6 kΩ ±5 % rings", "undone"},
		{"BN BK GN YE", "", "1 × 1 MΩ ±5 % rings", "CAUTION: This may be a high-voltage part"},
	} {
		r := goThrough(t, strings.ReplaceAll(c.answers, "|", "\n")+"\n\n", drawn(t, "a", c.rings))
		require.NoError(t, r.err, c.answers)
		assert.Equal(t, []string{c.want}, r.entries(t), "%s: %s", c.answers, r.out)
		assert.Contains(t, r.out, c.says, c.answers)
	}
}

// A size by the scale of the photo goes along as an estimate, and what the
// person says of the size goes before it.
func TestEstimatedSizeIsKept(t *testing.T) {
	sized := func(key string) Part {
		p := drawn(t, key, "GN BU RD GD")
		p.Size, p.SizeText = "6.3 × 2.3 mm", "count on 0.25 W"
		return p
	}
	r := goThrough(t, "\nsize 0411\n\n", sized("a"), sized("b"))
	assert.Contains(t, r.out, "body: 6.3 by 2.3 mm, estimated; count on 0.25 W")
	for id, want := range map[int64][]any{1: {stock.Size("6.3 × 2.3 mm"), stock.Estimated}, 2: {stock.Size("0411"), stock.Said}} {
		p, err := r.store.Part(context.Background(), id)
		require.NoError(t, err)
		assert.Equal(t, want, []any{p.Size, p.SizeBasis})
	}
}

func TestWhatElseIsKnownIsKept(t *testing.T) {
	r := goThrough(t, "2 VT\nkind metal film\nsize 6.3 x 2.3\nrating 1/4\nnote from the green set\naccuracy 0.8 5\nm 5.68k\nage old\n\n", drawn(t, "a", "GN BU/GY RD GD"))
	p, err := r.store.Part(context.Background(), 1)
	require.NoError(t, err)
	assert.Equal(t, decode.KindMetalFilm, p.Kind)
	assert.Equal(t, stock.Said, p.KindBasis)
	assert.EqualValues(t, "6.3 × 2.3 mm", p.Size)
	assert.Equal(t, "0.25", p.RatingWatts.Decimal.String())
	assert.Equal(t, "from the green set", p.Note)
	assert.Equal(t, "5680", p.Meter.Ohms.String())
	assert.Equal(t, "0.8", p.Meter.AccuracyPercent.String())
	assert.Equal(t, "50.2", p.Meter.AccuracyOhms.String(), "5 counts of 10 Ω, and 0.2 Ω for the leads")
	assert.Equal(t, []stock.Change{{What: "ring 2", From: "blue", To: "violet"}}, p.Changes)
}

// What is said besides rings and value is said back, and again when asked for.
func TestWhatElseIsKnownIsSaidBack(t *testing.T) {
	for answer, want := range map[string]string{
		"kind metal film":      "kind metal film",
		"size 0207":            "size 0207",
		"size 6.3 x 2.3":       "size 6.3 by 2.3 mm",
		"rating 1/4":           "rating 0.25 watts",
		"count 3":              "count 3",
		"age old":              "age old",
		"note from a 47 Ω set": "note from a 47 ohm set",
		"accuracy 0.8 5":       "accuracy of the meter 0.8 percent and 5 counts",
	} {
		r := goThrough(t, answer+"\nagain\nundo\nquit\n", drawn(t, "a", "GN BU RD GD"))
		assert.Equal(t, 2, strings.Count(r.out, "\nyou said: "+want+"\n"), "%s: after the answer and after again: %s", answer, r.out)
	}
	r := goThrough(t, "accuracy 0.8 5\nkind fusible\nskip\nquit\n", drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD GD"))
	_, second, _ := strings.Cut(r.out, "part 2 of 2")
	assert.NotContains(t, second, "you said")
}

// A word with nothing behind it takes back nothing that was said; what takes it
// back is named.
func TestNothingIsWipedUnsaid(t *testing.T) {
	for _, c := range []struct{ said, bare, asks, back string }{
		{"kind metal film", "kind", "kind unknown to take it back", "kind unknown"},
		{"size 0207", "size", "size unknown to take it back", "size unknown"},
		{"age old", "age", "the age is old, new or unknown", "age unknown"},
		{"note from the green set", "note", "note off to take it back", "note off"},
	} {
		for last, times := range map[string]int{"again": 2, c.back: 1} {
			r := goThrough(t, c.said+"\n"+c.bare+"\n"+last+"\nquit\n", drawn(t, "a", "GN BU RD GD"))
			assert.Contains(t, r.out, c.asks)
			assert.Equal(t, times, strings.Count(r.out, "\nyou said: "+c.said+"\n"), "%s, %s: %s", c.bare, last, r.out)
		}
	}
}

// A meter once described is the meter for the parts that follow.
func TestAccuracyStays(t *testing.T) {
	r := goThrough(t, "accuracy 0.5 2\n\nm 1.00k\n\n", drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD GD"))
	p, err := r.store.Part(context.Background(), 2)
	require.NoError(t, err)
	assert.Equal(t, "0.5", p.Meter.AccuracyPercent.String())
}

func TestFates(t *testing.T) {
	parts := func() []Part {
		return []Part{drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD GD"), drawn(t, "c", "RD RD RD GD"), drawn(t, "d", "OG OG RD GD")}
	}
	r := goThrough(t, "not\nskip\nunclear\n\n", parts()...)
	assert.Equal(t, Tally{Confirmed: 1, NoResistor: 1, Skipped: 1, Unknown: 1}, r.tally)
	assert.Equal(t, []string{"1 × 3.3 kΩ ±5 % rings"}, r.entries(t))
	assert.Contains(t, r.out, "4 parts answered: 1 confirmed, 1 skipped, 1 no resistor, 1 could not be told\n")

	r = goThrough(t, "\nquit\n", parts()...)
	assert.Equal(t, Tally{Confirmed: 1, Quit: true}, r.tally)
	assert.Len(t, r.entries(t), 1)
}

// The end of the answers confirms nothing, whatever comes before it.
func TestEndOfAnswersConfirmsNothing(t *testing.T) {
	for _, answers := range []string{"", "2 VT", "2 VT\n", "?"} {
		r := goThrough(t, answers, drawn(t, "a", "GN BU RD GD"))
		require.NoError(t, r.err)
		assert.Empty(t, r.entries(t), "%q", answers)
		assert.True(t, r.tally.Quit)
	}
}

// Undo goes back over what was said, over fates and over what was confirmed.
func TestUndo(t *testing.T) {
	r := goThrough(t, "\nskip\n2 VT\nundo\nundo\nundo\nundo\n1 RD 2 RD\n\nquit\n",
		drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD GD"), drawn(t, "c", "YE VT RD GD"))
	assert.Equal(t, []string{"1 × 2.2 kΩ ±5 % rings"}, r.entries(t))
	assert.Contains(t, r.out, "there is nothing to undo")
	assert.Equal(t, Tally{Confirmed: 1, Quit: true}, r.tally)

	// What another window has done since is not undone.
	store := newStore(t)
	in, answer := io.Pipe()
	go func() {
		io.WriteString(answer, "\n")
		for {
			if parts, _ := store.Parts(context.Background(), stock.Filter{}); len(parts) == 1 {
				break
			}
		}
		store.Take(context.Background(), 1, 1)
		io.WriteString(answer, "undo\nquit\n")
		answer.Close()
	}()
	r = goThroughWith(t, store, in, drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD GD"))
	assert.Contains(t, r.out, "not undone: something else was done since: took 1 of #1")
	assert.Equal(t, []string{"0 × 5.6 kΩ ±5 % rings"}, r.entries(t))
}

// A part that cannot be read is never confirmed by Enter alone.
func TestUnreadable(t *testing.T) {
	blank := Part{Key: "a", Seen: decode.Sighting{Fault: "no rings found: turn the part"}}
	blank.Ranking = decode.Rank(blank.Seen)
	r := goThrough(t, "\n2 VT\nflip\nv 100 5\n\n", blank)
	assert.Contains(t, r.out, "part 1 of 1: not read: no rings found: turn the part\n> there is nothing to confirm")
	assert.Contains(t, r.out, "there are no rings to change: choose a candidate by its number, or name all rings")
	assert.Equal(t, []string{"1 × 100 Ω ±5 % by hand"}, r.entries(t))

	vague := drawn(t, "b", "GN BU RD GD")
	vague.Ranking.Verdict, vague.Ranking.Why = decode.Unreadable, "blurred: hold the camera still"
	r = goThrough(t, "\n2 VT\n1\n\n", vague)
	assert.Contains(t, r.out, "part 1 of 1: hard to read: blurred: hold the camera still; choose a candidate by its number, or name the rings\n1: five point six")
	assert.Contains(t, r.out, "there is nothing to confirm")
	assert.Equal(t, []string{"1 × 5.6 kΩ ±5 % rings"}, r.entries(t))
}

// A photo that is gone through twice gives no part twice.
func TestTwiceIsOnce(t *testing.T) {
	store := newStore(t)
	goThroughWith(t, store, strings.NewReader("\n"), drawn(t, "a", "GN BU RD GD"))
	r := goThroughWith(t, store, strings.NewReader("2 VT\n\n"), drawn(t, "a", "GN BU RD GD"))
	assert.Contains(t, r.out, "part 1 of 1: in the stock already as entry 1, five point six kilo-ohm")
	assert.Equal(t, []string{"1 × 5.6 kΩ ±5 % rings"}, r.entries(t))
	assert.Equal(t, Tally{Known: 1}, r.tally)
	assert.NotContains(t, r.out, "> ", "nothing is asked")
}

// What another window confirms while the part is shown here stays as it is there,
// and no undo here takes it back.
func TestConfirmedElsewhereMeanwhile(t *testing.T) {
	store, part := newStore(t), drawn(t, "a", "GN BU RD GD")
	in, answer := io.Pipe()
	go func() {
		io.WriteString(answer, "again\n")
		io.WriteString(answer, "again\n") // is read once the first was heard, and so the part shown
		store.Confirm(context.Background(), part.entry(said{meter: decode.UsualMeter}, part.judge(said{})))
		io.WriteString(answer, "count 4\n\nundo\nquit\n")
		answer.Close()
	}()
	r := goThroughWith(t, store, in, part, drawn(t, "b", "BN BK RD SR"))
	assert.Contains(t, r.out, "> part 1 of 2: in the stock already as entry 1")
	assert.NotContains(t, r.out, "confirmed as entry")
	assert.Equal(t, []string{"1 × 5.6 kΩ ±5 % rings"}, r.entries(t))
}

// Whoever goes on with a photo comes at once to the first part that is open: an
// Enter for each part behind would confirm what nobody has looked at.
func TestGoesOnWhereItStopped(t *testing.T) {
	parts := []Part{drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD SR"), drawn(t, "c", "YE VT RD GD"), drawn(t, "d", "RD RD RD GD")}
	store := newStore(t)
	goThroughWith(t, store, strings.NewReader("\n\n"), parts...)
	r := goThroughWith(t, store, strings.NewReader("s\nundo\n\nundo\nundo\ns\nquit\n"), parts...)
	assert.Equal(t, 1, strings.Count(r.out, "to confirm such a part anew"))
	assert.Contains(t, r.out, "part 2 of 4: in the stock already as entry 2")
	assert.Contains(t, r.out, "> part 4 of 4: two point two kilo-ohm")
	assert.Contains(t, r.out, "there is nothing to undo", "what was passed was no answer")
	assert.Equal(t, Tally{Skipped: 1, Known: 2, Quit: true}, r.tally)
	assert.Equal(t, "1 part answered: 0 confirmed, 1 skipped; in the stock already: 2 parts", r.tally.String())
	assert.Equal(t, []string{"1 × 1 kΩ ±10 % rings", "1 × 5.6 kΩ ±5 % rings"}, r.entries(t))
}

// Everything that is written between two answers is said, in order; and it is
// fit to be said: no signs, no codes of a terminal.
func TestAllIsSaid(t *testing.T) {
	r := goThrough(t, "m 558\n?\n2 VT\n\nquit\n", drawn(t, "a", "GN BU/VT RD GD"), drawn(t, "b", "BN BK RD SR"))
	spoken := strings.Join(r.said, ". ")
	for line := range strings.Lines(r.out) {
		line = strings.TrimPrefix(strings.TrimSuffix(line, "\n"), "> ")
		assert.Contains(t, spoken, strings.TrimPrefix(line, "> "))
	}
	assert.NotRegexp(t, regexp.MustCompile("[ΩΩ±%\x1b\t]"), r.out)
}

// A full is an output with room for so many bytes.
type full struct{ room int }

var errFull = errors.New("no space left on device")

func (f *full) Write(text []byte) (int, error) {
	if f.room -= len(text); f.room < 0 {
		return 0, errFull
	}
	return len(text), nil
}

// What cannot be shown cannot be confirmed.
func TestNothingIsConfirmedUnshown(t *testing.T) {
	shown := goThrough(t, "quit\n", drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD GD")).out
	for room, want := range map[int]int{0: 0, len(shown): 1} {
		s := Session{Store: newStore(t), In: strings.NewReader("\n\n\n"), Out: &full{room}}
		photo := Photo{"a.jpg", []Part{drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD GD")}}
		_, err := s.Run(context.Background(), once(photo))
		assert.ErrorIs(t, err, errFull)
		parts, err := s.Store.Parts(context.Background(), stock.Filter{})
		require.NoError(t, err)
		assert.Len(t, parts, want, "with room for %d bytes", room)
	}
}

// A typist types answers, each so long after the one before, and after it was asked
// so many times. The clock is the typist's own.
type typist struct {
	keys  []keyed
	mu    sync.Mutex
	clock time.Time
	asked int
	more  *sync.Cond
}

type keyed struct {
	line  string
	pause time.Duration
	asked int // 0: at once, looked at or not
}

func newTypist(keys ...keyed) *typist {
	p := &typist{keys: keys, clock: time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)}
	p.more = sync.NewCond(&p.mu)
	return p
}

func (p *typist) Read(into []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.keys) == 0 {
		return 0, io.EOF
	}
	next := p.keys[0]
	p.keys = p.keys[1:]
	for p.asked < next.asked {
		p.more.Wait()
	}
	p.clock = p.clock.Add(next.pause)
	return copy(into, next.line+"\n"), nil
}

// Write looks on what is shown.
func (p *typist) Write(text []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.asked += bytes.Count(text, []byte("> "))
	p.more.Broadcast()
	return len(text), nil
}

func (p *typist) now() time.Time {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.clock
}

// Enter confirms what the person had time to look at, and nothing else.
func TestHastyEnterConfirmsNothing(t *testing.T) {
	const blink, look = 50 * time.Millisecond, 500 * time.Millisecond
	for name, c := range map[string]struct {
		keys  []keyed
		want  int // parts confirmed of three
		tells int // how often it says that none was
	}{
		"fast":              {[]keyed{{"", look, 1}, {"", look, 2}, {"", look, 3}}, 3, 0},
		"bounced":           {[]keyed{{"", look, 1}, {"", blink, 0}, {"quit", look, 3}}, 1, 1},
		"shown and bounced": {[]keyed{{"", look, 1}, {"", blink, 2}, {"quit", look, 3}}, 1, 1},
		"bounced, then on":  {[]keyed{{"", look, 1}, {"", blink, 0}, {"", look, 3}, {"", look, 4}}, 3, 1},
		"held down":         {[]keyed{{"", look, 1}, {"", blink, 2}, {"", blink, 3}, {"", blink, 4}, {"", blink, 5}, {"quit", look, 6}}, 1, 1},
		"typed ahead":       {[]keyed{{"", blink, 0}, {"", 0, 0}, {"", 0, 0}, {"quit", look, 4}}, 0, 1},
		"after a mistake":   {[]keyed{{"2 mauve", look, 1}, {"", blink, 2}, {"quit", look, 3}}, 0, 1},
		"after a reading":   {[]keyed{{"m 558", look, 1}, {"", blink, 2}, {"quit", look, 3}}, 0, 1},
		"other answers":     {[]keyed{{"skip", blink, 0}, {"skip", 0, 0}, {"", look, 3}}, 1, 0},
	} {
		p := newTypist(c.keys...)
		var out bytes.Buffer
		s := Session{Store: newStore(t), In: p, Out: io.MultiWriter(&out, p), Grace: 400 * time.Millisecond, now: p.now}
		photo := Photo{"a.jpg", []Part{drawn(t, "a", "GN BU RD GD"), drawn(t, "b", "BN BK RD GD"), drawn(t, "c", "YE VT RD GD")}}
		tally, err := s.Run(context.Background(), once(photo))
		require.NoError(t, err, name)
		assert.Equal(t, c.want, tally.Confirmed, "%s: %s", name, &out)
		assert.Equal(t, c.tells, strings.Count(out.String(), "not confirmed: that Enter came before this could be seen"), "%s: %s", name, &out)
	}
}

func TestStoppedByInterrupt(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	in, _ := io.Pipe() // a person who does not answer
	s := Session{Store: newStore(t), In: in, Out: io.Discard}
	photos := []Photo{{"a.jpg", []Part{drawn(t, "a", "GN BU RD GD")}}}
	stop()
	_, err := s.Run(ctx, func() (Photo, bool) { return photos[0], true })
	assert.ErrorIs(t, err, context.Canceled)
}

// Whatever a person types, nothing breaks and nothing is confirmed but by
// Enter, and what is confirmed is sound.
func FuzzAnswers(f *testing.F) {
	for _, seed := range []string{"2 VT", "drop 1", "add 0 GD", "rings BK", "v 1e9", "m -3", "flip", "9", "count 99999999", "2 VT 3", "value 5k6 5 %", "rating 1/0"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, line string) {
		p := drawn(t, "a", "GN BU/VT RD GD")
		before := said{meter: decode.UsualMeter}
		_, next, err := p.understand(before, line)
		if err != nil {
			return
		}
		for range 2 {
			j := p.judge(next)
			p.opening(next, j)
			p.details(next, j)
			if j.at >= 0 {
				e := p.entry(next, j)
				require.NotEmpty(t, e.Origin)
			}
			if _, again, err := p.understand(next, line); err == nil {
				next = again
			}
		}
	})
}
