// Package paper sets text and drawings on pages of PDF. It breaks lines and
// pages so that nothing is cut off, and knows nothing of what is printed.
package paper

import (
	"fmt"
	"image/color"
	"io"
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

// Sizes of type in points, and the margin in millimetres.
const (
	bodySize  = 10.5
	largeBody = 18.0 // large print (common practice, no source)
	margin    = 16.0
	lead      = 1.32 // from line to line, in heights of the type
	perPoint  = 25.4 / 72
	footSize  = 12.0 // at most
	footSpace = 9.0
	nearly    = 1e-6 // what sums of heights may be off
)

// A Face is a kind of type: how large, in body sizes, and how heavy.
type Face struct {
	Scale float64
	Bold  bool
}

// The faces.
var (
	Body   = Face{1, false}
	Strong = Face{1, true}
	Small  = Face{0.86, false}
	Head   = Face{1.15, true}
	Title  = Face{1.6, true}
)

// A Press prints one PDF.
type Press struct {
	pdf  *fpdf.Fpdf
	size Size
	body float64 // points
}

// NewPress opens a PDF. title and language are for the reader program.
func NewPress(size Size, large bool, title, language string) *Press {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: size.Width, Ht: size.Height}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(margin, margin, margin)
	pdf.SetCellMargin(0)
	pdf.SetTitle(title, true)
	pdf.SetCreator("Ringwise", true)
	pdf.SetLang(language)
	for _, f := range fonts {
		pdf.AddUTF8FontFromBytes("go", f.style, f.data)
	}
	p := &Press{pdf: pdf, size: size, body: bodySize}
	if large {
		p.body = largeBody
	}
	p.face(Body)
	return p
}

// Width is the width between the margins.
func (p *Press) Width() float64 { return p.size.Width - 2*margin }

// Height is the height between the margins and above the foot.
func (p *Press) Height() float64 { return p.size.Height - 2*margin - footSpace }

// Em is the height of body type in millimetres, by which spaces are measured.
func (p *Press) Em() float64 { return p.body * perPoint }

func (p *Press) face(f Face) {
	style := ""
	if f.Bold {
		style = "B"
	}
	p.pdf.SetFont("go", style, f.Scale*p.body)
}

// TextWidth is how wide a text is in one line.
func (p *Press) TextWidth(text string, f Face) float64 {
	p.face(f)
	return p.pdf.GetStringWidth(text)
}

// Text is a block of text broken into lines of at most the width. It is as
// wide as its longest line.
func (p *Press) Text(text string, f Face, width float64) Block {
	lines := p.lines(text, f, width)
	step := f.Scale * p.Em() * lead
	b := Block{Height: step * float64(len(lines))}
	for _, l := range lines {
		b.Width = max(b.Width, p.TextWidth(l, f))
	}
	b.Draw = func(x, y float64) {
		p.face(f)
		p.pdf.SetTextColor(0, 0, 0)
		for i, l := range lines {
			p.pdf.Text(x, y+float64(i)*step+f.Scale*p.Em()*1.02, l)
		}
	}
	return b
}

