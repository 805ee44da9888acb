// Package page writes a score as one page that needs nothing else: figures,
// groups, colours taken for others, and the worst failures with their strips.
package page

import (
	"cmp"
	"context"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"time"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/score"
	"ringwise/cmd/ringwise/internal/score/diagram"
	"ringwise/decode"
	"ringwise/vision"
)

//go:embed page.html
var text string

var layout = template.Must(template.New("page").Funcs(template.FuncMap{
	"count":    photos,
	"percent":  score.Share.Percent,
	"interval": interval,
	"hundred":  func(x float64) string { return fmt.Sprintf("%.1f", 100*x) },
	"step":     func(x float64) string { return fmt.Sprintf("%.0f", 100*x) },
	"next":     func(i int) int { return i + 1 },
	"ece":      func(x float64) string { return fmt.Sprintf("%.3f", x) },
	"ratio":    func(x float64) string { return fmt.Sprintf("%.1f", x) },
}).Parse(text))

// A section is one kind of failure.
type section struct {
	ID, Title, Words string
	All              int
	Failures         []failure
}

// A table holds the rows of one circumstance, or of the sets.
type table struct {
	Caption string
	Rows    []row
}

type row struct {
	Name string
	score.Tally
}

// A colourRow is one true colour of the confusion matrix.
type colourRow struct {
	Colour decode.Colour
	Cells  []cell
	Right  score.Share
	Missed int
}

type cell struct {
	Count int
	Right bool
}

// Write writes the score, with at most so many failures of each kind. It opens
// their photos again; one that cannot be opened is said so on the page.
func Write(ctx context.Context, w io.Writer, card *score.Card, at time.Time, worst int) error {
	tally := card.Tally()
	confusion := card.Confusion()
	sections := sectionsOf(card, worst)
	if err := drawAll(ctx, sections); err != nil {
		return err
	}
	return layout.Execute(w, map[string]any{
		"Date":        at.Format("2006-01-02"),
		"Card":        card,
		"Tally":       tally,
		"Diagram":     template.HTML(diagram.Reliability("Reliability of confidence", tally.Reliability)),
		"Groups":      groupTables(card),
		"Confusion":   confusion,
		"Letters":     letters(),
		"Colours":     colourRows(confusion),
		"Sections":    sections,
		"PeakAboveMB": peakAbove(card),
	})
}

// sectionsOf lists what went wrong, the worst kind first.
func sectionsOf(card *score.Card, worst int) []section {
	var bad []failure
	for _, f := range card.FalselySure() {
		bad = append(bad, ofFalseBody(f))
	}
	sure := section{ID: "sure", Title: "Sure but wrong", All: len(bad),
		Words: "Called sure, though the first reading is wrong, the rings alone cannot tell, or there is no resistor: what must never happen."}
	sure.Failures = bad[:min(worst, len(bad))]
	sure.take(card.WronglySure(), worst)

	wrong := section{ID: "wrong", Title: "Wrong with high confidence",
		Words: "Found and not called sure, and the first reading is wrong. High confidence first."}
	wrong.take(card.Wrong(), worst)

	missed := section{ID: "missed", Title: "Missed",
		Words: "No reported body matches them. Long bodies first."}
	missed.take(card.Missed(), worst)

	other := section{ID: "other", Title: "Read where no resistor is",
		Words: "Not called sure, but with a reading. High confidence first."}
	for _, f := range card.FalseBodies() {
		if f.Sure() {
			continue
		}
		other.All++
		if other.All <= worst {
			other.Failures = append(other.Failures, ofFalseBody(f))
		}
	}
	return []section{sure, wrong, missed, other}
}

// take adds labelled parts to a section, as long as there is room.
func (s *section) take(parts []score.Labelled, worst int) {
	s.All += len(parts)
	for _, l := range parts[:min(len(parts), max(0, worst-len(s.Failures)))] {
		s.Failures = append(s.Failures, ofPart(l))
	}
}

// drawAll draws the strips of all failures, with each photo opened once.
func drawAll(ctx context.Context, sections []section) error {
	of := map[string][]*failure{}
	for _, s := range sections {
		for i := range s.Failures {
			f := &s.Failures[i]
			of[f.photo.Path()] = append(of[f.photo.Path()], f)
		}
	}
	for path, failures := range of {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err := drawPhoto(ctx, path, failures); err != nil {
			for _, f := range failures {
				f.Trouble = cmp.Or(f.Trouble, err.Error())
			}
		}
	}
	return nil
}

// drawPhoto draws the strips of all failures of one photo.
func drawPhoto(ctx context.Context, path string, failures []*failure) error {
	data, err := photoread.File(path).Load()
	if err != nil {
		return err
	}
	photo, err := vision.Open(ctx, data)
	if err != nil {
		return err
	}
	defer photo.Close()
	for _, f := range failures {
		if err := f.draw(f, photo); err != nil {
			f.Trouble = err.Error()
		}
	}
	return nil
}

// groupTables gathers the groups by their circumstance.
func groupTables(card *score.Card) []table {
	var tables []table
	for _, g := range card.Groups() {
		if len(tables) == 0 || tables[len(tables)-1].Caption != g.By {
			tables = append(tables, table{Caption: g.By})
		}
		last := &tables[len(tables)-1]
		last.Rows = append(last.Rows, row{g.Name, g.Tally()})
	}
	return tables
}

func letters() []decode.Colour {
	var all []decode.Colour
	for c := range decode.Colour(decode.ColourCount) {
		all = append(all, c)
	}
	return all
}

func colourRows(t score.Confusion) []colourRow {
	var rows []colourRow
	for _, colour := range letters() {
		r := colourRow{Colour: colour, Right: t.Row(colour), Missed: t.Missed[colour]}
		for read, n := range t.Taken[colour] {
			r.Cells = append(r.Cells, cell{n, decode.Colour(read) == colour})
		}
		rows = append(rows, r)
	}
	return rows
}

func peakAbove(card *score.Card) int64 {
	if card.Effort == nil {
		return 0
	}
	return card.Effort.PeakAbove() >> 20
}

// photos is a number of photos in words.
func photos(n int) string {
	if n == 1 {
		return "1 photo"
	}
	return fmt.Sprintf("%d photos", n)
}

// interval gives the 95 % Wilson interval in percent.
func interval(s score.Share) string {
	if s.Total == 0 {
		return "-"
	}
	low, high := s.Wilson()
	return fmt.Sprintf("%.1f to %.1f", 100*low, 100*high)
}

// picture is a picture within the page.
func picture(jpeg []byte, width int, alt string) template.HTML {
	return template.HTML(fmt.Sprintf(`<img width="%d" alt="%s" src="data:image/jpeg;base64,%s">`,
		width, template.HTMLEscapeString(alt), base64.StdEncoding.EncodeToString(jpeg)))
}
