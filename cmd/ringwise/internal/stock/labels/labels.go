// Package labels makes a sheet of labels for the bins of a stock, to print and
// cut out. It is one HTML file that needs nothing else. Nothing on it is told
// by colour alone: it reads as well from a grey printer or a screen reader.
package labels

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

//go:embed labels.html
var page string

var sheet = template.Must(template.New("labels").Parse(page))

// A label is what stands on one.
type label struct {
	Value string // such as "5.6 kΩ ±5 %"
	Code  string // letters and digits of IEC 60062, such as "5K6J"
	Words string // as a person says it
	Rings []ring // in reading order; none if no row writes the value
	Names string // the rings' names
	Usual bool   // the rings are the usual ones, not those of the parts
	Kinds []string
}

type ring struct {
	Letters, Name string
	Paint         template.CSS
}

// Write writes a sheet with a label for each bin.
func Write(w io.Writer, bins []stock.Bin) error {
	list := make([]label, len(bins))
	for i, b := range bins {
		list[i] = newLabel(b)
	}
	return sheet.Execute(w, list)
}

func newLabel(b stock.Bin) label {
	l := label{Value: stock.Meaning(b.Reading), Code: b.Reading.RKMWithToleranceLetter(), Words: b.Reading.Spoken()}
	colours := b.Reading.Rings
	if colours == nil {
		colours, l.Usual = usualRings(b.Reading), true
	}
	l.Names = decode.SpokenRings(colours)
	for _, c := range colours {
		p := paint.Of(c)
		l.Rings = append(l.Rings, ring{c.Letters(), c.String(), template.CSS(fmt.Sprintf("#%02x%02x%02x", p.R, p.G, p.B))})
	}
	for _, p := range b.Entries {
		if p.Kind.Special() && !slices.Contains(l.Kinds, p.Kind.String()) {
			l.Kinds = append(l.Kinds, p.Kind.String())
		}
	}
	return l
}

// usualRings are those that usually write a value, nil if none do.
func usualRings(r decode.Reading) []decode.Colour {
	if !r.TolerancePercent.Valid && !r.IsLink() {
		return nil
	}
	rows, err := decode.Rings(r.Ohms, r.TolerancePercent.Decimal, decode.RingOptions{})
	if err != nil {
		return nil
	}
	return rows[0]
}
