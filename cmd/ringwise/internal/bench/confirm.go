package bench

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// confirm puts a part into the stock as it is taken for now. It returns the
// entry.
func (t *tray) confirm(ctx context.Context, photo, number, version int) (stock.Part, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	p, err := t.part(photo, number, version)
	if err != nil {
		return stock.Part{}, err
	}
	if p.said.status == stocked {
		return stock.Part{}, errors.New("this part is in the stock already")
	}
	j := p.judge()
	taken, ok := j.reading()
	switch {
	case !ok && j.against != nil:
		return stock.Part{}, errors.New("the meter contradicts the rings: measure again, or take a candidate")
	case !ok:
		return stock.Part{}, errors.New("there is no value to confirm: take a candidate, or set the rings")
	}
	in := t.photo(photo)
	entry := t.entry(in, p)
	entry.Origin, entry.Reading, entry.Changes = stock.FromRings, taken.Reading, p.changes(taken)
	if entry, err = t.intoStock(ctx, entry); err != nil {
		return stock.Part{}, err
	}
	t.stocked(photo, p, entry)
	p.said.confirmed = confirmedRings(j)
	t.relight(photo)
	return entry, nil
}

// entry is what the stock keeps of a part on a photo, but for its value.
func (t *tray) entry(in *photo, p *part) stock.Part {
	var entry stock.Part
	p.said.facts.on(&entry)
	in.sized(p, &entry)
	entry.Key = t.keyOf(in, p)
	entry.Photo, entry.PhotoPart, entry.Crop = in.name, p.number, p.strip()
	entry.Verdict = p.found.Verdict.String()
	entry.Meter = p.said.meter.shown
	for _, c := range p.found.Candidates {
		entry.Candidates = append(entry.Candidates, stock.Candidate{
			Rings: c.Rings, Ohms: c.Ohms, Tolerance: c.TolerancePercent, Confidence: c.Confidence,
		})
	}
	return entry
}

// changes are what the person changed of the first candidate to come to the one
// that is taken.
func (p *part) changes(taken decode.Candidate) []stock.Change {
	if len(p.found.Candidates) == 0 {
		return []stock.Change{{What: "rings", From: "none", To: lettersOf(taken.Rings)}}
	}
	first := p.found.Candidates[0].Rings
	if len(first) != len(taken.Rings) {
		return []stock.Change{{What: "rings", From: lettersOf(first), To: lettersOf(taken.Rings)}}
	}
	var list []stock.Change
	for i, c := range taken.Rings {
		if c != first[i] {
			list = append(list, stock.Change{What: fmt.Sprintf("ring %d", i+1), From: first[i].String(), To: c.String()})
		}
	}
	if usual, err := decode.Readings(taken.Rings); err == nil && p.said.sense > 0 {
		list = append(list, stock.Change{What: "meaning", From: stock.Meaning(usual[0]), To: stock.Meaning(taken.Reading)})
	}
	return list
}

func lettersOf(rings []decode.Colour) string {
	words := make([]string, len(rings))
	for i, c := range rings {
		words[i] = c.Letters()
	}
	return strings.Join(words, " ")
}

// stocked notes that a part is in the stock. p is nil if it lies on no photo.
func (t *tray) stocked(photo int, p *part, entry stock.Part) {
	d := deed{what: "confirmed " + stock.Meaning(entry.Reading), photo: photo}
	var before, after said
	if p != nil {
		before = p.said
		p.said.status, p.said.entry = stocked, entry.ID
		p.version++
		d.part = p.number
		d.what = fmt.Sprintf("part %d: %s", p.number, d.what)
	}
	t.confirmed = append(t.confirmed, confirmation{t.now(), len(entry.Changes) > 0})
	d.undo = func() error {
		if err := t.unstock(entry); err != nil {
			return err
		}
		if p != nil {
			after, p.said = p.said, before
			p.version++
		}
		t.confirmed = t.confirmed[:max(0, len(t.confirmed)-1)]
		return nil
	}
	d.redo = func() error {
		var err error
		if entry, err = t.store.Confirm(context.Background(), entry); err != nil {
			return err
		}
		if p != nil {
			p.said = after
			p.said.status, p.said.entry = stocked, entry.ID
			p.version++
		}
		t.confirmed = append(t.confirmed, confirmation{t.now(), len(entry.Changes) > 0})
		return nil
	}
	t.remember(d)
	t.tell(photo)
}

// unstock takes back an entry. If something else was done to the stock since, it
// is removed, as long as it was left alone itself.
func (t *tray) unstock(entry stock.Part) error {
	ctx := context.Background()
	now, err := t.store.Part(ctx, entry.ID)
	if err != nil {
		return nil // gone already
	}
	if now.Step != entry.Step {
		return fmt.Errorf("entry #%d was changed in the stock since: undo that there first", entry.ID)
	}
	if _, err := t.store.UndoStep(ctx, entry.Step); err == nil {
		return nil
	}
	return t.store.Remove(ctx, entry.ID)
}
