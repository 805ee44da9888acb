package stock

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"modernc.org/sqlite"
)

// SQLite's manual (PRAGMA synchronous): in WAL mode only FULL, 2, keeps what
// was committed through a loss of power.
func TestEveryConnectionIsSafe(t *testing.T) {
	s := newStock(t)
	for range 6 { // held, so that each is another connection
		conn, err := s.db.Conn(bg)
		require.NoError(t, err)
		defer conn.Close()
		var mode string
		var synchronous, keys int
		require.NoError(t, conn.QueryRowContext(bg, "PRAGMA journal_mode").Scan(&mode))
		require.NoError(t, conn.QueryRowContext(bg, "PRAGMA synchronous").Scan(&synchronous))
		require.NoError(t, conn.QueryRowContext(bg, "PRAGMA foreign_keys").Scan(&keys))
		assert.Equal(t, "wal", mode)
		assert.Equal(t, 2, synchronous)
		assert.Equal(t, 1, keys)
	}
	assert.Equal(t, 6, s.db.Stats().OpenConnections)
}

// A connection without those settings is refused.
func TestUnsafeConnectionIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stock.db")
	for _, c := range []struct {
		settings []string
		want     string
	}{
		{[]string{"journal_mode(delete)", "synchronous(full)", "foreign_keys(1)"}, "journal_mode is delete, not wal"},
		{[]string{"journal_mode(wal)", "synchronous(normal)", "foreign_keys(1)"}, "synchronous is 1, not 2"},
		{[]string{"journal_mode(wal)", "synchronous(full)"}, "foreign_keys is 0, not 1"},
	} {
		connector, err := sqlite.NewConnector(sourceName(path, making, c.settings...))
		require.NoError(t, err)
		db := sql.OpenDB(checked{connector})
		err = db.Ping()
		assert.ErrorContains(t, err, c.want)
		assert.ErrorContains(t, plain(path, err), "cannot be kept safe where it is")
		db.Close()
	}
}

func TestOpenRefuses(t *testing.T) {
	folder := t.TempDir()
	file := func(name string) string { return filepath.Join(folder, name) }
	write := func(name string, data []byte) {
		require.NoError(t, os.WriteFile(file(name), data, 0o600))
	}
	write("notes.txt", []byte(strings.Repeat("the green set has a burnt smell\n", 200)))

	whole := newStock(t)
	for range 40 {
		confirmed(t, whole, fullPart(t))
	}
	require.NoError(t, whole.Backup(bg, file("whole.db")))
	data, err := os.ReadFile(file("whole.db"))
	require.NoError(t, err)
	write("cut.db", data[:len(data)/2+100])
	scratched := append([]byte(nil), data...)
	copy(scratched[100:], "scratch scratch scratch")
	write("scratched.db", scratched)

	alter(t, data, file("newer.db"), "PRAGMA user_version = 99")
	alter(t, data, file("other.db"), "PRAGMA application_id = 252006674") // the number of some other program
	alter(t, nil, file("foreign.db"), "CREATE TABLE recipe (name TEXT)")

	for name, want := range map[string]string{
		"notes.txt":      "is damaged or is no stock: restore a backup",
		"scratched.db":   "is damaged or is no stock: restore a backup",
		"newer.db":       "is of version 99, this program knows up to 1: use a newer ringwise; the file was left as it is",
		"other.db":       "is a database of another program",
		"foreign.db":     "is a database of another program",
		"":               "is a folder",
		"nowhere/far.db": "there is no folder",
	} {
		before, _ := os.ReadFile(file(name))
		_, err := open(bg, file(name), time.Millisecond, migrations)
		require.ErrorContains(t, err, want, name)
		assert.NotContains(t, err.Error(), "\n")
		assert.Contains(t, err.Error(), folder, "it names the place")
		after, _ := os.ReadFile(file(name))
		assert.Equal(t, before, after, "%s is left as it is", name)
	}

	found, err := Verify(bg, file("cut.db"))
	if err == nil {
		assert.NotEmpty(t, found.Faults, "half a file is no stock")
	}
}

// alter writes a database to a file and changes it there.
func alter(t *testing.T, data []byte, path, statement string) {
	t.Helper()
	require.NoError(t, os.WriteFile(path, data, 0o600))
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	_, err = db.Exec(statement)
	require.NoError(t, err)
}

func TestLocked(t *testing.T) {
	s := newStock(t)
	other := openStock(t, s.Path())
	tx, err := other.db.BeginTx(bg, nil) // immediate: it holds the file
	require.NoError(t, err)
	_, err = s.Confirm(bg, fullPart(t))
	assert.ErrorContains(t, err, "is held by another program: let it finish or close it")
	_, err = s.Parts(bg, Filter{})
	assert.NoError(t, err, "reading goes on")
	require.NoError(t, tx.Rollback())
	confirmed(t, s, fullPart(t))
}

