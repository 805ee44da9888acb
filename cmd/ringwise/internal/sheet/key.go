package sheet

import (
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// A Key is what is needed to mark one sheet.
type Key struct {
	Sheet     string        `json:"sheet"`
	Title     string        `json:"title"`
	Note      string        `json:"note,omitempty"`
	Variant   int           `json:"variant"`
	Level     int           `json:"level"`
	Seed      uint64        `json:"seed"`
	Language  string        `json:"language"`
	Unchecked bool          `json:"unchecked_parts,omitempty"`
	Questions []KeyQuestion `json:"questions"`
}

// A KeyQuestion is what is needed to mark one question.
type KeyQuestion struct {
	Number int      `json:"number"`
	First  int      `json:"number_in_variant_1"`
	Kind   Kind     `json:"kind"`
	Boxes  []KeyBox `json:"boxes"`
}

// A KeyBox is what is needed to mark one box.
type KeyBox struct {
	Name    string   `json:"box"` // "1a"
	Label   string   `json:"label"`
	Form    Form     `json:"form"`
	Want    string   `json:"answer"`
	Shown   string   `json:"shown"`
	Figures int      `json:"figures_enough,omitempty"`
	Words   []string `json:"words,omitempty"` // to choose from
	Slips   []Slip   `json:"slips,omitempty"`
}

// KeyOf is the key to a sheet.
func KeyOf(s Sheet) Key {
	k := Key{Sheet: s.Code, Title: s.Order.Title, Note: s.Order.Note, Variant: s.Variant, Level: s.Order.Level,
		Seed: s.Order.Seed, Language: s.Order.Language, Unchecked: s.Unchecked}
	for i, q := range s.Questions {
		kq := KeyQuestion{Number: i + 1, First: q.First, Kind: q.Kind}
		for n, b := range q.Boxes {
			kb := KeyBox{Name: boxName(i, n), Label: b.Label, Form: b.Form, Want: b.Want, Shown: b.Shown, Figures: b.Figures, Slips: b.Slips}
			if w, err := In(k.Language); err == nil && b.Form == FormWord {
				kb.Words = w.HeatWords[:]
			}
			kq.Boxes = append(kq.Boxes, kb)
		}
		k.Questions = append(k.Questions, kq)
	}
	return k
}

// boxName names a box by its question and its place in it, both from 0: 1a.
func boxName(question, box int) string {
	return fmt.Sprintf("%d%c", question+1, 'a'+box)
}

// Boxes lists all boxes in order.
func (k Key) Boxes() []KeyBox {
	var list []KeyBox
	for _, q := range k.Questions {
		list = append(list, q.Boxes...)
	}
	return list
}

// Write writes the key as JSON.
func (k Key) Write(out io.Writer) error {
	encoder := json.NewEncoder(out)
	encoder.SetIndent("", " ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(k)
}

// ReadKey reads what Write wrote.
func ReadKey(in io.Reader) (Key, error) {
	var k Key
	if err := json.NewDecoder(in).Decode(&k); err != nil {
		return Key{}, fmt.Errorf("this is no key to a sheet, or it is damaged (%v): make the sheet again with its seed", err)
	}
	if k.Sheet == "" || len(k.Questions) == 0 {
		return Key{}, errors.New("this key has no questions: make the sheet again with its seed")
	}
	for _, q := range k.Questions {
		if len(q.Boxes) == 0 {
			return Key{}, fmt.Errorf("question %d of this key has no box to answer in: make the sheet again with its seed", q.Number)
		}
	}
	seen := map[string]bool{}
	for _, b := range k.Boxes() {
		if b.Name == "" || seen[b.Name] {
			return Key{}, fmt.Errorf("this key has the box %q twice or without a name: make the sheet again with its seed", b.Name)
		}
		seen[b.Name] = true
	}
	return k, nil
}

// codeSigns are digits and letters that are not taken for each other; without
// vowels they spell nothing.
const codeSigns = "23456789BCDFGHJKLMNPQRSTVWXZ"

// codeLength is the length of a sheet's code: some 480 million codes.
const codeLength = 6

// codeOf makes the code of a sheet from all that its key says.
func codeOf(s Sheet) (string, error) {
	s.Code = ""
	text, err := json.Marshal(KeyOf(s))
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(text)
	var code strings.Builder
	for _, b := range sum[:codeLength] {
		code.WriteByte(codeSigns[int(b)%len(codeSigns)])
	}
	return code.String(), nil
}

// ParseCode reads a sheet's code the way people type it: in any case, with
// spaces or hyphens.
func ParseCode(text string) (string, error) {
	code := strings.ToUpper(strings.NewReplacer(" ", "", "-", "").Replace(text))
	if len(code) != codeLength || strings.Trim(code, codeSigns) != "" {
		return "", fmt.Errorf("%q is no sheet's code: it stands at the head of the sheet and has %d digits and letters", text, codeLength)
	}
	return code, nil
}

// KeyFile is the name of the file that holds the key to a sheet.
func KeyFile(code string) string { return code + "-key.json" }
