package sheet

import (
	"fmt"
	"regexp"
)

// A Document is what stands on paper: the questions of a sheet, or its
// answers. Whatever prints it prints all of it, in order.
type Document struct {
	Words   Words
	Title   string
	Heading string   // questions or answers, code, variant
	Code    string   // the sheet's
	Lines   []string // labels of lines to fill in: name, date
	Notes   []string
	Items   []Item
	Foot    string
	// Filled is set for the answers: boxes are filled, outlines have rings.
	Filled bool
}

// An Item is one question on paper.
type Item struct {
	Number   int
	Heading  string
	Points   string
	Ask      string
	Figures  []Figure
	Boxes    []Field
	Cautions []string
	Steps    []string // only with the answers
	Remarks  []string // only with the answers
}

// A Field is a box on paper: its name and label, and the answer if filled.
type Field struct{ Name, Label, Answer string }

// Questions is the sheet to hand out.
func Questions(s Sheet) (Document, error) {
	w, err := In(s.Order.Language)
	if err != nil {
		return Document{}, err
	}
	d := document(s, w, w.Questions)
	d.Lines = []string{w.Name, w.Date, w.Points}
	d.Notes = append(d.Notes, w.FromLeft, w.RingCounts, w.AnyForm, fmt.Sprintf(w.Letters, w.letters()))
	if s.Unchecked {
		d.Notes = append(d.Notes, fmt.Sprintf(w.UncheckedParts, w.UncheckedMark))
	}
	for i := range d.Items {
		d.Items[i].Steps, d.Items[i].Remarks = nil, nil
		for k := range d.Items[i].Boxes {
			d.Items[i].Boxes[k].Answer = ""
		}
	}
	return d, nil
}

// Answers is the sheet to mark by.
func Answers(s Sheet) (Document, error) {
	w, err := In(s.Order.Language)
	if err != nil {
		return Document{}, err
	}
	d := document(s, w, w.Answers)
	d.Filled = true
	d.Notes = append(d.Notes, fmt.Sprintf(w.MarkBy, s.Code), w.RingCounts)
	if s.Unchecked {
		d.Notes = append(d.Notes, fmt.Sprintf(w.UncheckedParts, w.UncheckedMark))
	}
	return d, nil
}

func document(s Sheet, w Words, what string) Document {
	d := Document{
		Words: w, Title: s.Order.Title, Code: s.Code, Foot: w.FootNote,
		Heading: what + " · " + fmt.Sprintf(w.Sheet, s.Code),
	}
	if s.Order.Variants > 1 {
		d.Heading += " · " + fmt.Sprintf(w.Variant, s.Variant)
	}
	if s.Order.Note != "" {
		d.Notes = append(d.Notes, s.Order.Note)
	}
	for i, q := range s.Questions {
		item := Item{
			Number: i + 1, Heading: fmt.Sprintf("%d · %s", i+1, w.Kinds[q.Kind]), Points: w.points(len(q.Boxes)),
			Ask: glued(q.Ask), Figures: q.Figures, Cautions: q.Cautions,
		}
		for _, step := range q.Steps {
			item.Steps = append(item.Steps, glued(step))
		}
		for _, remark := range q.Remarks {
			item.Remarks = append(item.Remarks, glued(remark))
		}
		for k, b := range q.Boxes {
			item.Boxes = append(item.Boxes, Field{boxName(i, k), b.Label, b.Shown})
		}
		d.Items = append(d.Items, item)
	}
	return d
}

var beforeUnit = regexp.MustCompile(`([0-9≈]) (%|[µmk]?[VW]\b|[µmkMG]?Ω|ohm|ppm|[0-9])`)

// glued keeps numbers and their units in one line.
func glued(text string) string { return beforeUnit.ReplaceAllString(text, "$1"+noBreak+"$2") }

// points counts points in words.
func (w Words) points(n int) string {
	if n == 1 {
		return w.OnePoint
	}
	return fmt.Sprintf(w.PointsOf, n)
}

// Alt says in words what a figure shows, for those who do not see it. The
// rings of an outline to fill in are told only with the answers.
func (d Document) Alt(f Figure) string {
	rings := f.Part.Reading.Rings
	if f.Blank && !d.Filled {
		return fmt.Sprintf(d.Words.BlankOf, len(rings))
	}
	if f.Label != "" {
		return fmt.Sprintf(d.Words.FigureLetter, f.Label, d.Words.names(rings))
	}
	return fmt.Sprintf(d.Words.FigureOf, d.Words.names(rings))
}
