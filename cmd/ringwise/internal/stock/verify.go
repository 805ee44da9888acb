package stock

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"

	"modernc.org/sqlite"
)

// An Inspection is what Verify found.
type Inspection struct {
	Version                      int // of the file
	Entries, Parts, Crops, Steps int
	// Faults are what is wrong, a line each; none if all is well.
	Faults []string
}

// mostFaults is how many faults are told.
const mostFaults = 20

func (i *Inspection) fault(format string, args ...any) {
	if len(i.Faults) < mostFaults {
		i.Faults = append(i.Faults, fmt.Sprintf(format, args...))
	}
}

// Verify checks a stock or a backup of one without changing it: the file
// itself, that each entry is whole and makes sense, and that the entries are
// what the journal says. What is wrong it returns as Faults; an error only if
// there is no such file, or if it cannot be opened as a stock at all.
func Verify(ctx context.Context, path string) (Inspection, error) {
	var found Inspection
	path, err := filepath.Abs(path)
	if err != nil {
		return found, plain(path, err)
	}
	if info, err := os.Stat(path); err != nil {
		return found, plain(path, err)
	} else if info.IsDir() || info.Size() == 0 {
		return found, tell("%s is empty or a folder: name the file of a stock", path)
	}
	h, err := readHeader(ctx, path, patience)
	if err != nil {
		return found, plain(path, err)
	}
	found.Version = h.version
	if err := h.refuse(path, len(migrations)); err != nil {
		return found, err
	}
	if h.application != applicationID {
		return found, tell("%s is no stock: name another file", path)
	}
	db, err := connectToRead(path)
	if err != nil {
		return found, plain(path, err)
	}
	defer db.Close()
	for _, look := range []func(context.Context, *sql.DB) error{found.pages, found.entries, found.journal} {
		if err := look(ctx, db); err != nil {
			var failure *sqlite.Error
			if ctx.Err() != nil || !errors.As(err, &failure) {
				return found, plain(path, err)
			}
			found.fault("%v", plain(path, err))
		}
	}
	return found, nil
}

// connectToRead opens a file as it is, to read only.
func connectToRead(path string) (*sql.DB, error) {
	connector, err := sqlite.NewConnector(sourceName(path, readOnly, fmt.Sprintf("busy_timeout(%d)", patience.Milliseconds())))
	if err != nil {
		return nil, err
	}
	return sql.OpenDB(connector), nil
}

// pages has the database check its own pages and references.
func (i *Inspection) pages(ctx context.Context, db *sql.DB) error {
	rows, err := db.QueryContext(ctx, fmt.Sprintf("PRAGMA integrity_check(%d)", mostFaults))
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var line string
		if err := rows.Scan(&line); err != nil {
			return err
		}
		if line != "ok" {
			i.fault("the file is damaged: %s", line)
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	var loose int
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM pragma_foreign_key_check").Scan(&loose); err != nil {
		return err
	}
	if loose > 0 {
		i.fault("the journal has %d lines without a step", loose)
	}
	return nil
}

// entries checks that each entry makes sense and is what the journal says.
func (i *Inspection) entries(ctx context.Context, db *sql.DB) error {
	rows, err := db.QueryContext(ctx, selectParts+"ORDER BY id")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		p, err := scan(rows)
		if err != nil {
			i.fault("%v", err)
			continue
		}
		i.Entries++
		i.Parts += p.Count
		settled := p
		if err := settled.settle(); err != nil {
			i.fault("entry #%d makes no sense: %v", p.ID, err)
		}
		if err := i.agrees(ctx, db, p); err != nil {
			return err
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	return db.QueryRowContext(ctx, "SELECT count(*) FROM crop WHERE part IN (SELECT id FROM part)").Scan(&i.Crops)
}

// agrees compares an entry with what the step that changed it last left.
func (i *Inspection) agrees(ctx context.Context, db *sql.DB, p Part) error {
	var left *string
	err := db.QueryRowContext(ctx, "SELECT after FROM touched WHERE step = ? AND part = ?", p.Step, p.ID).Scan(&left)
	if errors.Is(err, sql.ErrNoRows) || err == nil && left == nil {
		i.fault("entry #%d is not in the journal", p.ID)
		return nil
	}
	if err != nil {
		return err
	}
	logged, err := readRecord(*left)
	if err != nil || !reflect.DeepEqual(newRecord(logged), newRecord(p)) {
		i.fault("entry #%d is not what the journal says", p.ID)
	}
	return nil
}

func readRecord(text string) (Part, error) {
	var r record
	if err := json.Unmarshal([]byte(text), &r); err != nil {
		return Part{}, err
	}
	return r.part()
}

// journal checks that what can be undone or done again can be read.
func (i *Inspection) journal(ctx context.Context, db *sql.DB) error {
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM step WHERE state <> 'dropped'").Scan(&i.Steps); err != nil {
		return err
	}
	rows, err := db.QueryContext(ctx, "SELECT step, part, before, after FROM touched")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var step, part int64
		var sides [2]*string
		if err := rows.Scan(&step, &part, &sides[0], &sides[1]); err != nil {
			return err
		}
		for _, side := range sides {
			if side == nil {
				continue
			}
			if _, err := readRecord(*side); err != nil {
				i.fault("step %d of the journal cannot be read for entry #%d: %v", step, part, err)
			}
		}
	}
	return rows.Err()
}

// exists tells whether there is a file.
func exists(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist)
}
