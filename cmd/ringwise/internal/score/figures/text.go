package main

import (
	"fmt"
	"io"

	"ringwise/cmd/ringwise/internal/score"
	"ringwise/decode"
)

// The text has a figure a line in columns of fixed width, so that a difference
// between two versions of it shows the figures that changed and no others.

// writeShares writes what sums a set up. Shares of nothing are left out.
func writeShares(w io.Writer, title string, c *score.Card) {
	t := c.Tally()
	fmt.Fprintf(w, "\n== %s\n", title)
	fmt.Fprintf(w, "%-22s%6d\n", "photos", c.Photos)
	if len(c.Unopened) > 0 {
		fmt.Fprintf(w, "%-22s%6d\n", "not opened", len(c.Unopened))
	}
	for _, s := range c.Shares() {
		if s.Total > 0 {
			fmt.Fprintf(w, "%-22s%s\n", s.Name, share(s.Share))
		}
	}
	if t.Found.Count > 0 {
		fmt.Fprintf(w, "%-22s%14.4f\n", "calibration error", t.ECE)
	}
	fmt.Fprintf(w, "%-22s%6d\n", "false bodies", len(c.False))
	fmt.Fprintf(w, "%-22s%6d\n", "sure of false bodies", len(c.FalselySure()))
}

// share gives count/total, percent and the 95 % Wilson interval.
func share(s score.Share) string {
	if s.Total == 0 {
		return fmt.Sprintf("%6d/0", 0)
	}
	low, high := s.Wilson()
	return fmt.Sprintf("%6d/%-6d%7.2f %%  [%6.2f, %6.2f]", s.Count, s.Total,
		100*float64(s.Count)/float64(s.Total), 100*low, 100*high)
}

// writeGroups writes a line for each circumstance.
func writeGroups(w io.Writer, c *score.Card) {
	by := ""
	for _, g := range c.Groups() {
		if g.By != by {
			by = g.By
			fmt.Fprintf(w, "\n%-36s parts  found %%  first %%  three %%   sure %%  wrong sure     ECE\n", by)
		}
		t := g.Tally()
		fmt.Fprintf(w, "  %-34s%6d%9s%9s%9s%9s%7d/%-5d%7.3f\n", g.Name, t.Found.Total, t.Found.Percent(),
			t.First.Percent(), t.FirstThree.Percent(), t.Sure.Percent(), t.WrongSure.Count, t.WrongSure.Total, t.ECE)
	}
}

// writeReliability writes a line for each step of confidence.
func writeReliability(w io.Writer, bins []score.Bin) {
	fmt.Fprint(w, "\nconfidence, %    mean         right\n")
	for _, b := range bins {
		mean := "-"
		if b.Right.Total > 0 {
			mean = fmt.Sprintf("%.1f", 100*b.Mean)
		}
		fmt.Fprintf(w, "  %3.0f to %3.0f%10s%s\n", 100*b.Low, 100*b.High, mean, share(b.Right))
	}
}

// writeConfusion writes a line for each true colour.
func writeConfusion(w io.Writer, t score.Confusion) {
	fmt.Fprintf(w, "\nrings of parts read with as many rings as they have, true down, read across\n")
	fmt.Fprintf(w, "%-30s%6d\n%-30s%6d\n%-30s%6d\n%-30s%6d\n", "parts", t.Parts, "read from the wrong end", t.Turned,
		"parts with rings missed", t.Fewer, "parts with rings that are none", t.More)
	fmt.Fprint(w, "      ")
	for c := range decode.Colour(decode.ColourCount) {
		fmt.Fprintf(w, "%5s", c.Letters())
	}
	fmt.Fprint(w, "  right %  missed\n")
	row := func(name string, counts [decode.ColourCount]int) {
		fmt.Fprintf(w, "  %-4s", name)
		for _, n := range counts {
			if n == 0 {
				fmt.Fprintf(w, "%5s", "·")
			} else {
				fmt.Fprintf(w, "%5d", n)
			}
		}
	}
	for c := range decode.Colour(decode.ColourCount) {
		row(c.Letters(), t.Taken[c])
		fmt.Fprintf(w, "%9s%8d\n", t.Row(c).Percent(), t.Missed[c])
	}
	row("none", t.Spurious)
	fmt.Fprintln(w)
}

// writeParts writes a line for each labelled part.
func writeParts(w io.Writer, c *score.Card) {
	fmt.Fprint(w, "\nphoto and place                               true               read               verdict     result\n")
	for _, l := range c.Labelled {
		read, verdict := "-", "-"
		if l.Found {
			verdict = l.Reported.Verdict.String()
		}
		if len(l.Reported.Candidates) > 0 {
			read = decode.RowLetters(l.Reported.Candidates[0].Rings)
		}
		fmt.Fprintf(w, "%-34s%5.0f %5.0f  %-19s%-19s%-12s%s\n", l.Photo.File, l.Truth.Body.Centre[0], l.Truth.Body.Centre[1],
			decode.RowLetters(l.Truth.Bands), read, verdict, l.Outcome())
	}
}

// writeSpeed writes what reading costs, as ratios only: times and sizes differ
// from machine to machine.
func writeSpeed(w io.Writer, truth score.Truth, e *score.Effort) {
	fmt.Fprint(w, "\n== speed\n")
	if e == nil {
		fmt.Fprintln(w, "not measured: this system tells no CPU time")
		return
	}
	parts := 0
	for _, p := range truth.Photos {
		parts += len(p.Resistors)
	}
	fmt.Fprintf(w, "%-22s%6d\n%-22s%6d\n", "large photos", len(truth.Photos), "parts in them", parts)
	fmt.Fprint(w, "reading over only opening them with OpenCV in colour and turning them to 8-bit\nLab, one after the other\n")
	fmt.Fprintf(w, "%-22s%8.1f\n%-22s%8.1f\n", "CPU time", e.Ratio(), "peak memory", e.PeakRatio())
}
