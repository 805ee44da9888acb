package printed

import (
	"crypto/sha256"
	"fmt"
	"io"
	"slices"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/sheet/paper"
	"ringwise/cmd/ringwise/internal/sheet/strip"
)

// A setter turns a document into blocks for one press.
type setter struct {
	*paper.Press
	doc  sheet.Document
	look Look
	err  error // the first of a picture
}

// PDF writes a document as PDF and returns its count of pages.
func PDF(w io.Writer, doc sheet.Document, look Look, size paper.Size) (pages int, err error) {
	for _, text := range []string{doc.Title, doc.Heading} {
		if err := paper.Printable(text); err != nil {
			return 0, err
		}
	}
	for _, text := range doc.Notes {
		if err := paper.Printable(text); err != nil {
			return 0, err
		}
	}
	s := &setter{Press: paper.NewPress(size, look.Large, doc.Title+" · "+doc.Heading, doc.Words.Lang), doc: doc, look: look}
	groups := [][]paper.Block{s.head()}
	for _, item := range doc.Items {
		groups = append(groups, s.item(item)...)
	}
	last := len(groups) - 1 // no page has the foot alone
	groups[last] = append(groups[last], paper.Space(s.Em()), s.Text(doc.Foot, paper.Small, s.Width()))
	if s.err != nil {
		return 0, s.err
	}
	gap := 1.6
	if look.Large {
		gap = 1
	}
	pages, err = s.Flow(groups, gap*s.Em(), func(page, pages int) string {
		return doc.Heading + " · " + fmt.Sprintf(doc.Words.Page, page, pages)
	})
	if err != nil {
		return 0, err
	}
	return pages, s.Write(w)
}

// head is the title, the lines to fill in and the notes.
func (s *setter) head() []paper.Block {
	blocks := []paper.Block{
		s.Text(s.doc.Title, paper.Title, s.Width()),
		s.Text(s.doc.Heading, paper.Strong, s.Width()),
		paper.Space(0.4 * s.Em()),
	}
	if len(s.doc.Lines) > 0 {
		blocks = append(blocks, s.lines(), paper.Space(0.6*s.Em()))
	}
	for _, note := range s.doc.Notes {
		blocks = append(blocks, s.Text(note, paper.Small, s.Width()), paper.Space(0.25*s.Em()))
	}
	return append(blocks, paper.Space(0.3*s.Em()), s.Rule())
}

// lines are lines to fill in, the first the longest; in large print it has a
// row of its own.
func (s *setter) lines() paper.Block {
	shares := []float64{0.54, 0.23, 0.23}
	if s.look.Large {
		shares = []float64{1, 0.5, 0.5}
	}
	gap := s.Em()
	var blocks []paper.Block
	for i, label := range s.doc.Lines {
		width := shares[i%len(shares)]*(s.Width()+gap) - gap
		text := s.Text(label, paper.Body, width)
		blocks = append(blocks, paper.Block{Width: width, Height: text.Height + 0.3*s.Em(), Draw: func(x, y float64) {
			text.Draw(x, y)
			from := x + text.Width + 0.5*s.Em()
			s.Polygon([][2]float64{{from, y + text.Height}, {x + width, y + text.Height}}, none, 0.3, false)
		}})
	}
	return paper.Stack(0.4*s.Em(), paper.Rows(gap, s.Width(), blocks...)...)
}

// item is one question: its words, figures, boxes and cautions, and with the
// answers the way to them. In large print, of which a page holds little, that way
// is a group of its own, which may go to the next page and so names its question.
func (s *setter) item(item sheet.Item) [][]paper.Block {
	small := paper.Space(0.45 * s.Em())
	points := s.Text(item.Points, paper.Small, s.Width())
	heading := s.Text(item.Heading, paper.Head, s.Width()-points.Width-s.Em())
	top := paper.Block{Width: s.Width(), Height: heading.Height, Draw: func(x, y float64) {
		heading.Draw(x, y)
		points.Draw(x+s.Width()-points.Width, y+0.25*s.Em())
	}}
	blocks := []paper.Block{paper.Stack(0, top, s.Text(item.Ask, paper.Body, s.Width())), small}
	for _, caution := range item.Cautions {
		text := s.Text(s.doc.Words.Caution+": "+caution, paper.Strong, s.Width()-s.Em())
		blocks = append(blocks, s.Barred(text), small)
	}
	var figures []paper.Block
	for _, f := range item.Figures {
		figures = append(figures, s.figure(f))
	}
	for _, row := range paper.Rows(1.4*s.Em(), s.Width(), figures...) {
		blocks = append(blocks, row, small)
	}
	var boxes []paper.Block
	for _, field := range item.Boxes {
		boxes = append(boxes, s.box(field, len(item.Boxes)))
	}
	for _, row := range paper.Rows(0.6*s.Em(), s.Width(), boxes...) {
		blocks = append(blocks, row, small)
	}
	way := s.doc.Words.Worked + ":"
	if s.look.Large {
		way = fmt.Sprintf("%d · %s", item.Number, way)
	}
	var worked []paper.Block
	for i, step := range slices.Concat(item.Steps, item.Remarks) {
		b := paper.Indent(s.Em(), s.Text(step, paper.Body, s.Width()-s.Em()))
		if i == 0 {
			b = paper.Stack(0, s.Text(way, paper.Strong, s.Width()), b)
		}
		worked = append(worked, b)
	}
	switch {
	case len(worked) == 0:
		return [][]paper.Block{blocks[:len(blocks)-1]}
	case s.look.Large:
		return [][]paper.Block{blocks[:len(blocks)-1], worked}
	}
	return [][]paper.Block{append(blocks, worked...)}
}

