package bench

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"ringwise/cmd/ringwise/internal/stock"
)

// The shape of the stock on the page.
type (
	binView struct {
		Key     string      `json:"key"`
		Name    string      `json:"name"`
		Marking string      `json:"marking"`
		Rings   []string    `json:"rings"`
		Count   int         `json:"count"`
		Entries []entryView `json:"entries"`
	}
	entryView struct {
		ID       int64     `json:"id"`
		Step     int64     `json:"step"`
		Count    int       `json:"count"`
		Origin   string    `json:"origin"`
		Photo    string    `json:"photo"`
		Part     int       `json:"part"`
		Verdict  string    `json:"verdict"`
		Changes  []string  `json:"changes"`
		Meter    string    `json:"meter"`
		Facts    []string  `json:"facts"`
		Cautions []string  `json:"cautions"`
		Note     string    `json:"note"`
		When     string    `json:"when"`
		Crop     bool      `json:"crop"`
		Form     factsText `json:"form"` // the facts as they can be changed
	}
)

// bins lists all that is in the stock.
func (s *Server) bins(w http.ResponseWriter, r *http.Request) {
	all, err := s.store.Bins(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	list := []binView{}
	for _, b := range all {
		v := binView{Key: binKey(b.Reading), Name: stock.Meaning(b.Reading), Marking: b.Reading.RKMWithToleranceLetter(), Count: b.Count, Rings: []string{}}
		for _, ring := range b.Reading.Rings {
			v.Rings = append(v.Rings, ring.String())
		}
		for _, p := range b.Entries {
			v.Entries = append(v.Entries, viewEntry(p))
		}
		list = append(list, v)
	}
	answer(w, list)
}

func viewEntry(p stock.Part) entryView {
	v := entryView{
		ID: p.ID, Step: p.Step, Count: p.Count, Origin: string(p.Origin), Photo: p.Photo, Part: p.PhotoPart, Verdict: p.Verdict,
		Changes: []string{}, Facts: []string{}, Cautions: append([]string{}, p.Cautions()...), Note: p.Note,
		When: p.Confirmed.Local().Format("2006-01-02 15:04"), Crop: p.PhotoPart > 0,
	}
	v.Form = factsOf(p).view()
	for _, c := range p.Changes {
		v.Changes = append(v.Changes, c.What+": "+c.From+" to "+c.To)
	}
	if p.Meter != nil {
		v.Meter = meterText(*p.Meter)
	}
	fact := func(name, value string, basis stock.Basis) {
		if basis != stock.Unknown {
			v.Facts = append(v.Facts, name+" "+value+" ("+string(basis)+")")
		}
	}
	fact("kind", p.Kind.String(), p.KindBasis)
	fact("size", string(p.Size), p.SizeBasis)
	fact("rating", p.RatingWatts.Decimal.String()+" W", p.RatingBasis)
	return v
}

// An entryChange is something done to an entry of the stock in the version that
// the person has seen.
type entryChange struct {
	Do    string    `json:"do"` // "take", "put", "remove" or "facts"
	Step  int64     `json:"step"`
	Count int       `json:"count"` // how many to take or put back
	Facts factsText `json:"facts"`
}

// changeEntry takes parts out of an entry, puts them back, changes what is known
// of them besides their value, or removes the entry.
func (s *Server) changeEntry(w http.ResponseWriter, r *http.Request) {
	c, ok := take[entryChange](w, r)
	if !ok {
		return
	}
	what, err := s.tray.changeEntry(context.WithoutCancel(r.Context()), int64(number(r, "entry")), c)
	if err != nil {
		fail(w, err)
		return
	}
	s.hub.send("stock", struct{}{})
	answer(w, done{What: what})
}

// changeEntry changes an entry and returns what was done, in words.
func (t *tray) changeEntry(ctx context.Context, id int64, c entryChange) (string, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	p, err := t.store.Part(ctx, id)
	if err != nil {
		return "", err
	}
	if p.Step != c.Step {
		return "", errStale
	}
	after := p
	switch c.Do {
	case "take":
		after, err = t.store.Take(ctx, id, c.Count)
	case "put":
		after, err = t.store.Put(ctx, id, c.Count)
	case "facts":
		var f facts
		if f, err = c.Facts.parse(); err == nil {
			f.on(&p)
			after, err = t.store.Amend(ctx, p)
		}
	case "remove":
		err = t.store.Remove(ctx, id)
	default:
		err = errors.New("the bench knows no such change: load the page again")
	}
	if err != nil {
		return "", err
	}
	if c.Do != "remove" && after.Step == c.Step {
		return "nothing changed", nil
	}
	return t.rememberStep(ctx)
}

// rememberStep keeps the last step of the stock to be undone and done again, and
// returns what it was, in words.
func (t *tray) rememberStep(ctx context.Context) (string, error) {
	steps, err := t.store.Steps(ctx, 1)
	if err != nil || len(steps) == 0 {
		return "", err
	}
	last := steps[0]
	t.remember(deed{what: last.What, undo: func() error {
		_, err := t.store.UndoStep(context.Background(), last.ID)
		return err
	}, redo: func() error {
		_, err := t.store.RedoStep(context.Background(), last.ID)
		return err
	}})
	t.reopen(ctx)
	t.hub.send("session", t.session())
	return last.What, nil
}

// showCrop sends the picture of an entry.
func (s *Server) showCrop(w http.ResponseWriter, r *http.Request) {
	data, err := s.store.Crop(r.Context(), int64(number(r, "entry")))
	if err == nil && data == nil {
		err = errNoPart
	}
	showPicture(w, "image/png", data, err)
}

// reconcile brings the tray in line with the stock, which another program may
// have changed.
func (t *tray) reconcile(ctx context.Context) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.reopen(ctx)
}

// reopen opens again every part whose entry is gone from the stock, and marks
// as confirmed every part whose entry came back.
func (t *tray) reopen(ctx context.Context) {
	all, err := t.store.Parts(ctx, stock.Filter{Empty: true})
	if err != nil {
		return // the next change of the stock tries again
	}
	there := map[string]int64{}
	for _, p := range all {
		if strings.HasPrefix(p.Key, t.key) {
			there[p.Key] = p.ID
		}
	}
	for _, photo := range t.photos {
		changed := false
		for _, p := range photo.parts {
			id, kept := there[t.keyOf(photo, p)]
			switch {
			case kept && p.said.status != stocked:
				p.said.status, p.said.entry = stocked, id
			case !kept && p.said.status == stocked:
				p.said.status, p.said.entry = open, 0
			default:
				continue
			}
			p.version++
			changed = true
		}
		if changed {
			t.relight(photo.id)
			t.tell(photo.id)
		}
	}
}
