package vision

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// marksOnPaper is a look at a row of black marks on paper in some light, one of which has
// another tint.
func marksOnPaper(light func(tint) tint, mark tint) look {
	paper := light(tint{92, 0, 2})
	l := look{ground: []tint{paper}, spots: new([stripColumns]spot), left: 10, right: 110, gain: plainlyRinged}
	for c := range l.spots {
		l.spots[c].tint = paper
		if c%25 < 12 {
			l.spots[c].tint = light(tint{20, 0, 0})
		}
	}
	for c := 60; c < 72; c++ {
		l.spots[c].tint = light(mark)
	}
	return l
}

// TestIsColoured checks that a row of black marks on paper is told from rings, in white
// and in warm light, and that one dull ring is enough.
func TestIsColoured(t *testing.T) {
	white := func(s tint) tint { return s }
	warm := func(s tint) tint { return tint{s.l, s.a + 0.06*(s.l+16), s.b + 0.2*(s.l+16)} }
	black, brown := tint{20, 0, 0}, tint{34, 6, 8}
	for _, c := range []struct {
		name     string
		look     look
		coloured bool
	}{
		{"letters", marksOnPaper(white, black), false},
		{"letters in warm light", marksOnPaper(warm, black), false},
		{"a ring of dull brown", marksOnPaper(white, brown), true},
		{"a ring of dull brown in warm light", marksOnPaper(warm, brown), true},
		{"of whose ground nothing is seen", look{spots: new([stripColumns]spot), left: 10, right: 110}, true},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.coloured, c.look.isColoured(leastColour)) })
	}
}

// TestWithoutPrint checks that what shows no colour is left out, and where there is much
// print all but what is plainly a body; of a grey photo only the latter.
func TestWithoutPrint(t *testing.T) {
	white := func(s tint) tint { return s }
	letters, dull := marksOnPaper(white, tint{20, 0, 0}), marksOnPaper(white, tint{34, 6, 8})
	plain := marksOnPaper(white, tint{42, 37, 21})
	plain.chance = 0.8
	hintedLetters := letters
	hintedLetters.chance = 0.8
	page := slices.Repeat([]look{dull}, mostDoubtful+1)
	for _, c := range []struct {
		name        string
		looks, left []look
		grey        bool
	}{
		{"a few letters", []look{letters, dull, plain}, []look{dull, plain}, false},
		{"a page", append(page, plain, hintedLetters), []look{plain}, false},
		{"a few letters in a grey photo", []look{letters, dull}, []look{letters, dull}, true},
		{"a page in a grey photo", append(page, hintedLetters), []look{hintedLetters}, true},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.left, withoutPrint(slices.Clone(c.looks), c.grey)) })
	}
}