func TestDiskFull(t *testing.T) {
	s := newStock(t)
	confirmed(t, s, fullPart(t))
	s.db.SetMaxOpenConns(1)
	// SQLite takes the limit for the end of the disk.
	_, err := s.db.Exec("PRAGMA max_page_count = 20")
	require.NoError(t, err)
	before := counts(t, s)
	for i := 0; err == nil; i++ {
		require.Less(t, i, 1000, "the limit must bite")
		before = counts(t, s)
		_, err = s.Confirm(bg, fullPart(t))
	}
	assert.ErrorContains(t, err, "is full: make room, then try again; nothing was changed")
	assert.Equal(t, before, counts(t, s))
	_, err = s.db.Exec("PRAGMA max_page_count = 100000")
	require.NoError(t, err)
	confirmed(t, s, fullPart(t))
	sound(t, s.Path())
}

func TestReadOnly(t *testing.T) {
	s := newStock(t)
	confirmed(t, s, fullPart(t))
	db, err := connect(s.Path(), readOnly, time.Second)
	require.NoError(t, err)
	defer db.Close()
	locked := &Store{db, s.Path()}
	_, err = locked.Confirm(bg, fullPart(t))
	assert.ErrorContains(t, err, "is read-only: allow writing to the file and its folder, or copy it elsewhere")
	assert.Len(t, counts(t, s), 1)
}

func TestNoPermission(t *testing.T) {
	if os.Getuid() == 0 || runtime.GOOS == "windows" {
		t.Skip("whoever may do anything is refused nothing")
	}
	s := newStock(t)
	require.NoError(t, s.Close())
	require.NoError(t, os.Chmod(s.Path(), 0))
	_, err := Open(bg, s.Path())
	assert.ErrorContains(t, err, "check that the file and its folder may be read and written")
}

func TestStopped(t *testing.T) {
	s := newStock(t)
	ctx, stop := context.WithCancel(bg)
	stop()
	_, err := s.Confirm(ctx, fullPart(t))
	assert.ErrorIs(t, err, context.Canceled)
	assert.Empty(t, counts(t, s))
}

// A file of an older version is brought up to date and kept as it was.
func TestMigrate(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stock.db")
	s := openStock(t, path)
	confirmed(t, s, fullPart(t))
	require.NoError(t, s.Close())

	next := append(append([]string(nil), migrations...), "ALTER TABLE part ADD COLUMN drawer TEXT NOT NULL DEFAULT 'left'")
	newer, err := open(bg, path, time.Second, next)
	require.NoError(t, err)
	defer newer.Close()
	var drawer string
	require.NoError(t, newer.db.QueryRow("SELECT drawer FROM part").Scan(&drawer))
	assert.Equal(t, "left", drawer)
	assert.Len(t, counts(t, newer), 1)
	assert.Equal(t, 1, sound(t, path+".version-1").Entries)
	_, err = open(bg, path, time.Second, migrations)
	assert.ErrorContains(t, err, "is of version 2, this program knows up to 1")

	broken := append(next, "ALTER TABLE nothing ADD COLUMN at TEXT")
	_, err = open(bg, path, time.Second, broken)
	assert.Error(t, err)
	assert.Len(t, counts(t, newer), 1, "a step that fails changes nothing")
}

func TestDefaultPath(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("other systems have other folders")
	}
	t.Setenv("HOME", "/home/club")
	for value, want := range map[string]string{
		"":                "/home/club/.local/share/ringwise/stock.db",
		"/srv/shared":     "/srv/shared/ringwise/stock.db",
		"relative/folder": "/home/club/.local/share/ringwise/stock.db",
	} {
		t.Setenv("XDG_DATA_HOME", value)
		path, err := DefaultPath()
		require.NoError(t, err)
		assert.Equal(t, want, path)
	}
	folder := t.TempDir()
	t.Setenv("XDG_DATA_HOME", folder)
	path, err := DefaultPath()
	require.NoError(t, err)
	s, err := Open(bg, path)
	require.NoError(t, err, "its folder is made")
	s.Close()
}

// Odd names are names.
func TestOddFileNames(t *testing.T) {
	for _, name := range []string{"a b.db", "50% off?.db", "weiß#1&mode=ro.db", "-.db"} {
		s := openStock(t, filepath.Join(t.TempDir(), name))
		confirmed(t, s, fullPart(t))
		assert.FileExists(t, s.Path())
		sound(t, s.Path())
	}
}

// Windows that open a new file at once make one stock of it.
func TestOpenAtOnce(t *testing.T) {
	for range 5 {
		path := filepath.Join(t.TempDir(), "stock.db")
		var wait sync.WaitGroup
		for range 8 {
			wait.Add(1)
			go func() {
				defer wait.Done()
				s, err := Open(bg, path)
				if assert.NoError(t, err) {
					_, err = s.Confirm(bg, Part{Count: 1, Origin: ByHand})
					assert.NoError(t, err)
					assert.NoError(t, s.Close())
				}
			}()
		}
		wait.Wait()
		assert.Equal(t, 8, sound(t, path).Entries)
	}
}
