package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"strings"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/decode/network"
)

// formsHelp describes the options of answers, for the help of commands.
const formsHelp = `  --forms        every value also as a marking, as rings and in words
  --json         everything as one JSON object
`

// An answer writes what a command has to say.
type answer struct {
	w      io.Writer
	ink    paint.Ink
	forms  bool
	asJSON bool
}

// answerOptions adds the options of answers to a command.
func answerOptions(set *flag.FlagSet, w io.Writer) *answer {
	a := &answer{w: w, ink: paint.InkFor(w)}
	set.BoolVar(&a.forms, "forms", false, "")
	set.BoolVar(&a.asJSON, "json", false, "")
	return a
}

// object writes an answer as one JSON object.
func (a *answer) object(v any) error {
	encoder := json.NewEncoder(a.w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(v)
}

// line writes a line.
func (a *answer) line(format string, args ...any) { fmt.Fprintf(a.w, format+"\n", args...) }

// lines writes a line for each text, each behind the same words.
func (a *answer) lines(before string, texts []string) {
	for _, text := range texts {
		a.line("%s%s", before, text)
	}
}

// show writes a value, with all its forms if they are asked for.
func (a *answer) show(v network.Value) string {
	if !a.forms {
		return v.String()
	}
	rings := "no row of rings writes it"
	if row := v.Rings(); row != nil {
		letters, _ := a.ink.Rings(row)
		rings = fmt.Sprintf("rings %s, %s", letters, names(row))
	}
	return fmt.Sprintf("%s (marked %s; %s; %s)", v, v.RKM(), rings, v.Spoken())
}

// about writes a value that was worked out, to four significant figures.
func (a *answer) about(v network.Value) string { return a.show(v.Rounded(4)) }

// part writes a part: its value, marking and where it is.
func (a *answer) part(p network.Part) string {
	text := a.show(p.Value)
	if !a.forms {
		text += fmt.Sprintf(" (%s)", p.Value.RKM())
	}
	if strings.HasPrefix(p.Where, "#") {
		text += " from " + p.Where
	}
	return text
}

// share writes a share of one as percent.
func share(part float64) string { return network.FormatPercent(math.Round(part*1000) / 10) }