// lines breaks a text between words, and a word that is too long within.
func (p *Press) lines(text string, f Face, width float64) []string {
	p.face(f)
	var lines []string
	line := ""
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(blanks, r) }) {
		if line != "" && p.pdf.GetStringWidth(line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = word
		for p.pdf.GetStringWidth(line) > width {
			head := p.head(line, width)
			lines, line = append(lines, head), line[len(head):]
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// head is the longest start of a word that is no wider than the width, at
// least one sign, and short of the whole.
func (p *Press) head(word string, width float64) string {
	end := 0
	for i := range word {
		if end > 0 && p.pdf.GetStringWidth(word[:i]) > width {
			break
		}
		end = i
		if i == 0 {
			end = len(string([]rune(word)[:1]))
		}
	}
	return word[:end]
}

// Box is a frame of a fixed size with a block inside.
func (p *Press) Box(width, height, pad float64, inside Block) Block {
	return Block{width, height, func(x, y float64) {
		p.pdf.SetDrawColor(0, 0, 0)
		p.pdf.SetLineWidth(0.3)
		p.pdf.Rect(x, y, width, height, "D")
		inside.Draw(x+pad, y+pad)
	}}
}

// Barred is a block with a thick bar down its left side.
func (p *Press) Barred(b Block) Block {
	gap := p.Em() * 0.7
	return Block{b.Width + gap, b.Height, func(x, y float64) {
		p.Fill(x, y, p.Em()*0.25, b.Height, color.RGBA{0, 0, 0, 255})
		b.Draw(x+gap, y)
	}}
}

// Rule is a line across the page.
func (p *Press) Rule() Block {
	return Block{p.Width(), 0.3, func(x, y float64) { p.Fill(x, y, p.Width(), 0.3, color.RGBA{0, 0, 0, 255}) }}
}

// Fill fills a rectangle.
func (p *Press) Fill(x, y, width, height float64, c color.RGBA) {
	p.pdf.SetFillColor(int(c.R), int(c.G), int(c.B))
	p.pdf.Rect(x, y, width, height, "F")
}

// Polygon draws an outline of pairs of x and y, filled unless the fill is
// transparent, with a black line of the width unless that is 0.
func (p *Press) Polygon(points [][2]float64, fill color.RGBA, line float64, dashed bool) {
	if len(points) == 2 {
		points = append(points, points[1]) // fewer than three are not drawn
	}
	list := make([]fpdf.PointType, len(points))
	for i, q := range points {
		list[i] = fpdf.PointType{X: q[0], Y: q[1]}
	}
	style := ""
	if fill.A > 0 {
		p.pdf.SetFillColor(int(fill.R), int(fill.G), int(fill.B))
		style += "F"
	}
	if line > 0 {
		p.pdf.SetDrawColor(0, 0, 0)
		p.pdf.SetLineWidth(line)
		style = "D" + style
	}
	if dashed {
		p.pdf.SetDashPattern([]float64{4 * line, 3 * line}, 0)
		defer p.pdf.SetDashPattern(nil, 0)
	}
	p.pdf.Polygon(list, style)
}

// Centred writes one line of bold type of a height, in millimetres, round a
// point.
func (p *Press) Centred(text string, x, y, height float64) {
	p.pdf.SetFont("go", "B", height/perPoint)
	p.pdf.SetTextColor(0, 0, 0)
	p.pdf.Text(x-p.pdf.GetStringWidth(text)/2, y+0.36*height, text)
}

// Picture is a JPEG of the width and height in millimetres. The name tells
// pictures apart: one that is shown again is stored once.
func (p *Press) Picture(name string, jpeg []byte, width, height float64) Block {
	options := fpdf.ImageOptions{ImageType: "JPG"}
	if p.pdf.GetImageInfo(name) == nil {
		p.pdf.RegisterImageOptionsReader(name, options, strings.NewReader(string(jpeg)))
	}
	return Block{width, height, func(x, y float64) {
		p.pdf.ImageOptions(name, x, y, width, height, false, options, 0, "")
		p.pdf.SetDrawColor(0, 0, 0)
		p.pdf.SetLineWidth(0.2)
		p.pdf.Rect(x, y, width, height, "D")
	}}
}

// Flow puts groups of blocks on pages. A group stays on one page if it is no
// higher than a page; if it is, its blocks stand where they have room. foot
// gives the line at the foot of each page. It returns the count of pages.
func (p *Press) Flow(groups [][]Block, gap float64, foot func(page, pages int) string) (int, error) {
	room := p.Height()
	type placed struct {
		block Block
		page  int
		y     float64
	}
	var list []placed
	page, y := 1, 0.0
	put := func(b Block) error {
		if b.Height > room+nearly {
			return fmt.Errorf("a block of %.0f mm does not fit on a page of %.0f mm: use shorter texts", b.Height, room)
		}
		if y > 0 && y+b.Height > room+nearly {
			page, y = page+1, 0
		}
		list = append(list, placed{b, page, y})
		y += b.Height
		return nil
	}
	for _, g := range groups {
		if whole := Stack(0, g...); whole.Height <= room+nearly {
			g = []Block{whole}
		}
		for _, b := range g {
			if err := put(b); err != nil {
				return 0, err
			}
		}
		y += gap
	}
	for n := 1; n <= page; n++ {
		p.pdf.AddPage()
		for _, b := range list {
			if b.page == n {
				b.block.Draw(margin, margin+b.y)
			}
		}
		line := p.Text(foot(n, page), Face{min(0.86, footSize/p.body), false}, p.Width())
		line.Draw(margin, p.size.Height-margin-line.Height+2)
	}
	return page, p.pdf.Error()
}

// Write finishes the PDF.
func (p *Press) Write(w io.Writer) error { return p.pdf.Output(w) }
