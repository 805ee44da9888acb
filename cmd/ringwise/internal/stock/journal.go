package stock

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// A Step is one thing that was done to the stock: a line of its journal.
type Step struct {
	ID   int64
	At   time.Time // UTC
	What string    // in words, such as "took 1 of #12, 5.6 kΩ ±5 %; 3 left"
	// Undone says that the step was undone and can be done again.
	Undone bool
}

// An action is a step while it is being done: all of it or nothing of it
// comes to be.
type action struct {
	tx   *sql.Tx
	step int64
	// touched counts the entries it has changed.
	touched int
}

// act does one step. do says what it did in words. If it touched no entry
// there is no step.
func (s *Store) act(ctx context.Context, do func(*action) (what string, err error)) error {
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return plain(s.path, err)
	}
	defer tx.Rollback()
	now := time.Now().UTC().Format(time.RFC3339)
	result, err := tx.ExecContext(ctx, "INSERT INTO step (at, what, state) VALUES (?, '', 'done')", now)
	if err != nil {
		return plain(s.path, err)
	}
	a := &action{tx: tx}
	if a.step, err = result.LastInsertId(); err != nil {
		return plain(s.path, err)
	}
	what, err := do(a)
	if err != nil || a.touched == 0 {
		return plain(s.path, err)
	}
	for _, statement := range []string{
		// What was undone before cannot be done again behind something new.
		"UPDATE step SET state = 'dropped' WHERE state = 'undone'",
		"UPDATE revision SET number = number + 1",
	} {
		if _, err := tx.ExecContext(ctx, statement); err != nil {
			return plain(s.path, err)
		}
	}
	if _, err := tx.ExecContext(ctx, "UPDATE step SET what = ? WHERE id = ?", what, a.step); err != nil {
		return plain(s.path, err)
	}
	return plain(s.path, tx.Commit())
}

// part fetches an entry.
func (a *action) part(ctx context.Context, id int64) (Part, error) {
	list, err := partsOf(ctx, a.tx, "WHERE id = ?", id)
	if err != nil {
		return Part{}, err
	}
	if len(list) == 0 {
		return Part{}, noEntry(id)
	}
	return list[0], nil
}

// mostHeld is the most parts that an entry ever had, by the steps that are not
// undone. Of one that was imported the journal does not know it: parts may have
// been taken before, and so it is the most that any entry may have.
func mostHeld(ctx context.Context, db querier, id int64) (int, error) {
	var most sql.NullInt64
	var imported sql.NullBool
	err := db.QueryRowContext(ctx, `SELECT max(json_extract(after, '$.count')), max(before IS NULL AND what LIKE 'imported %')
		FROM touched JOIN step ON step.id = touched.step WHERE part = ? AND state = 'done'`, id).Scan(&most, &imported)
	if imported.Bool {
		return mostCount, err
	}
	return int(most.Int64), err
}

func noEntry(id int64) error { return tell("the stock has no entry #%d: list its entries", id) }

// add keeps a new, settled entry and its crop. It sets its number.
func (a *action) add(ctx context.Context, p *Part) error {
	p.Step = a.step
	row, err := values(*p)
	if err != nil {
		return err
	}
	result, err := a.tx.ExecContext(ctx, writePart, row...)
	if err != nil {
		return err
	}
	if p.ID, err = result.LastInsertId(); err != nil {
		return err
	}
	if p.Crop != nil {
		if _, err := a.tx.ExecContext(ctx, "INSERT INTO crop (part, png) VALUES (?, ?)", p.ID, p.Crop); err != nil {
			return err
		}
	}
	return a.note(ctx, p.ID, nil, p)
}

// change keeps a settled entry in place of what was there. Its crop stays.
func (a *action) change(ctx context.Context, before Part, after *Part) error {
	after.Step = a.step
	if err := write(ctx, a.tx, *after); err != nil {
		return err
	}
	return a.note(ctx, after.ID, &before, after)
}

// remove takes an entry out.
func (a *action) remove(ctx context.Context, before Part) error {
	if _, err := a.tx.ExecContext(ctx, "DELETE FROM part WHERE id = ?", before.ID); err != nil {
		return err
	}
	return a.note(ctx, before.ID, &before, nil)
}

func write(ctx context.Context, tx *sql.Tx, p Part) error {
	row, err := values(p)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, writePart, row...)
	return err
}

// note writes into the journal what the entry was and is.
func (a *action) note(ctx context.Context, id int64, before, after *Part) error {
	var sides [2]any
	for i, p := range []*Part{before, after} {
		if p == nil {
			continue
		}
		text, err := json.Marshal(newRecord(*p))
		if err != nil {
			return err
		}
		sides[i] = string(text)
	}
	a.touched++
	_, err := a.tx.ExecContext(ctx, "INSERT INTO touched (step, part, before, after) VALUES (?, ?, ?, ?)", a.step, id, sides[0], sides[1])
	return err
}

