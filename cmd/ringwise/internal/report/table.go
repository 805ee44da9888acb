package report

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/ruler"
	"ringwise/decode"
)

// leastRemark is the fewest columns into which a remark is wrapped, and
// leastBeside the fewest in which it stands beside its part rather than below.
const (
	leastRemark = 24
	leastBeside = 40
)

// below is how far remarks below their parts are set in.
const below = 5

// worthSaying is the least confidence at which another reading is mentioned.
const worthSaying = 0.05

// A Table writes photos for people: a line for each part.
type Table struct {
	w     io.Writer
	ink   paint.Ink
	width int // columns of the terminal, 0 if w is none
}

// NewTable returns a table for w.
func NewTable(w io.Writer) Table {
	t := Table{w: w, ink: paint.InkFor(w)}
	if f, ok := w.(interface{ Fd() uintptr }); ok {
		if width, _, err := term.GetSize(int(f.Fd())); err == nil {
			t.width = width
		}
	}
	return t
}

// A cell is text of a known width on the screen.
type cell struct {
	text    string
	columns int
}

func words(text string) cell { return cell{text, utf8.RuneCountInString(text)} }

// Write writes one photo. Of a photo that could not be read it says nothing:
// that is told as an error.
func (t Table) Write(result photoread.Result) error {
	if result.Err != nil {
		return nil
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", Name(result.Name), count(len(result.Parts)))
	rows := make([][]cell, len(result.Parts))
	remarks := make([]string, len(result.Parts))
	for i, part := range result.Parts {
		rows[i], remarks[i] = t.row(i+1, part)
	}
	widths := make([]int, 6)
	for _, row := range rows {
		for i, c := range row {
			widths[i] = max(widths[i], c.columns)
		}
	}
	for i, row := range rows {
		line, columns := "  ", 2
		for k, c := range row {
			line += c.text + strings.Repeat(" ", widths[k]-c.columns+2)
			columns += widths[k] + 2
		}
		if t.width > 0 && t.width-columns < leastBeside && remarks[i] != "" {
			columns = below
			line = strings.TrimRight(line, " ") + "\n" + strings.Repeat(" ", below)
		}
		hang := "\n" + strings.Repeat(" ", columns)
		line += strings.Join(wrap(remarks[i], t.width-columns), hang)
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	if result.Scale > 0 && len(result.Parts) > 0 {
		b.WriteString("  " + strings.Join(wrap(ruler.Caveat, t.width-2), "\n  ") + "\n")
	}
	_, err := io.WriteString(t.w, b.String())
	return err
}

// row gives the cells of one part and the remark that follows them. An
// unreadable part has no value to show, so the remark says why at once.
func (t Table) row(number int, part photoread.Part) ([]cell, string) {
	row := []cell{words(fmt.Sprint(number)), words(part.Verdict.String())}
	best, ok := part.Best()
	if !ok {
		return row, strings.Join(append([]string{part.Why}, bodyRemark(part)...), "; ")
	}
	rings, columns := t.ink.Rings(best.Rings)
	row = append(row, words(Meaning(best.Reading)), words(best.RKM()), cell{rings, columns},
		words(percent(best.Confidence)))
	return row, remark(part)
}

// remark gathers what else a person should know of a part: why it is not
// sure, what else it may be, and the notes and cautions of the first reading.
func remark(part photoread.Part) string {
	var parts []string
	if part.Why != "" {
		parts = append(parts, strings.TrimSuffix(part.Why, "."))
	}
	if part.Verdict == decode.Check && len(part.Candidates) > 1 {
		for _, c := range part.Candidates[1:min(3, len(part.Candidates))] {
			if c.Confidence < worthSaying {
				break
			}
			parts = append(parts, fmt.Sprintf("or %s (%s) %s", Meaning(c.Reading), lettersOf(c.Rings), percent(c.Confidence)))
		}
	}
	if len(part.Candidates) > 0 {
		for _, note := range part.Candidates[0].Notes {
			if note == part.Why {
				continue // said already
			}
			parts = append(parts, "note: "+strings.TrimSuffix(note, "."))
		}
		for _, caution := range part.Candidates[0].Cautions {
			parts = append(parts, "CAUTION: "+strings.TrimSuffix(caution, "."))
		}
	}
	parts = append(parts, bodyRemark(part)...)
	return strings.Join(parts, "; ")
}

// bodyRemark says how large a body is, where that is known.
func bodyRemark(part photoread.Part) []string {
	if !part.Body.Known() {
		return nil
	}
	return []string{fmt.Sprintf("body %s, estimated; %s", part.Body, part.Body.RatingText())}
}

// wrap breaks text into lines of at most so many columns. It leaves the text
// whole where there is no sensible room for it.
func wrap(text string, columns int) []string {
	if columns < leastRemark {
		return []string{text}
	}
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= columns:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	return append(lines, line)
}

func count(parts int) string {
	switch parts {
	case 0:
		return "no parts found"
	case 1:
		return "1 part"
	}
	return fmt.Sprintf("%d parts", parts)
}

func lettersOf(rings []decode.Colour) string {
	text, _ := paint.Ink{}.Rings(rings)
	return text
}

// percent rounds a probability down to whole percent, so that nothing short of
// certain shows as 100 %.
func percent(p float64) string { return fmt.Sprintf("%d %%", int(100*p+1e-9)) }
