package stock

import (
	"context"
	"database/sql"
	"fmt"
)

// applicationID marks the file as a stock in its header (PRAGMA
// application_id): the letters RWST.
const applicationID = 0x52575354

// migrations bring a file from each version to the next; the first makes a new
// one. The version of a file (PRAGMA user_version) is how many it has had, so
// a migration that was ever released is never changed.
//
// Resistances, percentages and watts are decimal text and so exact. Rings are
// letters of IEC 60757 parted by spaces.
var migrations = []string{`
CREATE TABLE part (
	id             INTEGER PRIMARY KEY AUTOINCREMENT,
	key            TEXT NOT NULL UNIQUE,
	step           INTEGER NOT NULL, -- the last step that changed it
	count          INTEGER NOT NULL CHECK (count >= 0),
	origin         TEXT NOT NULL,
	rings          TEXT NOT NULL,
	ohms           TEXT NOT NULL,
	tolerance      TEXT,             -- percent
	tempco         INTEGER,          -- ppm/K
	failure_rate   TEXT,             -- percent per 1000 h
	kind           TEXT NOT NULL,
	kind_basis     TEXT NOT NULL,
	size           TEXT NOT NULL,
	size_basis     TEXT NOT NULL,
	rating         TEXT,             -- watts
	rating_basis   TEXT NOT NULL,
	photo          TEXT NOT NULL,
	photo_part     INTEGER NOT NULL,
	verdict        TEXT NOT NULL,
	candidates     TEXT NOT NULL,    -- JSON
	changes        TEXT NOT NULL,    -- JSON
	meter_ohms     TEXT,
	meter_percent  TEXT,
	meter_extra    TEXT,             -- ohms
	meter_circuit  INTEGER,
	note           TEXT NOT NULL,
	confirmed      TEXT NOT NULL     -- RFC 3339, UTC
) STRICT;
CREATE INDEX part_by_value ON part (ohms, tolerance);

-- A photo crop stays when its entry is undone, so that it can be redone.
CREATE TABLE crop (
	part INTEGER PRIMARY KEY,
	png  BLOB NOT NULL
) STRICT;

-- The journal: what was done, and each entry it touched, before and after, as
-- JSON; null where there was none.
CREATE TABLE step (
	id    INTEGER PRIMARY KEY AUTOINCREMENT,
	at    TEXT NOT NULL,
	what  TEXT NOT NULL,
	state TEXT NOT NULL CHECK (state IN ('done', 'undone', 'dropped'))
) STRICT;
CREATE INDEX step_by_state ON step (state, id);
CREATE TABLE touched (
	step   INTEGER NOT NULL REFERENCES step (id),
	part   INTEGER NOT NULL,
	before TEXT,
	after  TEXT,
	PRIMARY KEY (step, part)
) STRICT, WITHOUT ROWID;

-- One row: how often the stock has changed.
CREATE TABLE revision (number INTEGER NOT NULL) STRICT;
INSERT INTO revision VALUES (0);
`}

// migrate brings the file to the version of the migrations, in one
// transaction.
func migrate(ctx context.Context, db *sql.DB, migrations []string) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	var version int
	if err := tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return err
	}
	if version >= len(migrations) {
		return nil // another window was quicker
	}
	for _, migration := range migrations[version:] {
		if _, err := tx.ExecContext(ctx, migration); err != nil {
			return err
		}
	}
	settings := fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, len(migrations))
	if _, err := tx.ExecContext(ctx, settings); err != nil {
		return err
	}
	return tx.Commit()
}
