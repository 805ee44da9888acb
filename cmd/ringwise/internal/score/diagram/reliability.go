// Package diagram draws figures of reading as SVG. Every drawing has a title
// and a description for those who cannot see it, and tells nothing by colour
// alone.
package diagram

import (
	"fmt"
	"html"
	"strings"

	"ringwise/cmd/ringwise/internal/score"
)

// The measures of the reliability diagram, in user units.
const (
	plotSide          = 400.0 // of the square from 0 to 100 % on both axes
	plotLeft, plotTop = 70.0, 20.0
	diagramWidth      = plotLeft + plotSide + 30
	diagramHeight     = plotTop + plotSide + 90
)

const diagramStyle = `<style>` +
	`text{font:13px sans-serif;fill:#111}` +
	`.frame{fill:none;stroke:#111}` +
	`.grid{stroke:#ccc}` +
	`.even{stroke:#555;stroke-dasharray:6 4}` +
	`.bar{fill:#dbe6f4;stroke:#6b87ad}` +
	`.span{stroke:#111;stroke-width:2;fill:none}` +
	`.dot{fill:#123f7a;stroke:#fff}` +
	`</style>`

// Reliability draws, for each step of confidence, the share that was right
// over the mean confidence, with its 95 % Wilson interval and the number of
// readings. title says what was measured. Dots on the dashed line are honest;
// below it confidence is too high.
func Reliability(title string, bins []score.Bin) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" width="%g" height="%g" role="img" aria-labelledby="reliability-title reliability-words">`,
		diagramWidth, diagramHeight, diagramWidth, diagramHeight)
	fmt.Fprintf(&b, "\n<title id=\"reliability-title\">%s</title>\n<desc id=\"reliability-words\">%s</desc>\n%s\n",
		html.EscapeString(title), html.EscapeString(Told(bins)), diagramStyle)
	fmt.Fprintf(&b, "<rect width=\"%g\" height=\"%g\" fill=\"#fff\"/>\n", diagramWidth, diagramHeight)

	x := func(share float64) float64 { return plotLeft + plotSide*share }
	y := func(share float64) float64 { return plotTop + plotSide*(1-share) }
	line := func(class string, x1, y1, x2, y2 float64) {
		fmt.Fprintf(&b, "<path class=\"%s\" d=\"M%.1f %.1fL%.1f %.1f\"/>\n", class, x1, y1, x2, y2)
	}
	text := func(x, y float64, anchor, words string) {
		fmt.Fprintf(&b, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>\n", x, y, anchor, words)
	}

	for tenths := 0; tenths <= 10; tenths += 2 {
		at := float64(tenths) / 10
		line("grid", x(0), y(at), x(1), y(at))
		text(x(0)-8, y(at)+4, "end", fmt.Sprint(10*tenths))
		text(x(at), y(0)+18, "middle", fmt.Sprint(10*tenths))
	}
	for _, bin := range bins {
		if bin.Right.Total > 0 {
			right := share(bin.Right)
			fmt.Fprintf(&b, "<rect class=\"bar\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"/>\n",
				x(bin.Low)+3, y(right), x(bin.High)-x(bin.Low)-6, y(0)-y(right))
		}
		text(x((bin.Low+bin.High)/2), y(0)+40, "middle", fmt.Sprint(bin.Right.Total))
	}
	line("even", x(0), y(0), x(1), y(1))
	for _, bin := range bins {
		if bin.Right.Total == 0 {
			continue
		}
		low, high := bin.Right.Wilson()
		at := x(bin.Mean)
		line("span", at, y(low), at, y(high))
		line("span", at-5, y(low), at+5, y(low))
		line("span", at-5, y(high), at+5, y(high))
		fmt.Fprintf(&b, "<circle class=\"dot\" cx=\"%.1f\" cy=\"%.1f\" r=\"5\"/>\n", at, y(share(bin.Right)))
	}
	fmt.Fprintf(&b, "<rect class=\"frame\" x=\"%g\" y=\"%g\" width=\"%g\" height=\"%g\"/>\n", x(0), y(1), plotSide, plotSide)
	text(x(0)-8, y(0)+40, "end", "readings")
	text(x(0.5), y(0)+64, "middle", "confidence, %")
	fmt.Fprintf(&b, "<text transform=\"translate(%.1f %.1f) rotate(-90)\" text-anchor=\"middle\">right, %%</text>\n", plotLeft-44, y(0.5))
	b.WriteString("</svg>\n")
	return b.String()
}

// Told tells in words what the reliability diagram shows.
func Told(bins []score.Bin) string {
	var b strings.Builder
	b.WriteString("Share that was right over confidence, with 95 % Wilson intervals; on the dashed line confidence is honest.")
	for _, bin := range bins {
		fmt.Fprintf(&b, " Confidence %.0f to %.0f %%: ", 100*bin.Low, 100*bin.High)
		if bin.Right.Total == 0 {
			b.WriteString("no readings.")
			continue
		}
		fmt.Fprintf(&b, "%d of %d right.", bin.Right.Count, bin.Right.Total)
	}
	return b.String()
}

func share(s score.Share) float64 { return float64(s.Count) / float64(s.Total) }
