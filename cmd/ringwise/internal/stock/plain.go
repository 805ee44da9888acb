package stock

import (
	"context"
	"errors"
	"fmt"
	"io/fs"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// An unsafeDiskError says which promise a connection does not keep.
type unsafeDiskError struct{ why string }

func (e unsafeDiskError) Error() string { return e.why }

// A told error is meant for the person as it stands.
type told struct{ error }

// Unwrap is what the error is about.
func (t told) Unwrap() error { return t.error }

// tell makes an error for the person.
func tell(format string, args ...any) error { return told{fmt.Errorf(format, args...)} }

// A FileError says that the file of a stock, or the disk below it, does not do
// what it should: full, held by another program, read-only, damaged.
type FileError struct {
	// Code is the primary result code of SQLite.
	Code int
	err  error // what it means, and what to do
}

// Error is one line for the person.
func (e *FileError) Error() string { return e.err.Error() }

// Unwrap is what the error is about.
func (e *FileError) Unwrap() error { return e.err }

// Busy reports whether the stock was held by another program, so that the same
// may go well in a moment.
func (e *FileError) Busy() bool {
	return e.Code == sqlite3.SQLITE_BUSY || e.Code == sqlite3.SQLITE_LOCKED
}

// Damaged reports whether the file is no whole stock, so that only a backup helps.
func (e *FileError) Damaged() bool {
	return e.Code == sqlite3.SQLITE_CORRUPT || e.Code == sqlite3.SQLITE_NOTADB
}

// plain says in one line what an error of the database or the system means
// for the file at path, and what to do.
func plain(path string, err error) error {
	var unsafe unsafeDiskError
	var failure *sqlite.Error
	switch {
	case err == nil, errors.As(err, new(told)), errors.As(err, new(*FileError)), errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.As(err, &unsafe):
		return fmt.Errorf("the stock %s cannot be kept safe where it is (%s): put it on a local disk", path, unsafe.why)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("the stock %s may not be opened: check the permissions of the file and its folder", path)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no stock at %s: check the name", path)
	case !errors.As(err, &failure):
		return fmt.Errorf("the stock %s: %w", path, err)
	}
	code := failure.Code() & 0xff
	if code == sqlite3.SQLITE_INTERRUPT {
		return context.Canceled
	}
	return &FileError{code, meaningOf(path, code, failure)}
}

// meaningOf says what a result code of the database means for the file at path,
// and what to do.
func meaningOf(path string, code int, failure error) error {
	switch code {
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return fmt.Errorf("the stock %s is held by another program: let it finish or close it, then try again; nothing was changed", path)
	case sqlite3.SQLITE_FULL:
		return fmt.Errorf("the disk of the stock %s is full: make room, then try again; nothing was changed", path)
	case sqlite3.SQLITE_READONLY:
		return fmt.Errorf("the stock %s is read-only: allow writing to the file and its folder, or copy it elsewhere; nothing was changed", path)
	case sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH:
		return fmt.Errorf("the stock %s cannot be opened: check that the file and its folder may be read and written", path)
	case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB:
		return fmt.Errorf("the stock %s is damaged or is no stock: restore a backup with ringwise stock restore; the file was left as it is", path)
	case sqlite3.SQLITE_IOERR:
		return fmt.Errorf("the disk of the stock %s fails (%w): copy the file to another disk, then check it with ringwise stock verify", path, failure)
	}
	return fmt.Errorf("the stock %s: %w", path, failure)
}
