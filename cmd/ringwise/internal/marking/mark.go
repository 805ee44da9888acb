// Package marking compares typed answers with the key to a sheet, gives
// points and names the slips behind wrong answers.
package marking

import (
	"fmt"

	"ringwise/cmd/ringwise/internal/sheet"
)

// A Script is one learner's marked answers.
type Script struct {
	Name  string
	Key   sheet.Key
	Marks [][]Mark // by question, then by box
}

// MarkAll marks the answers of a class. All sheets must be variants of one
// another.
func MarkAll(learners []Learner) ([]Script, error) {
	scripts := make([]Script, len(learners))
	for i, l := range learners {
		if !variants(learners[0].Key, l.Key) {
			return nil, fmt.Errorf("sheets %s and %s are not variants of one another: mark them apart", learners[0].Key.Sheet, l.Key.Sheet)
		}
		w, err := sheet.In(l.Key.Language)
		if err != nil {
			return nil, err
		}
		scripts[i] = Script{Name: l.Name, Key: l.Key}
		for _, q := range l.Key.Questions {
			scripts[i].Marks = append(scripts[i].Marks, markQuestion(q, l.Answers, w))
		}
	}
	return scripts, nil
}

// variants reports whether two keys are to the same questions in other orders.
func variants(a, b sheet.Key) bool {
	if a.Seed != b.Seed || a.Level != b.Level || len(a.Questions) != len(b.Questions) {
		return false
	}
	asked := map[int]string{}
	for _, q := range a.Questions {
		asked[q.First] = substance(q)
	}
	for _, q := range b.Questions {
		if asked[q.First] != substance(q) {
			return false
		}
	}
	return true
}

// substance is what a question has in every variant: its kind and its answers,
// but for letters of figures, whose order differs.
func substance(q sheet.KeyQuestion) string {
	text := string(q.Kind)
	for _, b := range q.Boxes {
		if b.Form != sheet.FormLetters {
			text += "\n" + b.Want
		}
	}
	return text
}

// markQuestion marks the boxes of a question. Where the tolerance alone is
// left empty, it was forgotten.
func markQuestion(q sheet.KeyQuestion, answers map[string]string, w sheet.Words) []Mark {
	var marks []Mark
	touched := false
	for _, b := range q.Boxes {
		m := compare(b, answers[b.Name], w)
		touched = touched || m.Given != ""
		marks = append(marks, m)
	}
	for i, m := range marks {
		if touched && m.Given == "" && m.Box.Form == sheet.FormPercent {
			marks[i].Slips = []sheet.SlipName{sheet.SlipTolerance}
		}
	}
	return marks
}

// Points counts the boxes that are right, of one question.
func points(marks []Mark) int {
	n := 0
	for _, m := range marks {
		if m.Right {
			n++
		}
	}
	return n
}

// Points counts the boxes that are right.
func (s Script) Points() int {
	n := 0
	for _, q := range s.Marks {
		n += points(q)
	}
	return n
}

// Of counts all boxes.
func (s Script) Of() int { return len(s.Key.Boxes()) }

// NotRead counts the answers that could not be read, which are not right: a
// person may still find them so.
func (s Script) NotRead() int {
	n := 0
	for _, q := range s.Marks {
		for _, m := range q {
			if m.Why != "" {
				n++
			}
		}
	}
	return n
}

// remark says in words what is wrong with an answer; empty if nothing is.
func remark(m Mark, w sheet.Words) string {
	switch {
	case m.Right:
		return ""
	case len(m.Slips) > 0:
		text := ""
		for i, s := range m.Slips {
			if i > 0 {
				text += " " + w.Or + " "
			}
			text += w.SlipNames[s]
		}
		return text
	case m.Given == "":
		return w.Empty
	case m.Why != "":
		return fmt.Sprintf(w.Unreadable, m.Why)
	}
	return w.NoKnownSlip
}