// ErrNothingToUndo and ErrNothingToRedo say that the journal has no such step.
var (
	ErrNothingToUndo = errors.New("there is nothing to undo")
	ErrNothingToRedo = errors.New("there is nothing to do again")
)

// Undo undoes the last step that is not undone, whichever window did it, and
// returns it. It returns ErrNothingToUndo if there is none.
func (s *Store) Undo(ctx context.Context) (Step, error) { return s.shift(ctx, undoing, 0) }

// UndoStep undoes the step of that number if nothing was done after it, so
// that a window never undoes what another has done.
func (s *Store) UndoStep(ctx context.Context, step int64) (Step, error) {
	return s.shift(ctx, undoing, step)
}

// Redo does again what was undone last, and returns it. It returns
// ErrNothingToRedo if there is none, or if something was done since.
func (s *Store) Redo(ctx context.Context) (Step, error) { return s.shift(ctx, redoing, 0) }

// RedoStep does the step of that number again if it was undone last and nothing
// was done since.
func (s *Store) RedoStep(ctx context.Context, step int64) (Step, error) {
	return s.shift(ctx, redoing, step)
}

// A direction is that of going through the journal.
type direction struct {
	nothing error
	pick    string // finds the step
	side    string // the state of the entries to go to
	becomes string // the state of the step then
	other   string // the error where another step comes first
}

var (
	undoing = direction{ErrNothingToUndo, "SELECT id, at, what FROM step WHERE state = 'done' ORDER BY id DESC LIMIT 1", "before", "undone", "something else was done since: %s; undo that first"}
	redoing = direction{ErrNothingToRedo, "SELECT id, at, what FROM step WHERE state = 'undone' ORDER BY id LIMIT 1", "after", "done", "something else was undone since: %s; do that again first"}
)

func (s *Store) shift(ctx context.Context, d direction, only int64) (Step, error) {
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return Step{}, plain(s.path, err)
	}
	defer tx.Rollback()
	step, err := scanStep(tx.QueryRowContext(ctx, d.pick))
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return Step{}, d.nothing
	case err != nil:
		return Step{}, plain(s.path, err)
	case only != 0 && step.ID != only:
		return Step{}, fmt.Errorf(d.other, step.What)
	}
	if err := s.restore(ctx, tx, step.ID, d.side); err != nil {
		return Step{}, plain(s.path, err)
	}
	if _, err := tx.ExecContext(ctx, "UPDATE step SET state = ? WHERE id = ?", d.becomes, step.ID); err != nil {
		return Step{}, plain(s.path, err)
	}
	if _, err := tx.ExecContext(ctx, "UPDATE revision SET number = number + 1"); err != nil {
		return Step{}, plain(s.path, err)
	}
	step.Undone = d.becomes == "undone"
	return step, plain(s.path, tx.Commit())
}

// restore puts every entry that the step touched into the state it had on one
// side of it.
func (s *Store) restore(ctx context.Context, tx *sql.Tx, step int64, side string) error {
	rows, err := tx.QueryContext(ctx, "SELECT part, "+side+" FROM touched WHERE step = ?", step)
	if err != nil {
		return err
	}
	defer rows.Close()
	states := map[int64]*string{}
	for rows.Next() {
		var id int64
		var state *string
		if err := rows.Scan(&id, &state); err != nil {
			return err
		}
		states[id] = state
	}
	if err := rows.Err(); err != nil {
		return err
	}
	for id, state := range states {
		if state == nil {
			if _, err := tx.ExecContext(ctx, "DELETE FROM part WHERE id = ?", id); err != nil {
				return err
			}
			continue
		}
		var r record
		if err := json.Unmarshal([]byte(*state), &r); err != nil {
			return tell("the journal's entry #%d cannot be read (%w): check the file with ringwise stock verify", id, err)
		}
		p, err := r.part()
		if err != nil {
			return err
		}
		if err := write(ctx, tx, p); err != nil {
			return err
		}
	}
	return nil
}

// Steps returns the last steps of the journal, newest first, at most so many,
// without those that can neither be undone nor done again.
func (s *Store) Steps(ctx context.Context, most int) ([]Step, error) {
	rows, err := s.db.QueryContext(ctx, "SELECT id, at, what, state = 'undone' FROM step WHERE state <> 'dropped' ORDER BY id DESC LIMIT ?", most)
	if err != nil {
		return nil, plain(s.path, err)
	}
	defer rows.Close()
	var list []Step
	for rows.Next() {
		var undone bool
		step, err := scanStep(rows, &undone)
		if err != nil {
			return nil, plain(s.path, err)
		}
		step.Undone = undone
		list = append(list, step)
	}
	return list, plain(s.path, rows.Err())
}

// scanStep reads a step and what columns come behind it.
func scanStep(row interface{ Scan(...any) error }, more ...any) (Step, error) {
	var step Step
	var at string
	if err := row.Scan(append([]any{&step.ID, &at, &step.What}, more...)...); err != nil {
		return Step{}, err
	}
	var err error
	step.At, err = time.Parse(time.RFC3339, at)
	return step, err
}
