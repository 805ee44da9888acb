package stock

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
)

// Backup writes the whole stock, its journal and crops included, into a new
// file, as it stands at one moment; windows may go on working. It refuses to
// write over a file.
func (s *Store) Backup(ctx context.Context, path string) error {
	return copyTo(ctx, s.db, path)
}

// copyTo copies a database into a new file. It comes to be whole or not at
// all.
func copyTo(ctx context.Context, db *sql.DB, path string) error {
	if _, err := os.Lstat(path); err == nil {
		return tell("%s is there already: choose another name for the copy", path)
	}
	folder, err := os.MkdirTemp(filepath.Dir(path), ".ringwise-copy-")
	if err != nil {
		return tell("no copy can be written to %s: choose a folder that is there and may be written", filepath.Dir(path))
	}
	defer os.RemoveAll(folder)
	half := filepath.Join(folder, "stock.db")
	if _, err := db.ExecContext(ctx, "VACUUM INTO ?", half); err != nil {
		return plain(path, err)
	}
	if err := flush(half); err != nil {
		return fmt.Errorf("the copy %s cannot be written: %w", path, err)
	}
	// A link fails where a renaming would write over what has come meanwhile.
	if err := os.Link(half, path); err != nil {
		if _, e := os.Lstat(path); e == nil {
			return tell("%s is there already: choose another name for the copy", path)
		}
		if err := os.Rename(half, path); err != nil {
			return fmt.Errorf("the copy %s cannot be written: %w", path, err)
		}
	}
	return nil
}

// flush makes sure that a file is on the disk.
func flush(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	return f.Sync()
}
