package bench

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"time"

	"ringwise/cmd/ringwise/internal/stock"
)

// mostPhotos is how many photos may lie on the bench at a time.
const mostPhotos = 40

// mostUndo is how many things can be undone, and mostCleared how many of them
// may be photos that were cleared away, which take memory.
const (
	mostUndo    = 200
	mostCleared = 10
)

// A tray holds the photos on the bench and everything done to them since the
// program started. The stock is the truth about what was confirmed; the tray
// is the truth about what lies open.
type tray struct {
	store *stock.Store
	hub   *hub
	now   func() time.Time
	key   string // of this run of the program, in the keys of its entries

	mu        sync.Mutex
	photos    []*photo
	lastID    int
	done      []deed
	undone    []deed // to be done again, the last first, until something else is done
	lastDeed  int
	confirmed []confirmation
	unsaved   []stock.Part // confirmed, and not yet kept
}

// A confirmation is when a part was confirmed, and whether the person had to
// correct what was read.
type confirmation struct {
	at        time.Time
	corrected bool
}

// A deed is something that can be undone.
type deed struct {
	number int
	what   string // in a few words, for the person
	undo   func() error
	redo   func() error // nil if it cannot be done again
	photo  int          // whose view changed
	part   int          // its number, 0 for the photo as a whole
	clears bool         // a photo was cleared away
}

// Errors that a person meets at the bench.
var (
	errGone   = errors.New("that photo is no longer on the bench: load the page again")
	errNoPart = errors.New("there is no such part on the photo: load the page again")
	errStale  = errors.New("this part was changed in another window: look at it again")
)

// add lays a photo on the tray. If the tray is full it clears away the first
// that is done.
func (t *tray) add(p *photo) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.photos) >= mostPhotos {
		done := slices.IndexFunc(t.photos, (*photo).done)
		if done < 0 {
			return fmt.Errorf("%d photos lie on the bench with parts to answer: answer them, or clear a photo away", mostPhotos)
		}
		t.clearAt(done)
	}
	t.lastID++
	p.id = t.lastID
	t.photos = append(t.photos, p)
	t.remember(deed{what: "photo " + p.name + " brought in", photo: p.id, undo: func() error {
		t.photos = slices.DeleteFunc(t.photos, func(q *photo) bool { return q == p })
		return nil
	}, redo: func() error { return t.layBack(p, len(t.photos)) }})
	t.tell(p.id)
	return nil
}

// clear takes a photo off the tray. What was confirmed stays in the stock.
func (t *tray) clear(id int) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	at := slices.IndexFunc(t.photos, func(p *photo) bool { return p.id == id })
	if at < 0 {
		return errGone
	}
	t.clearAt(at)
	return nil
}

func (t *tray) clearAt(at int) {
	p := t.photos[at]
	t.photos = slices.Delete(t.photos, at, at+1)
	t.remember(deed{what: "photo " + p.name + " cleared away", photo: p.id, clears: true, undo: func() error { return t.layBack(p, at) }, redo: func() error {
		t.photos = slices.DeleteFunc(t.photos, func(q *photo) bool { return q == p })
		return nil
	}})
	t.tell(p.id)
}

// layBack lays a photo that was here before on the tray again, where it lay.
func (t *tray) layBack(p *photo, at int) error {
	if len(t.photos) >= mostPhotos {
		return fmt.Errorf("%d photos lie on the bench: clear away one to bring this one back", mostPhotos)
	}
	t.photos = slices.Insert(t.photos, min(at, len(t.photos)), p)
	return nil
}

// done tells whether every part of a photo is answered.
func (p *photo) done() bool {
	return !slices.ContainsFunc(p.parts, func(q *part) bool { return q.said.status == open || q.said.status == putOff })
}

// photo returns the photo with that number, nil if it is not there.
func (t *tray) photo(id int) *photo {
	for _, p := range t.photos {
		if p.id == id {
			return p
		}
	}
	return nil
}

// part returns a part of a photo, in the version that the person has seen.
func (t *tray) part(photo, number, version int) (*part, error) {
	p := t.photo(photo)
	if p == nil {
		return nil, errGone
	}
	if number < 1 || number > len(p.parts) {
		return nil, errNoPart
	}
	part := p.parts[number-1]
	if part.version != version {
		return nil, errStale
	}
	return part, nil
}

