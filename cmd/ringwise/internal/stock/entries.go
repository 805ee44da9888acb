package stock

import (
	"context"
	"fmt"
	"reflect"
)

// Confirm keeps what a person has confirmed. When it returns without an error
// the entry is on the disk, to stay there whatever happens to the program or
// the power. It returns the entry as kept, with its number.
//
// An entry whose key is there already is returned as it is there, and nothing
// is added, if it says the same; if it says something else that is an error:
// Amend it. Other errors say which field cannot be kept.
func (s *Store) Confirm(ctx context.Context, p Part) (Part, error) {
	p.ID = 0
	if err := p.settle(); err != nil {
		return Part{}, err
	}
	if p.Count < 1 {
		return Part{}, tell("at least one part must be there to confirm")
	}
	err := s.act(ctx, func(a *action) (string, error) {
		there, err := partsOf(ctx, a.tx, "WHERE key = ?", p.Key)
		if err != nil {
			return "", err
		}
		if len(there) > 0 {
			if !sayTheSame(there[0], p) {
				return "", tell("this part is in the stock already as %s: change that entry, or undo it first", there[0].Title())
			}
			p = there[0]
			return "", nil
		}
		err = a.add(ctx, &p)
		return "confirmed " + p.Title(), err
	})
	if err != nil {
		return Part{}, err
	}
	return p, nil
}

// sayTheSame tells whether two entries have the same content, but for what
// differs each time a person confirms, and for parts taken since.
func sayTheSame(a, b Part) bool {
	x, y := newRecord(a), newRecord(b)
	for _, r := range []*record{&x, &y} {
		r.Number, r.Step, r.Count, r.Confirmed = 0, 0, 0, x.Confirmed
	}
	return reflect.DeepEqual(x, y)
}

// Amend keeps an entry in place of what is there under its number. Key,
// time of confirming and crop stay. It refuses an entry that has changed since
// p was fetched.
func (s *Store) Amend(ctx context.Context, p Part) (Part, error) {
	err := s.act(ctx, func(a *action) (string, error) {
		before, err := a.part(ctx, p.ID)
		if err != nil {
			return "", err
		}
		if before.Step != p.Step {
			return "", tell("entry #%d has changed since you opened it: open it again", p.ID)
		}
		p.Key, p.Confirmed, p.Crop = before.Key, before.Confirmed, nil
		if err := p.settle(); err != nil {
			return "", err
		}
		if sayTheSame(before, p) && before.Count == p.Count {
			return "", nil
		}
		err = a.change(ctx, before, &p)
		return fmt.Sprintf("changed #%d from %d of %s to %d of %s", p.ID, before.Count, Meaning(before.Reading), p.Count, Meaning(p.Reading)), err
	})
	if err != nil {
		return Part{}, err
	}
	return p, nil
}

// Take takes so many parts out of an entry for use; the entry stays even if
// none is left, so that Put can put them back. It refuses to take more than
// are there.
func (s *Store) Take(ctx context.Context, id int64, count int) (Part, error) {
	return s.count(ctx, id, func(a *action, p *Part) (string, error) {
		left, err := without(ctx, a, *p, count)
		if err != nil {
			return "", err
		}
		p.Count = left
		return fmt.Sprintf("took %d of #%d, %s; %d left", count, id, Meaning(p.Reading), p.Count), nil
	})
}

// Put puts so many parts back into an entry. It refuses more than Out: what was
// never in it is confirmed, not put back.
func (s *Store) Put(ctx context.Context, id int64, count int) (Part, error) {
	return s.count(ctx, id, func(a *action, p *Part) (string, error) {
		there, err := with(ctx, a, *p, count)
		if err != nil {
			return "", err
		}
		p.Count = there
		return fmt.Sprintf("put %d back into #%d, %s; %d there", count, id, Meaning(p.Reading), p.Count), nil
	})
}

// Out is how many parts of an entry may be put back: how many fewer it has than
// the most that it ever had, or, where it was imported and that is not known, than
// any entry may have.
func (s *Store) Out(ctx context.Context, p Part) (int, error) {
	most, err := mostHeld(ctx, s.db, p.ID)
	return max(0, most-p.Count), plain(s.path, err)
}

// count changes the count of an entry.
func (s *Store) count(ctx context.Context, id int64, change func(*action, *Part) (string, error)) (Part, error) {
	var p Part
	err := s.act(ctx, func(a *action) (string, error) {
		before, err := a.part(ctx, id)
		if err != nil {
			return "", err
		}
		p = before
		what, err := change(a, &p)
		if err != nil {
			return "", err
		}
		return what, a.change(ctx, before, &p)
	})
	if err != nil {
		return Part{}, err
	}
	return p, nil
}

// Remove takes an entry out of the stock as if it had never been confirmed.
func (s *Store) Remove(ctx context.Context, id int64) error {
	return s.act(ctx, func(a *action) (string, error) {
		p, err := a.part(ctx, id)
		if err != nil {
			return "", err
		}
		return "removed " + p.Title(), a.remove(ctx, p)
	})
}
