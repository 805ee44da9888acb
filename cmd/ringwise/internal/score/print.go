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
	t := c.Tally()
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "photos\t%d\n", c.Photos)
	for _, row := range c.Shares() {
		fmt.Fprintf(table, "%s\t%s\n", row.Name, row.Share)
	}
	fmt.Fprintf(table, "calibration error\t%.4f (ECE, %d bins)\n", t.ECE, bins)
	fmt.Fprintf(table, "false bodies\t%d in %d photos\n", len(c.False), c.Photos)
	if e := c.Effort; e != nil {
		fmt.Fprintf(table, "CPU time\t%.2f s reading / %.2f s floor = %.2f\n", e.Read.Seconds(), e.Floor.Seconds(), e.Ratio())
		fmt.Fprintf(table, "peak memory\t%d MB above the floor's\n", e.PeakAbove()>>20)
	}
	table.Flush()

	if len(c.Sets) > 1 {
		c.printSets(w)
	}
	if sure := c.FalselySure(); len(sure) > 0 {
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

// A NamedShare is a share with what it is of.
type NamedShare struct {
	Name string
	Share
}

// Shares returns the shares that sum the card up.
func (c *Card) Shares() []NamedShare {
	t := c.Tally()
	return []NamedShare{
		{"found", t.Found},
		{"missed", t.Missed()},
		{"first right", t.First},
		{"first three", t.FirstThree},
		{"sure", t.Sure},
		{"wrong among sure", t.WrongSure},
		{"sure of other things", c.SureOfThings()},
	}
}

// printSets writes a row for each set.
func (c *Card) printSets(w io.Writer) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "\nset\tphotos\t"+shareHeads+"\tfalse bodies\tsure of other things")
	for _, set := range c.Sets {
		things := set.SureOfThings()
		fmt.Fprintf(table, "%s\t%d\t%s\t%d\t%d/%d\n", set.Name, set.Photos, set.Tally().row(), len(set.False), things.Count, things.Total)
	}
	table.Flush()
}

// shareHeads are the heads of the columns that row fills.
const shareHeads = "parts\tfound %\tfirst %\tthree %\tsure %\twrong sure\tECE"

// row is one row of a table of shares.
func (t Tally) row() string {
	return fmt.Sprintf("%d\t%s\t%s\t%s\t%s\t%d/%d\t%.3f", t.Found.Total, t.Found.Percent(), t.First.Percent(),
		t.FirstThree.Percent(), t.Sure.Percent(), t.WrongSure.Count, t.WrongSure.Total, t.ECE)
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
			letters(l.Truth.Bands), read, confidence, verdict, l.Outcome())
	}
	table.Flush()
	for _, f := range c.False {
		fmt.Fprintln(w, "false: "+f.line())
	}
}

// Outcome says in a word what came of the part.
func (l Labelled) Outcome() string {
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
	if kind := f.Kind(); kind != "" {
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

// PrintGroups writes a row of shares for each circumstance, then how far
// confidence can be trusted and which ring colours were taken for which.
func (c *Card) PrintGroups(w io.Writer) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	by := ""
	for _, g := range c.Groups() {
		if g.By != by {
			by = g.By
			fmt.Fprintln(table, "\n"+by+"\t"+shareHeads)
		}
		fmt.Fprintf(table, "%s\t%s\n", g.Name, g.Tally().row())
	}
	table.Flush()
	fmt.Fprintln(w)
	printReliability(w, c.Tally().Reliability)
	fmt.Fprintln(w)
	c.Confusion().print(w)
}

// printReliability writes a row for each step of confidence.
func printReliability(w io.Writer, reliability []Bin) {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "confidence, %\tmean\tright\tright, %\t95 % interval")
	for _, b := range reliability {
		mean, right := "-", "0/0\t-\t-"
		if b.Right.Total > 0 {
			mean, right = fmt.Sprintf("%.1f", 100*b.Mean), b.Right.String()
		}
		fmt.Fprintf(table, "%.0f to %.0f\t%s\t%s\n", 100*b.Low, 100*b.High, mean, right)
	}
	table.Flush()
}

// print writes the colours as a table of their letters.
func (t Confusion) print(w io.Writer) {
	fmt.Fprintf(w, `ring colours, true down, read across, of %d parts read with as many rings as
they have, %d of them from the wrong end; "missed" and "none" are the rings that
%d parts were read without and %d parts with too many
`, t.Parts, t.Turned, t.Fewer, t.More)
	table := tabwriter.NewWriter(w, 0, 0, 1, ' ', tabwriter.AlignRight)
	dotted := func(n int) string {
		if n == 0 {
			return "·"
		}
		return fmt.Sprint(n)
	}
	fmt.Fprint(table, "\t")
	for read := range decode.Colour(decode.ColourCount) {
		fmt.Fprint(table, read.Letters(), "\t")
	}
	fmt.Fprint(table, "right %\tmissed\t\n")
	for colour := range decode.Colour(decode.ColourCount) {
		fmt.Fprint(table, colour.Letters(), "\t")
		for _, n := range t.Taken[colour] {
			fmt.Fprint(table, dotted(n), "\t")
		}
		fmt.Fprintf(table, "%s\t%s\t\n", t.Row(colour).Percent(), dotted(t.Missed[colour]))
	}
	fmt.Fprint(table, "none\t")
	for _, n := range t.Spurious {
		fmt.Fprint(table, dotted(n), "\t")
	}
	fmt.Fprint(table, "\t\t\n")
	table.Flush()
}

// Percent gives the share in percent alone, "-" if it is of nothing.
func (s Share) Percent() string {
	if s.Total == 0 {
		return "-"
	}
	return fmt.Sprintf("%.1f", 100*float64(s.Count)/float64(s.Total))
}
