package printed

import (
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"strings"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/sheet/strip"
)

//go:embed sheet.html
var sheetHTML string

// HTML writes a document as one HTML page that needs no other file.
func HTML(w io.Writer, doc sheet.Document, look Look) error {
	page, err := template.New("sheet").Funcs(template.FuncMap{
		"figure": func(f sheet.Figure) (template.HTML, error) { return figure(doc, look, f) },
	}).Parse(sheetHTML)
	if err != nil {
		return err
	}
	return page.Execute(w, struct {
		sheet.Document
		Large bool
	}{doc, look.Large})
}

// figure is a photo or a strip as an element with a name for screen readers.
// The letters below a photo say no more than that name.
func figure(doc sheet.Document, look Look, f sheet.Figure) (template.HTML, error) {
	alt := template.HTMLEscapeString(doc.Alt(f))
	p := f.Part.Picture
	if p == nil {
		shapes := strip.Draw(f.Part.Reading.Rings, strip.Style{Grey: look.Grey, Blank: f.Blank && !doc.Filled})
		return drawing(fmt.Sprintf(`role="img" aria-label="%s"`, alt), strip.Height, shapes), nil
	}
	data, err := look.picture(*p)
	if err != nil {
		return "", err
	}
	img := template.HTML(fmt.Sprintf(`<img alt="%s" width="%d" height="%d" src="data:image/jpeg;base64,%s">`,
		alt, p.Width, p.Height, base64.StdEncoding.EncodeToString(data)))
	if tabs := look.tabs(f); tabs != nil {
		img += drawing(`aria-hidden="true"`, strip.TabsHeight, tabs)
	}
	return img, nil
}

// lettersWidth is how wide a ring's two letters are set, in heights of their type:
// a browser's own bold font may have them wider than their tab.
const lettersWidth = 1.4

// drawing is shapes as SVG.
func drawing(attributes string, height float64, shapes []strip.Shape) template.HTML {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg %s viewBox="0 0 %g %g">`, attributes, strip.Width, height)
	for _, shape := range shapes {
		if shape.Text != "" {
			p := shape.Points[0]
			fmt.Fprintf(&b, `<text x="%.2f" y="%.2f" font-size="%g" font-weight="bold" text-anchor="middle" textLength="%.2f" lengthAdjust="spacingAndGlyphs">%s</text>`,
				p.X, p.Y+0.36*shape.Size, shape.Size, lettersWidth*shape.Size, shape.Text)
			continue
		}
		var points []string
		for _, p := range shape.Points {
			points = append(points, fmt.Sprintf("%.2f,%.2f", p.X, p.Y))
		}
		fill, dash := "none", ""
		if shape.Fill.A > 0 {
			fill = fmt.Sprintf("#%02x%02x%02x", shape.Fill.R, shape.Fill.G, shape.Fill.B)
		}
		if shape.Dashed {
			dash = fmt.Sprintf(` stroke-dasharray="%g %g"`, 4*shape.Line, 3*shape.Line)
		}
		fmt.Fprintf(&b, `<polygon points="%s" fill="%s" stroke="#000" stroke-width="%g"%s/>`,
			strings.Join(points, " "), fill, shape.Line, dash)
	}
	b.WriteString("</svg>")
	return template.HTML(b.String())
}
