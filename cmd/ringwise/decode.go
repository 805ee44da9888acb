package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/cmd/ringwise/internal/report"
	"ringwise/decode"
	"ringwise/decode/network"
)

const decodeBrief = "say what a row of ring colours means"

const decodeHelp = `usage: ringwise decode COLOUR… [--forms]

Says what a row of rings means by IEC 60062: every legal meaning, the most usual
first, each with its bounds and its marking in letters and digits. If the row
makes sense from the other end too, that is said as well; if it does from there
alone, it is read from there, and what is wrong the other way round is said.

Colours are English names or letters of IEC 60757:
  BK black   BN brown   RD red     OG orange  YE yellow  GN green   BU blue
  VT violet  GY grey    WH white   GD gold    SR silver  PK pink

` + formsLine + `
Exit code: 0 the row has a meaning, from whichever end, 1 it has none (the
message names the ring that cannot stand there), 2 wrong use.

Examples:
  ringwise decode GN BU RD GD
  ringwise decode brown black black red brown
`

// decodeRings says what a row of rings means.
func decodeRings(_ context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("decode", flag.ContinueOnError)
	formsOption(set, &std.out)
	args, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	row := strings.Join(args, " ")
	rings, err := decode.ParseRow(row)
	if err != nil {
		if _, e := network.ParseValue(row); e == nil {
			return 0, usage("%q is a value: ringwise code says which rings write it", row)
		}
		return 0, usageError{err}
	}

	back := slices.Clone(rings)
	slices.Reverse(back)
	ahead, err := decode.Readings(rings)
	behind, none := decode.Readings(back)
	ink := paint.InkFor(std.out)
	switch {
	case err == nil:
		printMeanings(std.out, ink, ahead)
	case none != nil:
		return 0, err
	default:
		fmt.Fprintln(std.out, err)
	}
	if none == nil && !slices.Equal(back, rings) {
		fmt.Fprintln(std.out, "\nfrom the other end:")
		printMeanings(std.out, ink, behind)
	}
	return allWell, nil
}

// printMeanings writes the rings that the readings share, then each reading.
func printMeanings(w io.Writer, ink paint.Ink, readings []decode.Reading) {
	row, _ := ink.Rings(readings[0].Rings)
	fmt.Fprintf(w, "%s  (%s)\n", row, names(readings[0].Rings))
	for _, r := range readings {
		fmt.Fprintf(w, "  %s", report.Meaning(r))
		if !r.IsLink() {
			fmt.Fprintf(w, ", marked %s, from %s to %s", r.RKMWithToleranceLetter(),
				decode.FormatOhms(r.Low()), decode.FormatOhms(r.High()))
		}
		fmt.Fprintln(w)
		for _, note := range r.Notes {
			fmt.Fprintf(w, "    note: %s\n", note)
		}
		for _, caution := range r.Cautions {
			fmt.Fprintf(w, "    CAUTION: %s\n", caution)
		}
	}
}

func names(rings []decode.Colour) string {
	words := make([]string, len(rings))
	for i, r := range rings {
		words[i] = r.String()
	}
	return strings.Join(words, " ")
}
