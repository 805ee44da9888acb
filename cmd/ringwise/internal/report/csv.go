package report

import (
	"encoding/csv"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/spreadsheet"
)

// csvHeader names the columns.
var csvHeader = []string{"photo", "part", "verdict", "why", "ohms", "tolerance_percent", "tempco_ppm",
	"failure_rate_percent_per_1000h", "rkm", "bands", "confidence", "notes", "cautions", "error",
	"body_length_mm", "body_diameter_mm", "estimated_rating_w"}

// A CSV writes a row for each part, with its first reading. A photo that could
// not be read has one row with the error alone.
type CSV struct{ w *csv.Writer }

// NewCSV writes the header to w.
func NewCSV(w io.Writer) (CSV, error) {
	c := CSV{csv.NewWriter(w)}
	return c, c.w.Write(csvHeader)
}

// Write writes the rows of one photo.
func (c CSV) Write(result photoread.Result) error {
	if result.Err != nil {
		row := make([]string, len(csvHeader))
		row[0], row[slices.Index(csvHeader, "error")] = spreadsheet.Guard(result.Name), result.Err.Error()
		if err := c.w.Write(row); err != nil {
			return err
		}
	}
	for i, part := range result.Parts {
		row := []string{spreadsheet.Guard(result.Name), strconv.Itoa(i + 1), part.Verdict.String(), part.Why}
		if best, ok := part.Best(); ok {
			tempco := ""
			if best.TempcoPPM != nil {
				tempco = strconv.Itoa(*best.TempcoPPM)
			}
			row = append(row, best.Ohms.String(), text(best.TolerancePercent), tempco,
				text(best.FailureRate), best.RKM(), lettersOf(best.Rings),
				strconv.FormatFloat(round(best.Confidence, 4), 'g', -1, 64),
				strings.Join(best.Notes, " "), strings.Join(best.Cautions, " "))
		}
		row = append(row, make([]string, len(csvHeader)-len(row))...)
		if b := part.Body; b.Known() {
			rating := ""
			if size, err := b.Rating(); err == nil {
				rating = plain(size.LowWatts)
			}
			copy(row[len(row)-3:], []string{plain(b.LengthMM), plain(b.DiameterMM), rating})
		}
		if err := c.w.Write(row); err != nil {
			return err
		}
	}
	c.w.Flush()
	return c.w.Error()
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func text(d decimal.NullDecimal) string {
	if !d.Valid {
		return ""
	}
	return d.Decimal.String()
}
