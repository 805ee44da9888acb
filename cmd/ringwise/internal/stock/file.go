package stock

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// DefaultPath is where the stock lies unless another file is named:
// ringwise/stock.db in the user's data folder, which is XDG_DATA_HOME or
// ~/.local/share on Linux and the BSDs (XDG Base Directory Specification),
// ~/Library/Application Support on macOS, %LocalAppData% on Windows.
func DefaultPath() (string, error) {
	folder := ""
	switch runtime.GOOS {
	case "windows":
		folder = os.Getenv("LocalAppData")
	case "darwin", "ios":
	default:
		// The specification says that a path that is not absolute is ignored.
		if folder = os.Getenv("XDG_DATA_HOME"); !filepath.IsAbs(folder) {
			folder = ""
		}
	}
	if folder == "" {
		home, err := os.UserHomeDir()
		if err != nil {
			return "", errors.New("there is no home folder to keep the stock in: name a file with --stock")
		}
		switch runtime.GOOS {
		case "windows":
			folder = filepath.Join(home, "AppData", "Local")
		case "darwin", "ios":
			folder = filepath.Join(home, "Library", "Application Support")
		default:
			folder = filepath.Join(home, ".local", "share")
		}
	}
	return filepath.Join(folder, "ringwise", "stock.db"), nil
}

// How a file is opened.
const (
	patience = 10 * time.Second // how long another window may hold the file
	readOnly = "ro"
	making   = "rwc" // made if it is not there
	existing = "rw"
)

// A checked connector asserts on every connection that what is answered for
// is on the disk: a write-ahead log, flushed at every commit.
type checked struct{ driver.Connector }

func (c checked) Connect(ctx context.Context) (driver.Conn, error) {
	conn, err := c.Connector.Connect(ctx)
	if err != nil {
		return nil, err
	}
	for pragma, want := range map[string]any{"journal_mode": "wal", "synchronous": int64(2), "foreign_keys": int64(1)} {
		got, err := pragmaOf(ctx, conn, pragma)
		if err == nil && got != want {
			err = unsafeDiskError{fmt.Sprintf("%s is %v, not %v", pragma, got, want)}
		}
		if err != nil {
			conn.Close()
			return nil, err
		}
	}
	return conn, nil
}

// pragmaOf asks a connection for one of its settings.
func pragmaOf(ctx context.Context, conn driver.Conn, name string) (any, error) {
	rows, err := conn.(driver.QueryerContext).QueryContext(ctx, "PRAGMA "+name, nil)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	value := make([]driver.Value, 1)
	if err := rows.Next(value); err != nil && err != io.EOF {
		return nil, err
	}
	return value[0], nil
}

// sourceName is how the driver is told of a file and its settings.
func sourceName(path, mode string, settings ...string) string {
	full := filepath.ToSlash(path)
	if !strings.HasPrefix(full, "/") {
		full = "/" + full // a drive letter
	}
	query := url.Values{"mode": {mode}, "_txlock": {"immediate"}, "_pragma": settings}
	return (&url.URL{Scheme: "file", Path: full, RawQuery: query.Encode()}).String()
}

// connect opens a pool of checked connections to a file.
func connect(path, mode string, wait time.Duration) (*sql.DB, error) {
	connector, err := sqlite.NewConnector(sourceName(path, mode,
		fmt.Sprintf("busy_timeout(%d)", wait.Milliseconds()), "journal_mode(wal)", "synchronous(full)", "foreign_keys(1)"))
	if err != nil {
		return nil, err
	}
	return sql.OpenDB(checked{connector}), nil
}

// A header is what a file says of itself.
type header struct {
	application, version, tables int
}

// readHeader looks at a file without changing it, whatever it is, but that it takes back
// what a program that was killed left half written: a connection that only reads
// cannot look past that.
func readHeader(ctx context.Context, path string, wait time.Duration) (header, error) {
	h, err := headerBy(ctx, path, readOnly, wait)
	var failure *sqlite.Error
	if errors.As(err, &failure) && (failure.Code() == sqlite3.SQLITE_READONLY_ROLLBACK || failure.Code() == sqlite3.SQLITE_READONLY_RECOVERY) {
		return headerBy(ctx, path, existing, wait)
	}
	return h, err
}

// headerBy asks for the header by a connection of a mode.
func headerBy(ctx context.Context, path, mode string, wait time.Duration) (header, error) {
	connector, err := sqlite.NewConnector(sourceName(path, mode, fmt.Sprintf("busy_timeout(%d)", wait.Milliseconds())))
	if err != nil {
		return header{}, err
	}
	db := sql.OpenDB(connector)
	defer db.Close()
	conn, err := db.Conn(ctx)
	if err != nil {
		return header{}, err
	}
	defer conn.Close()
	// In one transaction, for another window may be making the stock just now.
	if _, err := conn.ExecContext(ctx, "BEGIN DEFERRED"); err != nil {
		return header{}, err
	}
	var h header
	for _, ask := range []struct {
		question string
		answer   *int
	}{
		{"SELECT count(*) FROM sqlite_schema", &h.tables},
		{"PRAGMA application_id", &h.application},
		{"PRAGMA user_version", &h.version},
	} {
		if err := conn.QueryRowContext(ctx, ask.question).Scan(ask.answer); err != nil {
			return header{}, err
		}
	}
	return h, nil
}
