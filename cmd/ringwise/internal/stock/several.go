package stock

import (
	"context"
	"fmt"
	"strings"
)

// A Taking is so many parts of an entry.
type Taking struct {
	Entry int64
	Count int
}

// TakeSeveral takes parts out of several entries as one step of the journal,
// all or none: one undo puts all of them back. why says what they are for, such
// as "project receiver"; it may be empty. It returns the step's number, and an
// error that names the entry that has not so many.
func (s *Store) TakeSeveral(ctx context.Context, why string, takings []Taking) (step int64, err error) {
	return s.several(ctx, "took %d %s", why, takings, without)
}

// PutSeveral puts parts back into several entries as one step, all or none, and
// into none more than are out of it, as Put does.
func (s *Store) PutSeveral(ctx context.Context, why string, takings []Taking) (step int64, err error) {
	return s.several(ctx, "put %d %s back", why, takings, with)
}

// several changes the counts of several entries, each named once.
func (s *Store) several(ctx context.Context, what, why string, takings []Taking, change counting) (step int64, err error) {
	err = s.act(ctx, func(a *action) (string, error) {
		step = a.step
		words, total, seen := make([]string, len(takings)), 0, map[int64]bool{}
		for i, t := range takings {
			if seen[t.Entry] {
				return "", tell("entry #%d is named twice: name each once, with all of its parts", t.Entry)
			}
			seen[t.Entry] = true
			before, err := a.part(ctx, t.Entry)
			if err != nil {
				return "", err
			}
			after := before
			if after.Count, err = change(ctx, a, before, t.Count); err != nil {
				return "", err
			}
			if err := a.change(ctx, before, &after); err != nil {
				return "", err
			}
			words[i] = fmt.Sprintf("%d of #%d", t.Count, t.Entry)
			total += t.Count
		}
		return severalText(what, why, words, total), nil
	})
	return step, err
}

// counting says how many an entry has once so many were taken or put back.
type counting func(ctx context.Context, a *action, p Part, count int) (int, error)

func without(_ context.Context, _ *action, p Part, count int) (int, error) {
	if count < 1 || count > p.Count {
		return 0, tell("%d cannot be taken: entry #%d has %d of %s", count, p.ID, p.Count, Meaning(p.Reading))
	}
	return p.Count - count, nil
}

func with(ctx context.Context, a *action, p Part, count int) (int, error) {
	most, err := mostHeld(ctx, a.tx, p.ID)
	switch {
	case err != nil:
		return 0, err
	case count < 1:
		return 0, tell("%d cannot be put back: use 1 or more", count)
	case count > most-p.Count:
		return 0, tell("%d cannot be put back: entry #%d has %d of %s and never had more than %d: confirm new parts, or change the entry's count on the bench",
			count, p.ID, p.Count, Meaning(p.Reading), most)
	}
	return p.Count + count, nil
}

// mostNamed is how many entries a line of the journal names.
const mostNamed = 8

// severalText says what was done, for the journal.
func severalText(what, why string, words []string, total int) string {
	if n := len(words) - mostNamed; n > 0 {
		words = append(words[:mostNamed:mostNamed], fmt.Sprintf("%d more", n))
	}
	parts := "parts"
	if total == 1 {
		parts = "part"
	}
	if why != "" {
		why = " for " + why
	}
	return fmt.Sprintf(what, total, parts) + why + ": " + strings.Join(words, ", ")
}
