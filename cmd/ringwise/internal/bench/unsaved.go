package bench

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"

	"ringwise/cmd/ringwise/internal/stock"
)

// intoStock puts what a person has confirmed into the stock. If its file cannot take it
// now (full, held, read-only, damaged), a part on a photo is held here, to be saved
// and brought in later, until it is confirmed again or changed. What was entered by
// hand stays in the form on the page.
func (t *tray) intoStock(ctx context.Context, entry stock.Part) (stock.Part, error) {
	kept, err := t.store.Confirm(ctx, entry)
	var file *stock.FileError
	if err != nil && !errors.As(err, &file) {
		return kept, err
	}
	t.letGo(entry.Key)
	if file == nil || entry.Key == "" || len(t.unsaved) >= mostUnsaved {
		return kept, err
	}
	entry.Confirmed = t.now()
	t.unsaved = append(t.unsaved, entry)
	t.hub.send("session", t.session())
	return kept, fmt.Errorf("%w; what you confirmed is held here: confirm it again later, or save it by the link below", err)
}

// letGo holds an entry no longer.
func (t *tray) letGo(key string) {
	t.unsaved = slices.DeleteFunc(t.unsaved, func(p stock.Part) bool { return p.Key == key })
}

// mostUnsaved is how many entries are held that the stock could not take.
const mostUnsaved = 2000

// showUnsaved sends what the stock could not take, in the form that ringwise stock
// import takes.
func (s *Server) showUnsaved(w http.ResponseWriter, _ *http.Request) {
	s.tray.mu.Lock()
	held := slices.Clone(s.tray.unsaved)
	s.tray.mu.Unlock()
	var lines bytes.Buffer
	if err := stock.WriteJSON(&lines, held); err != nil {
		fail(w, err)
		return
	}
	w.Header().Set("Content-Type", "application/jsonl")
	w.Header().Set("Content-Disposition", `attachment; filename="ringwise-unsaved.jsonl"`)
	w.Write(lines.Bytes())
}
