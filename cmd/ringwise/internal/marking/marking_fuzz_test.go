package marking

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/sheet"
)

// allForms is the key to a sheet with questions of every kind.
func allForms(f *testing.F) sheet.Key {
	f.Helper()
	return keys(f, "E12", sheet.Order{Kinds: sheet.Kinds, Level: 3, Count: 14, Variants: 1})[0]
}

// FuzzAnswer marks one answer in every form that a box can have: it is right,
// wrong for a known slip, wrong, or unreadable with a reason; and so again.
func FuzzAnswer(f *testing.F) {
	key := allForms(f)
	w, err := sheet.In(key.Language)
	require.NoError(f, err)
	boxes := map[sheet.Form]sheet.KeyBox{}
	for _, b := range key.Boxes() {
		boxes[b.Form] = b
		f.Add(b.Want)
		f.Add(b.Shown)
	}
	for _, seed := range []string{"brown red red gold", "BNRDRDGD", "1k2", "±5%", "-5", "1e99", "1/0 W", "???", "first", "hot", "250 mW", "12 V", "A C"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, given string) {
		for form, box := range boxes {
			m := compare(box, given, w)
			if m.Right {
				assert.Empty(t, m.Why, "%s: %q", form, given)
				assert.Empty(t, m.Slips, "%s: %q", form, given)
			}
			if m.Why != "" {
				assert.Empty(t, m.Slips, "%s: %q", form, given)
			}
			assert.Equal(t, m, compare(box, given, w), "%s: %q", form, given)
			remark(m, w)
		}
	})
}

// FuzzTable reads any text as a table of answers to one sheet. It is refused
// with its line, or every learner has an answer to every box and a class is
// summed up of them.
func FuzzTable(f *testing.F) {
	key := keys(f, "1K2", sheet.Order{Kinds: []sheet.Kind{sheet.ToValue}, Level: 3, Count: 1, Variants: 1})[0]
	f.Add("name,1a,1b,1c,1d,1e,1f\nUna,BN RD RD GD,1k2,5,1140,1260,1K2\n")
	f.Add("name;sheet;1a;1b;1c;1d;1e;1f\n\"Una; Ola\";;;;;;;\n")
	f.Add("name\t1a\nUna\t\"")
	f.Add("\ufeffname,name\n")
	f.Fuzz(func(t *testing.T, text string) {
		learners, err := ReadAnswers(strings.NewReader(text), func(string) (sheet.Key, error) { return key, nil })
		if err != nil {
			assert.Contains(t, err.Error(), "line ")
			return
		}
		require.NotEmpty(t, learners)
		for _, l := range learners {
			assert.NotEmpty(t, l.Name)
			assert.Len(t, l.Answers, len(key.Boxes()))
		}
		scripts, err := MarkAll(learners)
		require.NoError(t, err)
		_, err = Sum(scripts)
		require.NoError(t, err)
		for _, s := range scripts {
			assert.LessOrEqual(t, s.Points(), s.Of())
		}
	})
}

// FuzzKey reads any text as a key: it is refused, or a class can be marked by
// it.
func FuzzKey(f *testing.F) {
	var whole bytes.Buffer
	require.NoError(f, keys(f, "1K2", sheet.Order{Kinds: []sheet.Kind{sheet.ToValue}, Level: 3, Count: 1, Variants: 1})[0].Write(&whole))
	f.Add(whole.String())
	f.Add(`{"sheet":"BCDFGH","language":"en","questions":[{"number":1,"number_in_variant_1":1,"kind":"value","boxes":[{"box":"1a","form":"ohms","answer":"1200"}]}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		key, err := sheet.ReadKey(strings.NewReader(text))
		if err != nil {
			assert.ErrorContains(t, err, "make the sheet again")
			return
		}
		require.NotEmpty(t, key.Boxes())
		l := Learner{Name: "Una", Key: key, Answers: map[string]string{}}
		for _, b := range key.Boxes() {
			l.Answers[b.Name] = b.Want
		}
		scripts, err := MarkAll([]Learner{l})
		if err != nil {
			return // a language that is not there
		}
		_, err = Sum(scripts)
		require.NoError(t, err)
		var form bytes.Buffer
		require.NoError(t, WriteForm(&form, key))
	})
}
