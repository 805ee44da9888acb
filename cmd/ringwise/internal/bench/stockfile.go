package bench

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path/filepath"
	"strings"

	"ringwise/cmd/ringwise/internal/stock"
)

// mostStockFile bounds a stock file that is brought in, in bytes.
const mostStockFile = 64 << 20

// saveStock sends the whole stock as CSV or as JSON, a line for each entry, as
// ringwise stock export writes it.
func (s *Server) saveStock(w http.ResponseWriter, r *http.Request) {
	write, name, kind := s.store.ExportJSON, "ringwise-stock.jsonl", "application/jsonl"
	if strings.HasSuffix(r.URL.Path, ".csv") {
		write, name, kind = s.store.ExportCSV, "ringwise-stock.csv", "text/csv; charset=utf-8"
	}
	var whole bytes.Buffer
	if err := write(r.Context(), &whole); err != nil {
		fail(w, err)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	w.Write(whole.Bytes())
}

// bringStock adds the entries of a file that an export has written.
func (s *Server) bringStock(w http.ResponseWriter, r *http.Request) {
	name := plainName(r.URL.Query().Get("name"))
	data, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostStockFile))
	if err != nil {
		refuse(w, http.StatusRequestEntityTooLarge, fmt.Sprintf("%s did not arrive whole, or is larger than %d MB: bring it in with ringwise stock import", name, mostStockFile>>20))
		return
	}
	what, err := s.tray.bringStock(r.Context(), name, data)
	if err != nil {
		fail(w, fmt.Errorf("%s: %w", name, err))
		return
	}
	answer(w, struct {
		What string `json:"what"`
	}{what})
}

// bringStock adds entries to the stock as one step and says how many.
func (t *tray) bringStock(ctx context.Context, name string, data []byte) (string, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	var read func(context.Context, io.Reader) (stock.Imported, error)
	switch strings.ToLower(filepath.Ext(name)) {
	case ".csv":
		read = t.store.ImportCSV
	case ".json", ".jsonl":
		read = t.store.ImportJSON
	default:
		return "", errors.New("it is no file of a stock: choose one that ends in .csv, .json or .jsonl")
	}
	done, err := read(ctx, bytes.NewReader(data))
	if err != nil {
		return "", err
	}
	known := fmt.Sprintf("%s already here", count(done.Known, "entry was", "entries were"))
	if done.Added == 0 {
		return "nothing new: " + known, nil
	}
	if _, err := t.rememberStep(ctx); err != nil {
		return "", err
	}
	return fmt.Sprintf("%s added, %s", count(done.Added, "entry", "entries"), known), nil
}
