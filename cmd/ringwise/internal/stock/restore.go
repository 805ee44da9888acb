package stock

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Restore puts what a backup holds in place of the stock at path, journal and
// all, and returns where the stock is kept as it was; "" if there was none.
// Windows that have the stock open go on with the restored one. A damaged
// stock is moved aside; a backup with a fault is refused.
func Restore(ctx context.Context, backup, path string) (kept string, err error) {
	if path, err = filepath.Abs(path); err != nil {
		return "", plain(path, err)
	}
	found, err := Verify(ctx, backup)
	if err != nil {
		return "", err
	}
	if len(found.Faults) > 0 {
		return "", fmt.Errorf("the backup %s has a fault (%s): use another", backup, found.Faults[0])
	}
	if err := haveFolder(path); err != nil {
		return "", err
	}
	folder, err := os.MkdirTemp(filepath.Dir(path), ".ringwise-restore-")
	if err != nil {
		return "", fmt.Errorf("nothing can be written to %s: check its permissions", filepath.Dir(path))
	}
	defer os.RemoveAll(folder)
	fresh := filepath.Join(folder, "stock.db")
	if err := unpack(ctx, backup, fresh); err != nil {
		return "", err
	}
	if !exists(path) {
		return "", place(fresh, path)
	}
	kept = freeName(path + ".before-restore-" + time.Now().UTC().Format("20060102-150405"))
	s, err := Open(ctx, path)
	if damaged(ctx, path) {
		return kept, setAside(fresh, path, kept)
	}
	if err != nil {
		return "", err
	}
	defer s.Close()
	if err := s.Backup(ctx, kept); err != nil {
		return "", err
	}
	return kept, plain(path, replace(ctx, s.db, fresh))
}

// unpack copies a backup to a file of the present version.
func unpack(ctx context.Context, backup, fresh string) error {
	full, err := filepath.Abs(backup)
	if err != nil {
		return plain(backup, err)
	}
	db, err := connectToRead(full)
	if err != nil {
		return plain(full, err)
	}
	defer db.Close()
	if err := copyTo(ctx, db, fresh); err != nil {
		return err
	}
	s, err := Open(ctx, fresh)
	if err != nil {
		return err
	}
	return s.Close()
}

// damaged tells whether the file cannot be read as a database.
func damaged(ctx context.Context, path string) bool {
	_, err := readHeader(ctx, path, patience)
	var failure *sqlite.Error
	if !errors.As(err, &failure) {
		return false
	}
	code := failure.Code() & 0xff
	return code == sqlite3.SQLITE_CORRUPT || code == sqlite3.SQLITE_NOTADB
}

// place puts the restored file where there is none.
func place(fresh, path string) error {
	if err := os.Rename(fresh, path); err != nil {
		return fmt.Errorf("the stock %s cannot be written: %w", path, err)
	}
	return nil
}

// setAside moves a damaged stock away, with the log beside it, and puts the
// restored file in its place.
func setAside(fresh, path, kept string) error {
	for _, part := range []string{"-wal", "-shm", ""} {
		if !exists(path + part) {
			continue
		}
		if err := os.Rename(path+part, kept+part); err != nil {
			return fmt.Errorf("the damaged stock %s cannot be moved aside: %w", path, err)
		}
	}
	return place(fresh, path)
}

// freeName is the name, or the name with a number, of no file yet.
func freeName(name string) string {
	for i, free := 2, name; ; i++ {
		if !exists(free) {
			return free
		}
		free = fmt.Sprintf("%s-%d", name, i)
	}
}

// replace puts the rows of another file in place of all rows, in one
// transaction. The revision goes on rising, so that windows see the change.
func replace(ctx context.Context, db *sql.DB, from string) error {
	conn, err := db.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	if _, err := conn.ExecContext(ctx, "ATTACH ? AS fresh", from); err != nil {
		return err
	}
	defer conn.ExecContext(context.WithoutCancel(ctx), "DETACH fresh")
	tx, err := conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	for _, statement := range []string{
		"DELETE FROM main.touched", "DELETE FROM main.step", "DELETE FROM main.crop", "DELETE FROM main.part",
		"INSERT INTO main.part SELECT * FROM fresh.part", "INSERT INTO main.crop SELECT * FROM fresh.crop",
		"INSERT INTO main.step SELECT * FROM fresh.step", "INSERT INTO main.touched SELECT * FROM fresh.touched",
		"UPDATE main.revision SET number = 1 + max(number, (SELECT number FROM fresh.revision))",
	} {
		if _, err := tx.ExecContext(ctx, statement); err != nil {
			return err
		}
	}
	return tx.Commit()
}
