// Package bundle makes the files that belong to one sheet: questions and answers
// on each size of paper and as HTML, the form to type answers in, and the key.
package bundle

import (
	"bytes"
	"context"
	"io"

	"ringwise/cmd/ringwise/internal/marking"
	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/sheet/paper"
	"ringwise/cmd/ringwise/internal/sheet/printed"
)

// A File is one of the files, complete.
type File struct {
	Name string // such as CODE-questions.pdf
	What string // for people: "questions, PDF A4"
	Data []byte
}

// paperNames are the sizes of paper as people write them.
var paperNames = map[string]string{paper.A4.Name: "A4", paper.Letter.Name: "Letter"}

// Of makes the files of a sheet. It returns the context's error when that ends
// first.
func Of(ctx context.Context, s sheet.Sheet, look printed.Look, sizes []paper.Size) ([]File, error) {
	var files []File
	add := func(name, what string, content func(io.Writer) error) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		var b bytes.Buffer
		if err := content(&b); err != nil {
			return err
		}
		files = append(files, File{name, what, b.Bytes()})
		return nil
	}
	for _, side := range []struct {
		name string
		make func(sheet.Sheet) (sheet.Document, error)
	}{{"questions", sheet.Questions}, {"answers", sheet.Answers}} {
		doc, err := side.make(s)
		if err != nil {
			return nil, err
		}
		name := s.Code + "-" + side.name + look.Suffix()
		for _, size := range sizes {
			suffix := ""
			if size != paper.A4 {
				suffix = "-" + size.Name
			}
			err := add(name+suffix+".pdf", side.name+", PDF "+paperNames[size.Name], func(w io.Writer) error {
				_, err := printed.PDF(w, doc, look, size)
				return err
			})
			if err != nil {
				return nil, err
			}
		}
		if err := add(name+".html", side.name+", HTML", func(w io.Writer) error { return printed.HTML(w, doc, look) }); err != nil {
			return nil, err
		}
	}
	key := sheet.KeyOf(s)
	if err := add(s.Code+"-typed.csv", "form to type answers in, CSV", func(w io.Writer) error { return marking.WriteForm(w, key) }); err != nil {
		return nil, err
	}
	err := add(sheet.KeyFile(s.Code), "key to mark by, JSON", key.Write)
	return files, err
}
