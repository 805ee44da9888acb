package marking

import (
	"fmt"
	"image/color"
	"io"

	"ringwise/cmd/ringwise/internal/sheet/paper"
)

// barInk fills the chart's bars: dark enough to show in grey.
var barInk = color.RGBA{0x2b, 0x5c, 0x8a, 0xff}

// WritePDF writes the summary as PDF, on one page, and returns its count of
// pages.
func (c Class) WritePDF(out io.Writer, size paper.Size) (pages int, err error) {
	if err := paper.Printable(c.Title); err != nil {
		return 0, err
	}
	p := paper.NewPress(size, false, c.Title+" · "+c.Heading, c.Words.Lang)
	above := []paper.Block{
		p.Text(c.Title, paper.Title, p.Width()),
		p.Text(c.Heading, paper.Strong, p.Width()),
		paper.Space(0.5 * p.Em()),
	}
	for _, line := range c.Lines {
		above = append(above, p.Text(line, paper.Body, p.Width()))
	}
	above = append(above, paper.Space(0.8*p.Em()), p.Text(c.Words.ShareRight, paper.Head, p.Width()), paper.Space(0.3*p.Em()))
	below := []paper.Block{paper.Space(0.8 * p.Em()), p.Text(c.Words.SlipHeading, paper.Head, p.Width())}
	for _, line := range c.Slips {
		below = append(below, p.Text("– "+line, paper.Body, p.Width()))
	}
	room := p.Height() - paper.Stack(0, above...).Height - paper.Stack(0, below...).Height
	step := min(1.9*p.Em(), room/float64(len(c.Questions)))
	blocks := above
	for _, t := range c.Questions {
		blocks = append(blocks, bar(p, c, t, step))
	}
	pages, err = p.Flow([][]paper.Block{append(blocks, below...)}, 0, func(page, pages int) string {
		return c.Heading + " · " + fmt.Sprintf(c.Words.Page, page, pages)
	})
	if err != nil {
		return 0, err
	}
	return pages, p.Write(out)
}

// bar is one question of the chart: its number and kind, a bar as long as the
// share of right boxes in a frame that stands for all, and the counts.
func bar(p *paper.Press, c Class, t Tally, height float64) paper.Block {
	face := paper.Face{Scale: min(0.9, 0.72*height/p.Em())}
	name := p.Text(fmt.Sprintf("%d · %s", t.Number, t.Kind), face, 0.38*p.Width())
	count := p.Text(fmt.Sprintf(c.Words.RightOf, t.Right, t.Of, t.Percent()), face, 0.24*p.Width())
	from, width := 0.38*p.Width(), 0.38*p.Width()
	return paper.Block{Width: p.Width(), Height: height, Draw: func(x, y float64) {
		name.Draw(x, y)
		p.Fill(x+from, y+0.1*height, width*float64(t.Right)/float64(t.Of), 0.7*height, barInk)
		p.Polygon([][2]float64{{x + from, y + 0.1*height}, {x + from + width, y + 0.1*height},
			{x + from + width, y + 0.8*height}, {x + from, y + 0.8*height}}, color.RGBA{}, 0.2, false)
		count.Draw(x+from+width+0.5*p.Em(), y)
	}}
}
