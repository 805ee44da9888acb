package bench

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"ringwise/decode/network"
)

// The shape of an answer to a question about use, in plain words.
type (
	told struct {
		Says     string         `json:"says"`   // the answer in a sentence, to be announced
		Answer   network.Answer `json:"answer"` // that of the first block, if it is that of which Says speaks; else empty
		Groups   []group        `json:"groups"`
		OnlyIf   []string       `json:"onlyIf"` // holds for all of it
		Notes    []string       `json:"notes"`
		Cautions []string       `json:"cautions"`
		Takes    []taking       `json:"takes"` // of all of it together, nil if there is nothing to take at once
		Files    []fileView     `json:"files"`
	}
	group struct {
		Title  string  `json:"title"` // may be empty
		Note   string  `json:"note"`
		Blocks []block `json:"blocks"`
	}
	block struct {
		Title   string         `json:"title"`
		Answer  network.Answer `json:"answer"`
		Rows    []row          `json:"rows"`
		OnlyIf  []string       `json:"onlyIf"`
		Because []string       `json:"because"` // of a no
		Takes   []taking       `json:"takes"`   // nil if it cannot be taken from the stock
	}
	row struct {
		Name string `json:"name"`
		What string `json:"what"`
	}
	// A taking is so many parts of an entry in the version that the person has
	// seen.
	taking struct {
		Entry int64  `json:"entry"`
		Step  int64  `json:"step"`
		Count int    `json:"count"`
		Name  string `json:"name"`
	}
)

// whole fills in empty lists, so that the page meets no null where it counts.
func (t told) whole() told {
	for i := range t.Groups {
		for k, b := range t.Groups[i].Blocks {
			b.Rows, b.OnlyIf, b.Because = append([]row{}, b.Rows...), append([]string{}, b.OnlyIf...), append([]string{}, b.Because...)
			t.Groups[i].Blocks[k] = b
		}
		t.Groups[i].Blocks = append([]block{}, t.Groups[i].Blocks...)
	}
	t.Groups = append([]group{}, t.Groups...)
	t.OnlyIf, t.Notes, t.Cautions = append([]string{}, t.OnlyIf...), append([]string{}, t.Notes...), append([]string{}, t.Cautions...)
	t.Files = append([]fileView{}, t.Files...)
	return t
}

// say adds a row.
func (b *block) say(name, format string, args ...any) {
	b.Rows = append(b.Rows, row{name, fmt.Sprintf(format, args...)})
}

// reckon adds the lines of an arithmetic, each under the words that begin it.
func (b *block) reckon(lines []string) {
	for _, line := range lines {
		name, what, named := strings.Cut(line, ": ")
		if !named {
			name, what = "worked out", line
		}
		b.say(strings.ToUpper(name[:1])+name[1:], "%s", what)
	}
}

// A fieldError is what is wrong with one field of a form.
type fieldError struct {
	field string
	error
}

func (e fieldError) Unwrap() error { return e.error }

// in says in which field an error lies; nil stays nil.
func in(field string, err error) error {
	var known fieldError
	if err == nil || errors.As(err, &known) {
		return err
	}
	return fieldError{field, err}
}

// reply answers a question, or says what is wrong with which field of it.
func reply(w http.ResponseWriter, t told, err error) {
	if err == nil {
		answer(w, t.whole())
		return
	}
	fail(w, err)
}

// add appends the texts that are not there yet.
func add(list []string, texts ...string) []string {
	for _, text := range texts {
		if !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}

// about writes a value that was worked out, to four significant figures.
func about(v network.Value) string { return v.Rounded(4).String() }

// partText names a part: its value, marking and where it is.
func partText(p network.Part) string {
	text := fmt.Sprintf("%s (%s)", p.Value, p.Value.RKM())
	if strings.HasPrefix(p.Where, "#") {
		text += " from " + p.Where
	}
	return text
}

// span writes from where to where.
func span(low, high string) string { return low + " to " + high }
