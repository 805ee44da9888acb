package diagram

import (
	"encoding/base64"
	"fmt"
	"html"
	"math"
	"strings"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/decode"
)

// A Strip is a straightened body with what is known of its rings.
type Strip struct {
	Title         string // what the drawing shows
	JPEG          []byte // the picture of the body, lying
	Width, Height int    // of the picture in pixels
	Rings         []Ring // above the picture
	Profile       Profile
}

// A Ring is a ring's place along the picture and its colour.
type Ring struct {
	From, To float64 // shares of the picture's width, 0 to 1
	Colour   decode.Colour
}

// A Profile holds the CIELAB values along the picture, left to right: L* from 0
// to 100, a* and b* as they come.
type Profile struct{ L, A, B []float64 }

// The measures of the drawing of a strip, in user units.
const (
	stripLeft   = 34.0
	stripWide   = 400.0
	stripRight  = 26.0
	ringsHigh   = 36.0
	graphHigh   = 64.0
	graphGap    = 12.0
	mostChroma  = 80.0 // of a* and b* on the graph, to both sides
	stripFamily = `font-family="sans-serif" font-size="11"`
)

// Draw gives the strip as SVG: the rings' letters and swatches, the picture,
// and below it L* and then a* and b* along the body.
func (s Strip) Draw() string {
	high := stripWide * float64(s.Height) / float64(s.Width)
	pictureTop := ringsHigh
	if len(s.Rings) == 0 {
		pictureTop = 4
	}
	lightTop := pictureTop + high + graphGap
	hueTop := lightTop + graphHigh + graphGap
	full := hueTop + graphHigh + 4
	wide := stripLeft + stripWide + stripRight

	var b strings.Builder
	fmt.Fprintf(&b, `<svg viewBox="0 0 %g %.1f" width="%g" height="%.1f" role="img" aria-label="%s" %s>`,
		wide, full, wide, full, html.EscapeString(s.Title), stripFamily)
	fmt.Fprintf(&b, `<image x="%g" y="%g" width="%g" height="%.1f" href="data:image/jpeg;base64,%s"/>`,
		stripLeft, pictureTop, stripWide, high, base64.StdEncoding.EncodeToString(s.JPEG))
	for _, r := range s.Rings {
		ink := paint.Of(r.Colour)
		from, to := stripLeft+stripWide*r.From, stripLeft+stripWide*r.To
		fmt.Fprintf(&b, `<text x="%.1f" y="11" text-anchor="middle">%s</text>`, (from+to)/2, r.Colour.Letters())
		fmt.Fprintf(&b, `<rect x="%.1f" y="15" width="%.1f" height="12" fill="#%02x%02x%02x" stroke="#111"/>`, from, max(to-from, 2), ink.R, ink.G, ink.B)
		fmt.Fprintf(&b, `<path d="M%.1f 29V%gM%.1f 29V%g" stroke="#111"/>`, from, ringsHigh, to, ringsHigh)
	}

	graph := func(top, low, high float64, ticks ...float64) func(v float64) float64 {
		y := func(v float64) float64 { return top + graphHigh*(high-min(max(v, low), high))/(high-low) }
		fmt.Fprintf(&b, `<rect x="%g" y="%.1f" width="%g" height="%g" fill="#fff" stroke="#767676"/>`, stripLeft, top, stripWide, graphHigh)
		for _, t := range ticks {
			fmt.Fprintf(&b, `<path d="M%g %.1fh%g" stroke="#ddd"/><text x="%g" y="%.1f" text-anchor="end">%g</text>`,
				stripLeft, y(t), stripWide, stripLeft-4, y(t)+4, t)
		}
		return y
	}
	light := graph(lightTop, 0, 100, 0, 50, 100)
	named(&b, "L*", curve(&b, s.Profile.L, light, `stroke="#111"`))
	hue := graph(hueTop, -mostChroma, mostChroma, -50, 0, 50)
	endA := curve(&b, s.Profile.A, hue, `stroke="#a3123f" stroke-dasharray="6 3"`)
	endB := curve(&b, s.Profile.B, hue, `stroke="#123f7a" stroke-dasharray="1.5 2.5"`)
	endA, endB = apart(endA, endB)
	named(&b, "a*", endA)
	named(&b, "b*", endB)
	b.WriteString("</svg>")
	return b.String()
}

// curve draws values along the strip and returns where it ends.
func curve(b *strings.Builder, values []float64, y func(float64) float64, stroke string) float64 {
	if len(values) == 0 {
		return y(0)
	}
	b.WriteString(`<path fill="none" stroke-width="1.5" ` + stroke + ` d="`)
	for i, v := range values {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		fmt.Fprintf(b, "%s%.0f %.1f", letter, stripLeft+stripWide*(float64(i)+0.5)/float64(len(values)), y(v))
	}
	b.WriteString(`"/>`)
	return y(values[len(values)-1])
}

// named writes a curve's name where it ends.
func named(b *strings.Builder, name string, y float64) {
	fmt.Fprintf(b, `<text x="%g" y="%.1f">%s</text>`, stripLeft+stripWide+5, y+4, name)
}

// apart moves two names apart that would lie on each other.
func apart(a, b float64) (float64, float64) {
	const line = 11.0
	short := (line - math.Abs(a-b)) / 2
	switch {
	case short <= 0:
		return a, b
	case a <= b:
		return a - short, b + short
	}
	return a + short, b - short
}