// Widths of a figure in body sizes; two stand beside each other in large print
// too.
const (
	figureWidth      = 16.0
	largeFigureWidth = 12.0
)

// figure is a photo or a strip, with its letter before it.
func (s *setter) figure(f sheet.Figure) paper.Block {
	width := figureWidth * s.Em()
	if s.look.Large {
		width = largeFigureWidth * s.Em()
	}
	height := width * strip.Height / strip.Width
	var b paper.Block
	if p := f.Part.Picture; p != nil {
		data, err := s.look.picture(*p)
		if err != nil && s.err == nil {
			s.err = err
		}
		b = s.Picture(fmt.Sprintf("%x", sha256.Sum256(data)), data, width, height)
		if tabs := s.look.tabs(f); tabs != nil {
			b = paper.Stack(0, b, s.drawn(tabs, width, width*strip.TabsHeight/strip.Width))
		}
	} else {
		shapes := strip.Draw(f.Part.Reading.Rings, strip.Style{Grey: s.look.Grey, Blank: f.Blank && !s.doc.Filled})
		b = s.drawn(shapes, width, height)
	}
	if f.Part.Unchecked {
		b = paper.Stack(0, b, s.centred(s.doc.Words.UncheckedMark, width))
	}
	if f.Label == "" {
		return b
	}
	label := s.Text(f.Label, paper.Head, s.Width())
	label.Width = 1.2 * s.Em()
	return paper.Row(0, label, b)
}

func (s *setter) centred(text string, width float64) paper.Block {
	b := s.Text(text, paper.Strong, width)
	return paper.Block{Width: width, Height: b.Height, Draw: func(x, y float64) { b.Draw(x+(width-b.Width)/2, y) }}
}

// drawn is a block of shapes.
func (s *setter) drawn(shapes []strip.Shape, width, height float64) paper.Block {
	scale := width / strip.Width
	return paper.Block{Width: width, Height: height, Draw: func(x, y float64) {
		for _, shape := range shapes {
			points := make([][2]float64, len(shape.Points))
			for i, p := range shape.Points {
				points[i] = [2]float64{x + p.X*scale, y + p.Y*scale}
			}
			if shape.Text != "" {
				s.Centred(shape.Text, points[0][0], points[0][1], shape.Size*scale)
				continue
			}
			s.Polygon(points, shape.Fill, shape.Line, shape.Dashed)
		}
	}}
}

// Sizes of a box in body sizes.
const (
	boxPad = 0.35
	// Height without the label.
	boxInside, largeBoxInside = 1.9, 1.5

	// Boxes in a row; fewer in large print, where each is as wide for its type.
	leastInRow, mostInRow           = 3, 5
	leastInLargeRow, mostInLargeRow = 2, 3
)

// box is one of so many fields of a question: its name and label, and room
// for the answer.
func (s *setter) box(field sheet.Field, of int) paper.Block {
	pad, gap := boxPad*s.Em(), 0.6*s.Em()
	least, most, room := leastInRow, mostInRow, boxInside
	if s.look.Large {
		least, most, room = leastInLargeRow, mostInLargeRow, largeBoxInside
	}
	rows := (of + most - 1) / most
	inRow := max((of+rows-1)/rows, least)
	width := (s.Width() - float64(inRow-1)*gap) / float64(inRow)
	label := s.Text(field.Name+" "+field.Label, paper.Small, width-2*pad)
	answer := s.Text(field.Answer, paper.Strong, width-2*pad)
	inside := paper.Stack(0, label, answer)
	height := label.Height + max(answer.Height, room*s.Em()) + 2*pad
	return s.Box(width, height, pad, inside)
}
