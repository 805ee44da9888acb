package score

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"ringwise/decode"
)

// PrintSummary writes the shares and the effort.
func (c *Card) PrintSummary(w io.Writer) {
	t := tally(c.Labelled)
	found := t.Found
	missed := Share{found.Total - found.Count, found.Total}

	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "photos\t%d\n", c.Photos)
	for _, row := range []struct {
		name  string
		share Share
	}{
		{"found", found},
		{"missed", missed},
		{"first right", t.First},
		{"first three", t.FirstThree},
		{"sure", t.Sure},
		{"wrong among sure", t.WrongSure},
		{"sure of other things", c.sureOfThings()},
	} {
		fmt.Fprintf(table, "%s\t%s\n", row.name, row.share)
	}
	fmt.Fprintf(table, "calibration error\t%.4f (ECE, %d bins)\n", t.ECE, bins)
	fmt.Fprintf(table, "false bodies\t%d in %d photos\n", len(c.False), c.Photos)
	if e := c.Effort; e != nil {
		fmt.Fprintf(table, "CPU time\t%.2f s reading / %.2f s floor = %.2f\n", e.Read.Seconds(), e.Floor.Seconds(), e.Ratio())
		fmt.Fprintf(table, "peak memory\t%d MB above the floor's\n", e.PeakAbove>>20)
	}
	table.Flush()

	if sure := c.falselySure(); len(sure) > 0 {
		fmt.Fprintf(w, "\n!!! SURE OF WHAT IS NO RESISTOR: %d\n", len(sure))
		for _, f := range sure {
			fmt.Fprintf(w, "!!!   %s\n", f.line())
		}
	}
	if len(c.Unopened) > 0 {
		fmt.Fprintf(w, "\nnot opened: %d\n", len(c.Unopened))
		for _, u := range c.Unopened {
			fmt.Fprintf(w, "  %s: %v\n", u.Photo, u.Err)
		}
	}
}

// String gives count/total, the share and its interval in percent.
func (s Share) String() string {
	if s.Total == 0 {
		return "0/0"
	}
	low, high := s.Wilson()
	return fmt.Sprintf("%d/%d\t%.2f %%\t[%.2f, %.2f]", s.Count, s.Total,
		100*float64(s.Count)/float64(s.Total), 100*low, 100*high)
}

// PrintEach writes a line for each labelled part, then one for each false
// body.
func (c *Card) PrintEach(w io.Writer) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "photo\tcentre\tlength px\ttrue\tread\tconfidence\tverdict\tresult")
	for _, l := range c.Labelled {
		read, confidence, verdict := "-", "-", "-"
		if l.Found {
			verdict = l.Reported.Verdict.String()
			read, confidence = best(l.Reported.Candidates)
		}
		fmt.Fprintf(table, "%s\t%.0f,%.0f\t%.0f\t%s\t%s\t%s\t%s\t%s\n", l.Photo.File,
			l.Truth.Body.Centre[0], l.Truth.Body.Centre[1], l.Truth.Body.Length,
			letters(l.Truth.Bands), read, confidence, verdict, l.outcome())
	}
	table.Flush()
	for _, f := range c.False {
		fmt.Fprintln(w, "false: "+f.line())
	}
}

// outcome says in a word what came of the part.
func (l Labelled) outcome() string {
	switch {
	case !l.Found:
		return "miss"
	case l.WronglySure() && len(l.Truth.AltBands) > 0:
		return "SURE OF EITHER"
	case l.WronglySure():
		return "SURE BUT WRONG"
	case l.First():
		return "ok"
	case l.FirstThree():
		return "wrong, among three"
	}
	return "wrong"
}

func (f FalseBody) line() string {
	c := f.Reported.At(0.5, 0.5)
	read, confidence := best(f.Reported.Candidates)
	line := fmt.Sprintf("%s at %.0f,%.0f, %.0f px long, read %s %s, %s", f.Photo.File,
		c.X, c.Y, length(f.Reported.Part), read, confidence, f.Reported.Verdict)
	if kind := f.kind(); kind != "" {
		line += ", on " + kind
	}
	return line
}

// best returns the letters and the confidence of the first candidate.
func best(candidates []decode.Candidate) (rings, confidence string) {
	if len(candidates) == 0 {
		return "-", "-"
	}
	return letters(candidates[0].Rings), fmt.Sprintf("%.3f", candidates[0].Confidence)
}

func letters(rings []decode.Colour) string {
	var words []string
	for _, r := range rings {
		words = append(words, r.Letters())
	}
	return strings.Join(words, " ")
}

// PrintGroups writes a row of shares for each circumstance, then which ring
// colours were taken for which.
func (c *Card) PrintGroups(w io.Writer) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	by := ""
	for _, g := range c.Groups() {
		if g.By != by {
			by = g.By
			fmt.Fprintf(table, "\n%s\tparts\tfound %%\tfirst %%\tthree %%\tsure %%\twrong sure\tECE\n", by)
		}
		t := tally(g.Parts)
		fmt.Fprintf(table, "%s\t%d\t%s\t%s\t%s\t%s\t%d/%d\t%.3f\n", g.Name, len(g.Parts),
			t.Found.percent(), t.First.percent(), t.FirstThree.percent(), t.Sure.percent(),
			t.WrongSure.Count, t.WrongSure.Total, t.ECE)
	}
	table.Flush()

	confusion := c.Confusion()
	fmt.Fprintln(w, "\ntrue ring colour down, read across, in rings of found parts read with the right number of rings")
	table = tabwriter.NewWriter(w, 0, 0, 1, ' ', tabwriter.AlignRight)
	fmt.Fprint(table, "\t")
	for read := range decode.Colour(decode.ColourCount) {
		fmt.Fprint(table, read.Letters(), "\t")
	}
	fmt.Fprint(table, "right %\t\n")
	for colour := range decode.Colour(decode.ColourCount) {
		fmt.Fprint(table, colour.Letters(), "\t")
		row := Share{Count: confusion[colour][colour]}
		for _, n := range confusion[colour] {
			row.Total += n
			if n == 0 {
				fmt.Fprint(table, "·\t")
			} else {
				fmt.Fprint(table, n, "\t")
			}
		}
		fmt.Fprint(table, row.percent(), "\t\n")
	}
	table.Flush()
}

// percent gives the share in percent alone.
func (s Share) percent() string {
	if s.Total == 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f", 100*float64(s.Count)/float64(s.Total))
}
