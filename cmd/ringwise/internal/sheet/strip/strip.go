// Package strip draws a row of rings as a flat paper strip: pointed at the end
// that is read first, a bar across it for each ring, and below each bar a tab
// with the ring's letters. Whoever draws it on paper or on a screen finds the
// shapes here.
package strip

import (
	"image/color"
	"slices"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/decode"
)

// Width and Height are the size of a strip, in units of its own.
const (
	Width  = 60.0
	Height = 20.0
)

// Where things lie on a strip.
const (
	top, bottom    = 1.0, 12.0 // the edges of the strip
	shoulder       = 5.0       // where the pointed end gets its full width
	firstBar       = 9.0
	lastBar        = 51.0
	barWidth       = 5.2
	tabWidth       = 7.6
	tabTop, tabEnd = 13.0, 19.4
	letterSize     = 4.6 // height of the letters' type
)

// A Shape is an outline to fill and draw, or letters if Text is set.
type Shape struct {
	Points []Point
	Fill   color.RGBA // none if A is 0
	Line   float64    // width of the black outline, 0 for none
	Dashed bool

	Text string  // centred on the first point
	Size float64 // height of its type
}

// Point is a place on the strip, from its top left corner.
type Point struct{ X, Y float64 }

// A Style says how a strip is drawn.
type Style struct {
	Grey  bool // for printers without colour
	Blank bool // rings and tabs are left empty
}

var (
	paperColour = color.RGBA{0xf3, 0xec, 0xda, 0xff}
	white       = color.RGBA{0xff, 0xff, 0xff, 0xff}
)

// Draw gives the shapes of a strip, those below first.
func Draw(rings []decode.Colour, style Style) []Shape {
	ground := paperColour
	if style.Grey {
		ground = white
	}
	shapes := []Shape{{
		Points: []Point{{0.5, (top + bottom) / 2}, {shoulder, top}, {Width - 0.5, top}, {Width - 0.5, bottom}, {shoulder, bottom}},
		Fill:   ground, Line: 0.3,
	}}
	for i, c := range rings {
		x := centre(i, len(rings))
		bar := box(x-barWidth/2, top, barWidth, bottom-top)
		tab := box(x-tabWidth/2, tabTop, tabWidth, tabEnd-tabTop)
		shapes = append(shapes, Shape{Points: []Point{{x, bottom}, {x, tabTop}, {x, tabTop}}, Line: 0.3})
		if style.Blank {
			shapes = append(shapes, Shape{Points: bar, Fill: white, Line: 0.3, Dashed: true}, Shape{Points: tab, Fill: white, Line: 0.3})
			continue
		}
		shapes = append(shapes, Shape{Points: bar, Fill: ink(c, style.Grey), Line: 0.3})
		shapes = append(shapes, hatching(c, x, style.Grey)...)
		shapes = append(shapes, Shape{Points: tab, Fill: white, Line: 0.3},
			Shape{Points: []Point{{x, (tabTop + tabEnd) / 2}}, Text: c.Letters(), Size: letterSize})
	}
	return shapes
}

// TabsHeight is the height of the tabs alone, below a photo.
const TabsHeight = 7.6

// Tabs gives the letters of rings that lie at those places, as fractions of the
// width: a tab for each below its ring, or beside it where tabs would lie on
// each other, and a line to the ring. Without places the rings are taken to lie
// as on a strip.
func Tabs(rings []decode.Colour, at []float64) []Shape {
	tabs := make([]float64, len(rings))
	for i := range rings {
		tabs[i] = centre(i, len(rings))
		if len(at) == len(rings) {
			tabs[i] = at[i] * Width
		}
	}
	from := slices.Clone(tabs)
	spread(tabs)
	var shapes []Shape
	for i, c := range rings {
		shapes = append(shapes,
			Shape{Points: []Point{{from[i], 0}, {tabs[i], tabTop - bottom}, {tabs[i], tabTop - bottom}}, Line: 0.3},
			Shape{Points: box(tabs[i]-tabWidth/2, tabTop-bottom, tabWidth, tabEnd-tabTop), Fill: white, Line: 0.3},
			Shape{Points: []Point{{tabs[i], (tabTop+tabEnd)/2 - bottom}}, Text: c.Letters(), Size: letterSize})
	}
	return shapes
}

// spread moves rising places apart so that tabs do not lie on each other, and
// keeps them on the strip.
func spread(places []float64) {
	const apart = tabWidth + 0.9
	for range 100 {
		moved := false
		for i := 1; i < len(places); i++ {
			if lack := apart - (places[i] - places[i-1]); lack > 1e-9 {
				places[i-1], places[i], moved = places[i-1]-lack/2, places[i]+lack/2, true
			}
		}
		if !moved {
			break
		}
	}
	low, high := tabWidth/2+0.3, Width-tabWidth/2-0.3
	for i := range places {
		places[i] = max(places[i], low+float64(i)*apart)
	}
	for i := len(places) - 1; i >= 0; i-- {
		places[i] = min(places[i], high-float64(len(places)-1-i)*apart)
	}
}

// centre is the middle of a ring. The last of four and more rings stands a
// little apart, as the tolerance ring does on parts.
func centre(i, count int) float64 {
	places := float64(count - 1)
	if count == 1 {
		return (firstBar + lastBar) / 2
	}
	if count < 4 {
		return firstBar + float64(i)*(lastBar-firstBar)/4.5
	}
	gap := (lastBar - firstBar) / (places + 0.5)
	x := firstBar + float64(i)*gap
	if i == count-1 {
		x += gap / 2
	}
	return x
}

func box(x, y, width, height float64) []Point {
	return []Point{{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}}
}

// ink is the fill of a bar.
func ink(c decode.Colour, grey bool) color.RGBA {
	p := paint.Of(c)
	if !grey {
		return p
	}
	if c == decode.Gold || c == decode.Silver || c == decode.Pink {
		return white // told by hatching
	}
	y := color.GrayModel.Convert(p).(color.Gray).Y
	return color.RGBA{y, y, y, 0xff}
}

// hatching sets gold, silver and pink apart where there is no colour: gold
// with slanting lines, silver with level ones, pink with upright ones.
func hatching(c decode.Colour, x float64, grey bool) []Shape {
	var lines []Shape
	if !grey {
		return nil
	}
	left, right := x-barWidth/2, x+barWidth/2
	line := func(a, b Point) { lines = append(lines, Shape{Points: []Point{a, b, b}, Line: 0.3}) }
	switch c {
	case decode.Gold:
		for y := top + barWidth/2; y <= bottom; y += 1.4 {
			line(Point{left, y}, Point{right, y - barWidth/2})
		}
	case decode.Silver:
		for y := top + 1; y < bottom; y += 1.4 {
			line(Point{left, y}, Point{right, y})
		}
	case decode.Pink:
		for u := left + 1; u < right; u += 1 {
			line(Point{u, top}, Point{u, bottom})
		}
	}
	return lines
}
