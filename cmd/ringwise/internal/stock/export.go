package stock

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"time"

	"ringwise/cmd/ringwise/internal/spreadsheet"
	"ringwise/decode"
)

// ExportJSON writes every entry, also those of which no part is left, as JSON
// Lines: an object an entry, with its crop. ImportJSON reads them.
func (s *Store) ExportJSON(ctx context.Context, w io.Writer) error {
	parts, err := partsOf(ctx, s.db, "ORDER BY id")
	if err != nil {
		return plain(s.path, err)
	}
	for i := range parts {
		if parts[i].Crop, err = s.Crop(ctx, parts[i].ID); err != nil {
			return err
		}
		if err := WriteJSON(w, parts[i:i+1]); err != nil {
			return err
		}
		parts[i].Crop = nil
	}
	return nil
}

// WriteJSON writes entries as ExportJSON does, whether they are in a stock or not.
// ImportJSON takes those that have a key and the time when they were confirmed.
func WriteJSON(w io.Writer, parts []Part) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	for _, p := range parts {
		r := newRecord(p)
		r.Step, r.RKM, r.CropPNG = 0, p.Reading.RKM(), p.Crop
		if err := encoder.Encode(r); err != nil {
			return err
		}
	}
	return nil
}

// csvHeader names the columns of CSV: the fields of the JSON form without
// candidates and crop.
var csvHeader = []string{"number", "key", "count", "origin", "ohms", "tolerance_percent", "tempco_ppm",
	"failure_rate_percent_per_1000h", "rkm", "bands", "kind", "kind_basis", "size", "size_basis", "rating_watts",
	"rating_basis", "meter_ohms", "meter_accuracy_percent", "meter_accuracy_ohms", "meter_in_circuit",
	"photo", "photo_part", "verdict", "changes", "note", "confirmed"}

// ExportCSV writes every entry, also those of which no part is left, as CSV:
// a row an entry, without candidates and crop. ImportCSV reads it.
func (s *Store) ExportCSV(ctx context.Context, w io.Writer) error {
	parts, err := partsOf(ctx, s.db, "ORDER BY id")
	if err != nil {
		return plain(s.path, err)
	}
	table := csv.NewWriter(w)
	if err := table.Write(csvHeader); err != nil {
		return err
	}
	for _, p := range parts {
		row, err := csvRow(p)
		if err != nil {
			return err
		}
		if err := table.Write(row); err != nil {
			return err
		}
	}
	table.Flush()
	return table.Error()
}

func csvRow(p Part) ([]string, error) {
	r := newRecord(p)
	maybe := func(n *json.Number) string {
		if n == nil {
			return ""
		}
		return n.String()
	}
	tempco := ""
	if r.TempcoPPM != nil {
		tempco = strconv.Itoa(*r.TempcoPPM)
	}
	var meter [4]string
	if m := r.Meter; m != nil {
		meter = [4]string{m.Ohms.String(), m.AccuracyPercent.String(), m.AccuracyOhms.String(), strconv.FormatBool(m.InCircuit)}
	}
	changes := ""
	if len(r.Changes) > 0 {
		text, err := json.Marshal(r.Changes)
		if err != nil {
			return nil, err
		}
		changes = string(text)
	}
	return []string{fmt.Sprint(r.Number), spreadsheet.Guard(r.Key), fmt.Sprint(r.Count), string(r.Origin), r.Ohms.String(), maybe(r.Tolerance), tempco,
		maybe(r.FailureRate), p.Reading.RKM(), decode.RowLetters(p.Reading.Rings), r.Kind, string(r.KindBasis), string(r.Size), string(r.SizeBasis),
		maybe(r.Rating), string(r.RatingBasis), meter[0], meter[1], meter[2], meter[3],
		spreadsheet.Guard(r.Photo), fmt.Sprint(r.PhotoPart), r.Verdict, changes, spreadsheet.Guard(r.Note), r.Confirmed.Format(time.RFC3339)}, nil
}
