// Package picksheet writes the plan of a project as a page to print: which
// parts to pick from the stock for which place, each with a box to tick.
package picksheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"time"

	"ringwise/decode"
	"ringwise/decode/network"
)

//go:embed sheet.html
var page string

var layout = template.Must(template.New("sheet").Parse(page))

// A row is one pick: so many of a part for a place.
type row struct {
	For     []string // the place, and in the first row of a line what it wants
	Count   int
	Part    string
	Marking string
	Words   string // the value as it is said
	Letters string // of the rings (IEC 60757)
	Names   string // of the rings
	Where   string
	How     []string // in which way, and what to make sure of
	Missing bool
}

// Write writes a plan under a title, as HTML.
func Write(w io.Writer, title string, at time.Time, p network.Plan) error {
	var rows []row
	for _, line := range p.Lines {
		rows = append(rows, rowsOf(line)...)
	}
	return layout.Execute(w, map[string]any{
		"Title": title, "Date": at.Format("2006-01-02"), "Rows": rows,
		"Ready": p.Ready, "Check": p.Check, "Missing": p.Missing, "Places": p.Ready + p.Missing,
		"Cautions": []string{network.CautionMains, network.CautionCharge, network.CautionSpecial, network.CautionMeasure},
	})
}

// rowsOf lists the picks of one line of the list.
func rowsOf(line network.PlanLine) []row {
	var rows []row
	for _, s := range line.Supplies {
		how := howText(s)
		for i, t := range s.Takes {
			r := row{Count: t.Count, Part: t.Part.Value.String(), Marking: t.Part.Value.RKM(), Words: t.Part.Value.Spoken(), Where: t.Part.Where}
			row := t.Part.Rings
			if row == nil {
				row = t.Part.Value.Rings()
			}
			r.Letters, r.Names = rings(row)
			if i == 0 {
				r.How = how
			} else {
				r.How = []string{"with the one above"}
			}
			rows = append(rows, r)
		}
	}
	if line.Missing > 0 {
		r := row{Count: line.Missing, Missing: true, Part: "missing"}
		if line.Buy != nil {
			r.Part = "to buy: " + line.Buy.Nearest.String()
			r.Marking, r.Words = line.Buy.Nearest.RKM(), line.Buy.Nearest.Spoken()
			r.Letters, r.Names = rings(line.Buy.Nearest.Rings())
		}
		if line.Buy == nil && line.Need.Kind.Special() {
			r.Part = "to buy: its like, with the same data"
		}
		if rating := line.RatingToBuy(); rating != "" {
			r.How = append(r.How, rating)
		}
		if line.Need.Kind != decode.KindUnknown && line.Need.Kind != decode.KindOrdinary {
			r.How = append(r.How, line.Need.Kind.String())
		}
		for _, s := range line.Refused {
			r.How = append(r.How, fmt.Sprintf("not %s: %s", s.Part, strings.Join(s.Reasons, "; ")))
		}
		rows = append(rows, r)
	}
	wanted := fmt.Sprintf("%d × %s", line.Quantity, line.Need.Value)
	if line.Need.RatedWatts > 0 {
		wanted += ", " + network.FormatRating(line.Need.RatedWatts)
	}
	place := []string{wanted}
	if line.Reference != "" {
		place = []string{line.Reference, wanted}
	}
	for i := range rows {
		rows[i].For = place[:1] // a page may break between any two
	}
	rows[0].For = place
	return rows
}

// madeFigures is how many figures are shown of what joined parts make, as on the
// terminal.
const madeFigures = 4

// howText says in which way parts serve and what to make sure of.
func howText(s network.Supply) []string {
	var list []string
	switch s.How {
	case network.StandsIn:
		list = append(list, "stands in: "+network.FormatOff(s.StandIn.ErrorPercent))
	case network.JoinedUp:
		list = append(list, fmt.Sprintf("joined: %s, makes %s", s.Combination.Text, s.Combination.Nominal.Rounded(madeFigures)))
	}
	for _, condition := range s.Conditions {
		list = append(list, "only if "+condition)
	}
	return list
}

// rings writes rings in letters and in words.
func rings(row []decode.Colour) (letters, names string) {
	var short, long []string
	for _, c := range row {
		short, long = append(short, c.Letters()), append(long, c.String())
	}
	return strings.Join(short, " "), strings.Join(long, ", ")
}