// change applies what a person said of a part. It returns what was done, in a
// few words, and the ring to go on with.
func (t *tray) change(photo, number, version int, c change) (what string, ring int, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	part, err := t.part(photo, number, version)
	if err != nil {
		return "", 0, err
	}
	if part.said.status == stocked {
		return "", 0, errors.New("this part is in the stock: undo that first, or change what is known of it among the bins")
	}
	next, what, ring, err := part.apply(c)
	if err != nil {
		return "", 0, err
	}
	letGo := part.said.taken != nil && next.taken == nil
	t.say(photo, part, next, fmt.Sprintf("part %d: %s", number, what))
	if letGo { // a part with a candidate taken is not weighed anew
		t.relight(photo)
	}
	return what, ring, nil
}

// say replaces what is said of a part.
func (t *tray) say(photo int, p *part, next said, what string) {
	before := p.said
	p.said = next
	p.version++
	t.letGo(t.keyOf(t.photo(photo), p))
	t.remember(deed{what: what, photo: photo, part: p.number, undo: func() error {
		p.said = before
		p.version++
		return nil
	}, redo: func() error {
		p.said = next
		p.version++
		return nil
	}})
	t.tell(photo)
}

func (t *tray) remember(d deed) {
	t.lastDeed++
	d.number = t.lastDeed
	t.undone = nil
	t.keep(d)
}

// keep keeps a deed to be undone, and forgets the oldest.
func (t *tray) keep(d deed) {
	t.done = append(t.done, d)
	forget := max(0, len(t.done)-mostUndo)
	cleared := 0
	for i := len(t.done) - 1; i >= forget; i-- {
		if t.done[i].clears {
			cleared++
		}
		if cleared > mostCleared {
			forget = i + 1
		}
	}
	t.done = slices.Delete(t.done, 0, forget)
}

// undo takes back the last deed, which must be the one that the person has
// seen. It returns the deed.
func (t *tray) undo(number int) (deed, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.done) == 0 {
		return deed{}, errors.New("there is nothing to undo")
	}
	last := t.done[len(t.done)-1]
	if last.number != number {
		return deed{}, errors.New("something else was done in the meantime: look again before undoing")
	}
	if err := last.undo(); err != nil {
		return deed{}, err
	}
	t.done = t.done[:len(t.done)-1]
	t.undone = append(t.undone, last)
	if last.redo == nil {
		t.undone = nil
	}
	t.settle(last)
	return last, nil
}

// redo does again what was undone last, which must be what the person has seen.
// It returns the deed.
func (t *tray) redo(number int) (deed, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.undone) == 0 {
		return deed{}, errors.New("there is nothing to do again")
	}
	last := t.undone[len(t.undone)-1]
	if last.number != number {
		return deed{}, errors.New("something else was done in the meantime: look again before doing that")
	}
	if err := last.redo(); err != nil {
		return deed{}, err
	}
	t.undone = t.undone[:len(t.undone)-1]
	t.keep(last)
	t.settle(last)
	return last, nil
}

// settle brings everything in line after a deed was undone or done again.
func (t *tray) settle(d deed) {
	t.reopen(context.Background())
	t.relight(d.photo)
	t.tell(d.photo)
}

// tell sends every window what has changed of a photo, and the session.
func (t *tray) tell(id int) {
	if p := t.photo(id); p != nil {
		t.hub.send("photo", viewPhoto(p))
	} else {
		t.hub.send("gone", map[string]int{"id": id})
	}
	t.hub.send("session", t.session())
}

// picture is a photo as the page shows it.
func (t *tray) picture(photo int) ([]byte, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if p := t.photo(photo); p != nil {
		return p.shown, nil
	}
	return nil, errGone
}

// strip is the strip of a part.
func (t *tray) strip(photo, number int) ([]byte, error) {
	t.mu.Lock()
	p := t.photo(photo)
	var strip func() []byte
	if p != nil && number >= 1 && number <= len(p.parts) {
		strip = p.parts[number-1].strip
	}
	t.mu.Unlock()
	switch {
	case p == nil:
		return nil, errGone
	case strip == nil:
		return nil, errNoPart
	}
	return strip(), nil
}

// keyOf is the key of a part's entry in the stock.
func (t *tray) keyOf(in *photo, p *part) string {
	return fmt.Sprintf("%s-%d-%d", t.key, in.id, p.number)
}
