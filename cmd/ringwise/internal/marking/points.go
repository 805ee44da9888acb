package marking

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/spreadsheet"
)

// WritePoints writes a row for each learner: points in all, points for each
// question by its number on the learner's own sheet, and a remark on each box
// that is not right.
func WritePoints(out io.Writer, scripts []Script) error {
	table := csv.NewWriter(out)
	header := []string{nameColumn, sheetColumn, "points", "of"}
	for i := range scripts[0].Key.Questions {
		header = append(header, "question_"+strconv.Itoa(i+1))
	}
	if err := table.Write(append(header, "remarks")); err != nil {
		return err
	}
	for _, s := range scripts {
		w, err := sheet.In(s.Key.Language)
		if err != nil {
			return err
		}
		row := []string{spreadsheet.Guard(s.Name), s.Key.Sheet, strconv.Itoa(s.Points()), strconv.Itoa(s.Of())}
		var remarks []string
		for _, marks := range s.Marks {
			row = append(row, strconv.Itoa(points(marks)))
			for _, m := range marks {
				if text := remark(m, w); text != "" {
					remarks = append(remarks, fmt.Sprintf("%s: %s", m.Box.Name, text))
				}
			}
		}
		if err := table.Write(append(row, strings.Join(remarks, "; "))); err != nil {
			return err
		}
	}
	table.Flush()
	return table.Error()
}
