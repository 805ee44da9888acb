package stock

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"ringwise/cmd/ringwise/internal/spreadsheet"
)

// An Imported says what an import did.
type Imported struct {
	Added int // entries that are new in this stock
	Known int // entries whose key was there already; left as they are
}

// ImportJSON adds the entries that ExportJSON wrote, all or none, as one step.
// Entries that are there already are left as they are. It refuses what no
// person has confirmed, such as the output of read --json. Errors name the
// entry by its place, from 1.
func (s *Store) ImportJSON(ctx context.Context, r io.Reader) (Imported, error) {
	decoder := json.NewDecoder(r)
	return s.add(ctx, func() (Part, error) {
		var line record
		if err := decoder.Decode(&line); err != nil {
			if err == io.EOF {
				return Part{}, err
			}
			return Part{}, fmt.Errorf("it is no JSON that ringwise stock export has written: %w", err)
		}
		if line.Key == "" || line.Confirmed.IsZero() {
			return Part{}, errUnconfirmed
		}
		return line.part()
	})
}

// errUnconfirmed is the answer to what was read of a photo and never confirmed.
var errUnconfirmed = errors.New("it was not confirmed by anyone: confirm it with ringwise read --confirm")

// ImportCSV does the same with the rows that ExportCSV wrote. Columns may
// stand in any order; those that are missing are taken for empty, except for
// key, origin, ohms, count and confirmed.
func (s *Store) ImportCSV(ctx context.Context, r io.Reader) (Imported, error) {
	table := csv.NewReader(r)
	names, err := table.Read()
	if err != nil {
		return Imported{}, errors.New("the table has no header: use one that ringwise stock export has written")
	}
	names[0] = strings.TrimPrefix(names[0], "\ufeff") // which spreadsheets may put first
	for _, name := range names {
		if name == "confidence" || name == "error" {
			return Imported{}, errors.New("this is a table of readings that nobody has confirmed: confirm them with ringwise read --confirm")
		}
	}
	if len(names) == 1 && strings.ContainsAny(names[0], ";\t") {
		return Imported{}, errors.New("the columns are not parted by commas: save the table as CSV with commas between them")
	}
	for _, needed := range []string{"key", "count", "origin", "ohms", "confirmed"} {
		if !slices.Contains(names, needed) {
			return Imported{}, fmt.Errorf("the table has no column %s: use one that ringwise stock export has written", needed)
		}
	}
	return s.add(ctx, func() (Part, error) {
		cells, err := table.Read()
		if err != nil {
			return Part{}, err
		}
		row := map[string]string{}
		for i, name := range names {
			row[name] = cells[i]
		}
		line, err := csvRecord(row)
		if err != nil {
			return Part{}, err
		}
		if line.Key == "" {
			return Part{}, errUnconfirmed
		}
		return line.part()
	})
}

// csvRecord turns a row of CSV into a record.
func csvRecord(row map[string]string) (record, error) {
	whole := func(name string) (int, error) {
		if row[name] == "" {
			return 0, nil
		}
		n, err := strconv.Atoi(row[name])
		if err != nil {
			return 0, tell("%q is no whole number for %s", shorten(row[name]), name)
		}
		return n, nil
	}
	maybe := func(name string) *json.Number {
		if row[name] == "" {
			return nil
		}
		n := json.Number(row[name])
		return &n
	}
	r := record{
		Key: spreadsheet.Unguard(row["key"]), Origin: Origin(row["origin"]), Bands: strings.Fields(row["bands"]), Ohms: json.Number(row["ohms"]),
		Tolerance: maybe("tolerance_percent"), FailureRate: maybe("failure_rate_percent_per_1000h"),
		Kind: row["kind"], KindBasis: Basis(row["kind_basis"]), Size: Size(row["size"]), SizeBasis: Basis(row["size_basis"]),
		Rating: maybe("rating_watts"), RatingBasis: Basis(row["rating_basis"]),
		Photo: spreadsheet.Unguard(row["photo"]), Verdict: row["verdict"], Note: spreadsheet.Unguard(row["note"]),
	}
	var err error
	if r.Count, err = whole("count"); err != nil {
		return r, err
	}
	if r.PhotoPart, err = whole("photo_part"); err != nil {
		return r, err
	}
	if row["tempco_ppm"] != "" {
		ppm, err := whole("tempco_ppm")
		if err != nil {
			return r, err
		}
		r.TempcoPPM = &ppm
	}
	if row["meter_ohms"] != "" {
		r.Meter = &meterRecord{json.Number(row["meter_ohms"]), json.Number(row["meter_accuracy_percent"]),
			json.Number(row["meter_accuracy_ohms"]), row["meter_in_circuit"] == "true"}
	}
	if row["changes"] != "" {
		if err := json.Unmarshal([]byte(row["changes"]), &r.Changes); err != nil {
			return r, tell("the changes cannot be read: %w", err)
		}
	}
	if r.Confirmed, err = time.Parse(time.RFC3339, row["confirmed"]); err != nil {
		return r, tell("%q is no time of confirming: use one such as 2026-03-01T10:00:00Z", shorten(row["confirmed"]))
	}
	return r, nil
}

// add adds entries until next returns io.EOF.
func (s *Store) add(ctx context.Context, next func() (Part, error)) (Imported, error) {
	var done Imported
	err := s.act(ctx, func(a *action) (string, error) {
		for at := 1; ; at++ {
			p, err := next()
			if err == io.EOF {
				if done.Added == 1 {
					return "imported 1 entry", nil
				}
				return fmt.Sprintf("imported %d entries", done.Added), nil
			}
			if err != nil {
				return "", tell("entry %d of the import: %w", at, err)
			}
			p.ID = 0
			if err := p.settle(); err != nil {
				return "", tell("entry %d of the import: %w", at, err)
			}
			var there int
			if err := a.tx.QueryRowContext(ctx, "SELECT count(*) FROM part WHERE key = ?", p.Key).Scan(&there); err != nil {
				return "", err
			}
			if there > 0 {
				done.Known++
				continue
			}
			if err := a.add(ctx, &p); err != nil {
				return "", err
			}
			done.Added++
		}
	})
	if err != nil {
		return Imported{}, err
	}
	return done, nil
}
