package stock

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// A Store is an open stock. Several may be open on the same file at a time, in
// one program or in several; each sees what the others have done. Its methods
// may be called from several goroutines.
type Store struct {
	db   *sql.DB
	path string
}

// Open opens the stock in the file at path and makes it if it is not there. A
// file of an older version is brought up to date; a copy of it as it was stays
// beside it. The folder must exist, but for that of DefaultPath.
//
// Errors are one line and say what to do. A file that is damaged, of a newer
// version, or of another program is left as it is.
func Open(ctx context.Context, path string) (*Store, error) {
	return open(ctx, path, patience, migrations)
}

func open(ctx context.Context, path string, wait time.Duration, migrations []string) (*Store, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("the stock %s cannot be found: %w", path, err)
	}
	if err := haveFolder(path); err != nil {
		return nil, err
	}
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return nil, plain(path, err)
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder: name a file in it for the stock", path)
	case info.Size() > 0:
		h, err := readHeader(ctx, path, wait)
		if err != nil {
			return nil, plain(path, err)
		}
		if err := h.refuse(path, len(migrations)); err != nil {
			return nil, err
		}
		if h.application == applicationID && h.version < len(migrations) {
			if err := keepOld(ctx, path, h.version); err != nil {
				return nil, err
			}
		}
	}
	db, err := connect(path, making, wait)
	if err != nil {
		return nil, plain(path, err)
	}
	s := &Store{db, path}
	if err := migrate(ctx, db, migrations); err != nil {
		db.Close()
		return nil, plain(path, err)
	}
	return s, nil
}

// haveFolder makes sure of the folder for the file.
func haveFolder(path string) error {
	folder := filepath.Dir(path)
	if standard, err := DefaultPath(); err == nil && path == standard {
		if err := os.MkdirAll(folder, 0o700); err != nil {
			return fmt.Errorf("the folder %s for the stock cannot be made: name a file elsewhere with --stock", folder)
		}
		return nil
	}
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no folder %s for the stock: make it, or name another file", folder)
	}
	return nil
}

// refuse says why a file is no stock that this program can write to, if so.
func (h header) refuse(path string, latest int) error {
	switch {
	case h.application != applicationID && (h.tables > 0 || h.application != 0):
		return fmt.Errorf("%s is a database of another program: name another file for the stock", path)
	case h.application == applicationID && h.version > latest:
		return fmt.Errorf("the stock %s is of version %d, this program knows up to %d: use a newer ringwise; the file was left as it is",
			path, h.version, latest)
	}
	return nil
}

// keepOld copies a file of an older version before it is brought up to date.
func keepOld(ctx context.Context, path string, version int) error {
	kept := fmt.Sprintf("%s.version-%d", path, version)
	if _, err := os.Stat(kept); err == nil {
		return nil // kept the last time, when bringing it up to date failed
	}
	db, err := connect(path, existing, patience)
	if err != nil {
		return plain(path, err)
	}
	defer db.Close()
	return copyTo(ctx, db, kept)
}

// Close closes the stock.
func (s *Store) Close() error { return s.db.Close() }

// Path is the file of the stock, absolute.
func (s *Store) Path() string { return s.path }
