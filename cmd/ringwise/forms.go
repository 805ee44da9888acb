package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"strings"

	"ringwise/decode/network"
)

// formsHelp describes the options of answers, for the help of commands, and
// formsLine the first of them.
const (
	formsHelp = formsLine + `  --json         everything as one JSON object, each value in all its forms
`
	formsLine = `  --forms        below each line the values in it as a marking, as rings and in
                 words
`
)

// An answer writes what a command has to say.
type answer struct {
	w      io.Writer
	asJSON bool
}

// answerOptions adds the options of answers to a command.
func answerOptions(set *flag.FlagSet, w io.Writer) *answer {
	a := &answer{w: w}
	formsOption(set, &a.w)
	set.BoolVar(&a.asJSON, "json", false, "")
	return a
}

// formsOption adds the option that tells every value in all its forms.
func formsOption(set *flag.FlagSet, w *io.Writer) {
	set.BoolFunc("forms", "", func(string) error {
		*w = withForms(*w)
		return nil
	})
}

// formsAsked tells whether the option was given.
func formsAsked(set *flag.FlagSet) (asked bool) {
	set.Visit(func(f *flag.Flag) { asked = asked || f.Name == "forms" })
	return asked
}

// object writes an answer, which is an object, as JSON. At its end stand all
// forms of the values that are named in its texts.
func (a *answer) object(v any) error {
	whole, err := encode(v)
	if err != nil {
		return err
	}
	named, err := encode(formsIn(whole))
	if err != nil {
		return err
	}
	// Before its last brace.
	whole = append(bytes.TrimSuffix(bytes.TrimSpace(whole), []byte("}")), []byte(`,"values":`)...)
	whole = append(append(whole, named...), '}')
	var out bytes.Buffer
	if err := json.Indent(&out, whole, "", "  "); err != nil {
		return err
	}
	if f, wrapped := a.w.(*formsWriter); wrapped {
		a.w = f.w // JSON has all forms
	}
	_, err = fmt.Fprintf(a.w, "%s\n", out.Bytes())
	return err
}

func encode(v any) ([]byte, error) {
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	err := encoder.Encode(v)
	return out.Bytes(), err
}

// formsIn are all forms of the values that the texts of a JSON object name.
func formsIn(object []byte) []network.Forms {
	forms := []network.Forms{}
	for _, v := range network.ValuesIn(string(object)) {
		forms = append(forms, v.Forms())
	}
	return forms
}

// line writes a line.
func (a *answer) line(format string, args ...any) { fmt.Fprintf(a.w, format+"\n", args...) }

// lines writes a line for each text, each behind the same words.
func (a *answer) lines(before string, texts []string) {
	for _, text := range texts {
		a.line("%s%s", before, text)
	}
}

// about writes a value that was worked out, to four significant figures.
func about(v network.Value) string { return v.Rounded(4).String() }

// partText writes a part: its value, marking and where it is.
func partText(p network.Part) string {
	text := fmt.Sprintf("%s (%s)", p.Value, p.Value.RKM())
	if strings.HasPrefix(p.Where, "#") {
		text += " from " + p.Where
	}
	return text
}

// share writes a share of one as percent.
func share(part float64) string { return network.FormatPercent(math.Round(part*1000) / 10) }
