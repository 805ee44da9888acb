package bench

import (
	"bytes"
	"context"
	"database/sql"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
)

// spoil overwrites the pages of a stock behind the program's back, as a failing disk
// does. mend puts them back as they were.
func spoil(t *testing.T, path string) (mend func()) {
	t.Helper()
	other, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	_, err = other.Exec("PRAGMA wal_checkpoint(TRUNCATE)")
	require.NoError(t, err)
	require.NoError(t, other.Close())
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	spoilt := bytes.Clone(whole)
	for i := 100; i < len(spoilt); i++ { // all but the header
		spoilt[i] = 0x5a
	}
	overwrite := func(data []byte) {
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		require.NoError(t, err)
		_, err = f.WriteAt(data, 0)
		require.NoError(t, err)
		require.NoError(t, f.Close())
	}
	overwrite(spoilt)
	return func() {
		overwrite(whole)
		other, err := sql.Open("sqlite", path)
		require.NoError(t, err)
		defer other.Close()
		// A change by another program, so that what is held in memory is read anew.
		_, err = other.Exec("UPDATE revision SET number = number + 1")
		require.NoError(t, err)
	}
}

// The disk below the stock fails in the middle of an evening: what a person confirms
// meanwhile is not in the stock, is said not to be, and can be saved and brought into
// another. Once the disk is well it goes in by being confirmed again.
func TestWorkInHandOutlivesTheStock(t *testing.T) {
	s := newServer(t, Options{})
	mend := spoil(t, s.store.Path())
	confirm := func(part, version string) (int, string) {
		w := s.answers(own("POST", "/photos/1/"+part, `{"version":`+version+`,"do":"confirm"}`))
		return w.Code, w.Body.String()
	}
	for range 2 { // trying again holds it once
		code, text := confirm("1", "0")
		require.Equal(t, http.StatusUnprocessableEntity, code, text)
		assert.Contains(t, text, "damaged")
		assert.Contains(t, text, "what you confirmed is held here")
	}
	code, _ := confirm("3", "0")
	require.Equal(t, http.StatusUnprocessableEntity, code)
	assert.Equal(t, 2, s.tray.session().Unsaved)
	assert.Equal(t, 0, s.tray.session().Confirmed)

	saved := s.answers(own("GET", "/unsaved", ""))
	require.Equal(t, http.StatusOK, saved.Code)
	assert.Contains(t, saved.Header().Get("Content-Disposition"), "ringwise-unsaved.jsonl")
	elsewhere, err := stock.Open(context.Background(), filepath.Join(t.TempDir(), "other.db"))
	require.NoError(t, err)
	defer elsewhere.Close()
	done, err := elsewhere.ImportJSON(t.Context(), strings.NewReader(saved.Body.String()))
	require.NoError(t, err)
	assert.Equal(t, stock.Imported{Added: 2}, done)
	parts, err := elsewhere.Parts(t.Context(), stock.Filter{})
	require.NoError(t, err)
	assert.Equal(t, "5.6 kΩ ±5 %", stock.Meaning(parts[0].Reading))
	crop, err := elsewhere.Crop(t.Context(), parts[0].ID)
	require.NoError(t, err)
	assert.NotEmpty(t, crop, "with its picture")

	// A part that is changed is no longer what was confirmed.
	require.Equal(t, 200, s.answers(own("POST", "/photos/1/3", `{"version":0,"do":"flip"}`)).Code)
	assert.Equal(t, 1, s.tray.session().Unsaved)

	mend()
	code, text := confirm("1", "0")
	require.Equal(t, http.StatusOK, code, text)
	assert.Equal(t, 0, s.tray.session().Unsaved)
	assert.Empty(t, s.answers(own("GET", "/unsaved", "")).Body.String())
}

func TestUnsavedIsForThoseLetIn(t *testing.T) {
	s := newServer(t, Options{})
	r := own("GET", "/unsaved", "")
	r.RemoteAddr = "192.168.1.9:50000"
	assert.Equal(t, http.StatusUnauthorized, s.answers(r).Code)
	r = own("GET", "/unsaved", "")
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	assert.Equal(t, http.StatusForbidden, s.answers(r).Code)
}
