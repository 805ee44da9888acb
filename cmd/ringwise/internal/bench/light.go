package bench

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"reflect"
	"slices"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

// confirmedRings are the rings of a part with their colours as the person
// confirmed them, from the left end of the strip to the right.
func confirmedRings(j judgement) []decode.KnownRing {
	var rings []decode.KnownRing
	for _, r := range j.rings {
		rings = append(rings, decode.KnownRing{Centre: r.centre, Width: r.width, Colour: r.colour, Sure: r.named})
	}
	if j.from == decode.RightEnd {
		slices.Reverse(rings)
	}
	return rings
}

// sameLamp are the photos that were taken in the light of a photo, as far as the
// person said so.
func (t *tray) sameLamp(p *photo) []*photo {
	var list []*photo
	for _, q := range t.photos {
		if q.lampOf() == p.lampOf() {
			list = append(list, q)
		}
	}
	return list
}

// lampOf names the lamp of a photo: by itself, unless the person said otherwise.
func (p *photo) lampOf() int {
	if p.lamp != 0 {
		return p.lamp
	}
	return p.id
}

// relight weighs anew what was seen of the parts in the light of a photo, from
// what the person told of it: parts confirmed from their rings, and white spots.
// Parts that were answered, or of which a candidate was taken, stay as they are.
// It tells the windows of every photo that it changes.
func (t *tray) relight(id int) {
	from := t.photo(id)
	if from == nil {
		return
	}
	photos := t.sameLamp(from)
	var light vision.Light
	for _, q := range photos {
		for _, w := range q.whites {
			light = light.And(w)
		}
		for _, p := range q.parts {
			if p.said.status != stocked || p.said.confirmed == nil {
				continue
			}
			if told, err := light.WithPart(p.found.Part, p.said.confirmed); err == nil {
				light = told
			}
		}
	}
	for _, q := range photos {
		if q.relit(light) {
			t.tell(q.id)
		}
	}
}

// relit weighs the open parts of a photo anew. It reports whether any changed.
func (p *photo) relit(light vision.Light) bool {
	var plain []vision.Part
	for _, q := range p.parts {
		if q.plain == nil {
			found := q.found
			q.plain = &found
		}
		plain = append(plain, q.plain.Part)
	}
	changed := false
	for i, lit := range vision.Under(plain, light) {
		q := p.parts[i]
		if q.said.status != open && q.said.status != putOff || q.said.taken != nil {
			continue
		}
		found := *q.plain
		if light.Known() {
			found = photoread.Part{Part: lit, Ranking: decode.Rank(lit.Seen)}
		}
		if reflect.DeepEqual(found.Ranking, q.found.Ranking) {
			continue
		}
		q.found = found
		q.version++
		changed = true
	}
	return changed
}

// before is the value that was read before anything was told of the light, empty
// if it is the same now.
func (p *part) before() string {
	if p.plain == nil {
		return ""
	}
	was, ok := p.plain.Best()
	now, still := p.found.Best()
	switch {
	case !ok && still:
		return "no reading"
	case !ok || still && slices.Equal(was.Rings, now.Rings):
		return ""
	}
	return was.Value()
}

// white is told that a spot of a photo is white: its place as fractions of the
// photo's width and height.
func (t *tray) white(ctx context.Context, id int, x, y float64) error {
	shown, err := t.picture(id)
	if err != nil {
		return err
	}
	opened, err := vision.Open(ctx, shown)
	if err != nil {
		return err
	}
	defer opened.Close()
	spot, err := vision.Light{}.WithWhite(opened, vision.Point{
		X: x * float64(opened.Pixels.Cols()), Y: y * float64(opened.Pixels.Rows()),
	})
	if err != nil {
		return err
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	p := t.photo(id)
	if p == nil {
		return errGone
	}
	before := p.whites
	after := append(slices.Clip(before), spot)
	p.whites = after
	t.remember(deed{what: "white spot on " + p.name, photo: id, undo: func() error {
		p.whites = before
		return nil
	}, redo: func() error {
		p.whites = after
		return nil
	}})
	t.relight(id)
	t.tell(id)
	return nil
}

// sameLight is told whether a photo was taken in the light of the one before it.
func (t *tray) sameLight(id int, same bool) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	at := slices.IndexFunc(t.photos, func(p *photo) bool { return p.id == id })
	switch {
	case at < 0:
		return errGone
	case at == 0 && same:
		return errors.New("there is no photo before this one on the bench")
	}
	p := t.photos[at]
	before, after := p.lamp, 0
	what := "a light of its own for " + p.name
	if same {
		after = t.photos[at-1].lampOf()
		what = fmt.Sprintf("%s in the light of %s", p.name, t.photos[at-1].name)
	}
	takeBy := func(lamp int) error {
		had := p.lampOf()
		p.lamp = lamp
		t.relightBoth(p, had)
		return nil
	}
	takeBy(after)
	t.remember(deed{what: what, photo: id, undo: func() error { return takeBy(before) }, redo: func() error { return takeBy(after) }})
	t.tell(id)
	return nil
}

// relightBoth weighs anew in the light of a photo and by the lamp it had before.
func (t *tray) relightBoth(p *photo, lamp int) {
	for _, q := range t.photos {
		if q.lampOf() == lamp {
			t.relight(q.id)
			break
		}
	}
	t.relight(p.id)
}

// tellLight hears from a page what a person says of a photo's light.
func (s *Server) tellLight(w http.ResponseWriter, r *http.Request) {
	told, ok := take[struct {
		White *[2]float64 `json:"white"` // a place, as fractions of the photo
		Same  *bool       `json:"same"`  // as the photo before
	}](w, r)
	if !ok {
		return
	}
	photo := number(r, "photo")
	var err error
	what := "white spot kept"
	switch {
	case told.White != nil:
		err = s.tray.white(r.Context(), photo, told.White[0], told.White[1])
	case told.Same != nil:
		what = "a light of its own"
		if *told.Same {
			what = "same light as the photo before"
		}
		err = s.tray.sameLight(photo, *told.Same)
	default:
		err = errors.New("nothing was told of the light: load the page again")
	}
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, done{What: what, Photo: s.tray.viewOf(photo)})
}
