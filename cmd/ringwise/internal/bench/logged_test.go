package bench

import (
	"database/sql"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/logbook"
	"ringwise/cmd/ringwise/internal/stock"
)

// breaks is a handler that breaks with something personal in its hands.
func breaks(http.ResponseWriter, *http.Request) { panic("grandmother's tin.jpg") }

// A request that breaks the bench is answered in one line, and the log tells
// where it broke and nothing of what it held.
func TestBreakingIsAnsweredAndLogged(t *testing.T) {
	var log strings.Builder
	s := newServer(t, Options{Log: logbook.New(&log, false)})
	w := httptest.NewRecorder()
	s.logged(http.HandlerFunc(breaks)).ServeHTTP(w, own("GET", "/photos/1", ""))
	assert.Equal(t, http.StatusInternalServerError, w.Code)
	assert.JSONEq(t, `{"error":"the bench broke on this: load the page again; what was confirmed is kept"}`, w.Body.String())
	assert.Contains(t, log.String(), "level=ERROR")
	assert.Contains(t, log.String(), "internal/bench.breaks")
	assert.NotContains(t, log.String(), "grandmother")

	// An answer that has begun is broken off, not made to look whole.
	assert.PanicsWithValue(t, http.ErrAbortHandler, func() {
		s.logged(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			w.Write([]byte("half"))
			breaks(w, r)
		})).ServeHTTP(httptest.NewRecorder(), own("GET", "/photos/1", ""))
	})
}

// A stock that another program holds is a matter of waiting: the answer says so,
// and when to try again; the log tells the database's code, and nothing is kept.
func TestHeldStockIsBusy(t *testing.T) {
	t.Parallel() // the bench waits some seconds for the other program
	var log strings.Builder
	s := newServer(t, Options{Log: logbook.New(&log, false)})
	other, err := sql.Open("sqlite", "file:"+s.store.Path()+"?_txlock=immediate")
	require.NoError(t, err)
	defer other.Close()
	held, err := other.BeginTx(t.Context(), nil)
	require.NoError(t, err)
	w := s.answers(own("POST", "/by-hand", `{"value":"5K6"}`))
	require.NoError(t, held.Rollback())
	assert.Equal(t, http.StatusServiceUnavailable, w.Code)
	assert.Equal(t, retryAfter, w.Header().Get("Retry-After"))
	assert.Contains(t, w.Body.String(), "is held by another program")
	assert.Contains(t, log.String(), `msg="the stock cannot be used" route="POST /by-hand" code=5`, "SQLITE_BUSY is 5")
	assert.NotContains(t, log.String(), "stock.db")
	parts, err := s.store.Parts(t.Context(), stock.Filter{})
	require.NoError(t, err)
	assert.Empty(t, parts)
	assert.Equal(t, 200, s.answers(own("POST", "/by-hand", `{"value":"5K6"}`)).Code)
}
