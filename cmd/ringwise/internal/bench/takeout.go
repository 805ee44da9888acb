package bench

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"ringwise/cmd/ringwise/internal/onhand"
	"ringwise/decode/network"
)

// mostTakings is the largest body that asks for parts, in bytes, and mostEntries
// how many entries it may name.
const (
	mostTakings = 1 << 20
	mostEntries = 2000
)

// takeOut takes the parts of an answer out of the stock, all or none, as one
// thing that can be undone. Every entry must be as the person has seen it.
func (t *tray) takeOut(ctx context.Context, list []taking) (what string, cautions []string, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(list) == 0 || len(list) > mostEntries {
		return "", nil, fmt.Errorf("parts of %d entries cannot be taken at once: use 1 to %d", len(list), mostEntries)
	}
	var takings []network.Taking
	total := 0
	seen := map[int64]bool{}
	for _, x := range list {
		p, err := t.store.Part(ctx, x.Entry)
		switch {
		case err != nil:
			return "", nil, err
		case p.Step != x.Step || seen[x.Entry]:
			return "", nil, errors.New("the stock was changed since this was worked out: ask again")
		case x.Count < 1:
			return "", nil, fmt.Errorf("%d of entry #%d cannot be taken: load the page again", x.Count, x.Entry)
		}
		seen[x.Entry] = true
		total += x.Count
		cautions = add(cautions, p.CautionsBeforeUse()...)
		takings = append(takings, network.Taking{Part: network.Part{ID: strconv.FormatInt(x.Entry, 10), Value: onhand.FromStock(p).Value}, Count: x.Count})
	}
	step, err := onhand.Take(ctx, t.store, "", takings)
	if err != nil {
		return "", nil, err
	}
	what = fmt.Sprintf("took %s out of the stock", count(total, "part", "parts"))
	t.remember(deed{what: what, undo: func() error { return onhand.PutBack(context.Background(), t.store, step, takings) }})
	t.reopen(ctx)
	t.hub.send("session", t.session())
	return what, cautions, nil
}

func (s *Server) takeParts(w http.ResponseWriter, r *http.Request) {
	asked, ok := takeAtMost[struct {
		Takes []taking `json:"takes"`
	}](w, r, mostTakings)
	if !ok {
		return
	}
	what, cautions, err := s.tray.takeOut(context.WithoutCancel(r.Context()), asked.Takes)
	if err == nil {
		s.hub.send("stock", struct{}{})
	}
	reply(w, told{Says: sentence(what), Cautions: cautions}, err)
}
