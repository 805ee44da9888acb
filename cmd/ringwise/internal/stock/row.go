package stock

import (
	"context"
	"database/sql"
	"encoding/json"
	"strings"
	"time"

	"ringwise/decode"
)

// columns are those of the table of entries, in the order in which values and
// scan have them.
var columns = []string{"id", "key", "step", "count", "origin", "rings", "ohms", "tolerance", "tempco", "failure_rate",
	"kind", "kind_basis", "size", "size_basis", "rating", "rating_basis", "photo", "photo_part", "verdict",
	"candidates", "changes", "meter_ohms", "meter_percent", "meter_extra", "meter_circuit", "note", "confirmed"}

var (
	selectParts = "SELECT " + strings.Join(columns, ", ") + " FROM part "
	writePart   = "INSERT INTO part (" + strings.Join(columns, ", ") + ") VALUES (" + strings.Repeat("?, ", len(columns)-1) + "?)" +
		" ON CONFLICT (id) DO UPDATE SET " + replaced()
)

// values are the columns of a settled entry.
func values(p Part) ([]any, error) {
	candidates, err := json.Marshal(offeredRecords(p.Candidates))
	if err != nil {
		return nil, err
	}
	changes, err := json.Marshal(append([]Change{}, p.Changes...))
	if err != nil {
		return nil, err
	}
	var meter [4]any
	if m := p.Meter; m != nil {
		meter = [4]any{m.Ohms.String(), m.AccuracyPercent.String(), m.AccuracyOhms.String(), m.InCircuit}
	}
	var tempco any
	if p.Reading.TempcoPPM != nil {
		tempco = *p.Reading.TempcoPPM
	}
	return []any{nullID(p.ID), p.Key, p.Step, p.Count, string(p.Origin), decode.RowLetters(p.Reading.Rings), p.Reading.Ohms.String(),
		nullText(maybeExact(p.Reading.TolerancePercent)), tempco, nullText(maybeExact(p.Reading.FailureRate)),
		string(p.Kind), string(p.KindBasis), string(p.Size), string(p.SizeBasis),
		nullText(maybeExact(p.RatingWatts)), string(p.RatingBasis), p.Photo, p.PhotoPart, p.Verdict,
		string(candidates), string(changes), meter[0], meter[1], meter[2], meter[3],
		p.Note, p.Confirmed.Format(time.RFC3339)}, nil
}

func nullText(n *json.Number) any {
	if n == nil {
		return nil
	}
	return n.String()
}

// scan reads an entry from a row of the columns.
func scan(row interface{ Scan(...any) error }) (Part, error) {
	var p Part
	var rings, ohms, candidates, changes, confirmed string
	var tolerance, failureRate, rating, meterOhms, meterPercent, meterExtra *json.Number
	var inCircuit sql.NullBool
	err := row.Scan(&p.ID, &p.Key, &p.Step, &p.Count, &p.Origin, &rings, &ohms, &tolerance, &p.Reading.TempcoPPM, &failureRate,
		&p.Kind, &p.KindBasis, &p.Size, &p.SizeBasis, &rating, &p.RatingBasis, &p.Photo, &p.PhotoPart, &p.Verdict,
		&candidates, &changes, &meterOhms, &meterPercent, &meterExtra, &inCircuit, &p.Note, &confirmed)
	if err != nil {
		return Part{}, err
	}
	var f fields
	p.Reading.Rings = f.rings(rings)
	p.Reading.Ohms = f.number(ohms)
	p.Reading.TolerancePercent = f.maybe(tolerance)
	p.Reading.FailureRate = f.maybe(failureRate)
	p.RatingWatts = f.maybe(rating)
	if meterOhms != nil {
		p.Meter = &decode.Measurement{Ohms: f.number(meterOhms.String()), AccuracyPercent: f.maybe(meterPercent).Decimal,
			AccuracyOhms: f.maybe(meterExtra).Decimal, InCircuit: inCircuit.Bool}
	}
	var offered []offeredRecord
	if err := json.Unmarshal([]byte(candidates), &offered); err != nil {
		f.fail(err)
	} else if p.Candidates, err = parseOffered(offered); err != nil {
		f.fail(err)
	}
	if err := json.Unmarshal([]byte(changes), &p.Changes); err != nil {
		f.fail(err)
	}
	if p.Confirmed, err = time.Parse(time.RFC3339, confirmed); err != nil {
		f.fail(err)
	}
	if f.err != nil {
		return Part{}, tell("the stock's entry #%d cannot be read (%w): check the file with ringwise stock verify", p.ID, f.err)
	}
	p.explain()
	return p, nil
}

// querier is a database or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// partsOf returns the entries that a condition selects.
func partsOf(ctx context.Context, db querier, where string, args ...any) ([]Part, error) {
	rows, err := db.QueryContext(ctx, selectParts+where, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []Part
	for rows.Next() {
		p, err := scan(rows)
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	return list, rows.Err()
}

// replaced sets each column but the first to its new value.
func replaced() string {
	list := make([]string, len(columns)-1)
	for i, c := range columns[1:] {
		list[i] = c + " = excluded." + c
	}
	return strings.Join(list, ", ")
}

// nullID lets the database number a new entry.
func nullID(id int64) any {
	if id == 0 {
		return nil
	}
	return id
}

// explain works out the notes and cautions that go with the rings.
func (p *Part) explain() {
	meanings, err := decode.Readings(p.Reading.Rings)
	if err != nil {
		return
	}
	for _, m := range meanings {
		if sameMeaning(m, p.Reading) {
			p.Reading.Notes, p.Reading.Cautions = m.Notes, m.Cautions
		}
	}
}
