package stock

import (
	"context"
	"time"
)

// Revision counts the changes of the stock, by any window. It rises with each,
// also with undoing and doing again.
func (s *Store) Revision(ctx context.Context) (int64, error) {
	var number int64
	err := s.db.QueryRowContext(ctx, "SELECT number FROM revision").Scan(&number)
	return number, plain(s.path, err)
}

// Watch sends the revision each time it finds that it has changed, whoever
// changed it. It looks at each beat, and closes the channel when ctx ends. A
// beat in which the file cannot be read is passed over.
func (s *Store) Watch(ctx context.Context, beat time.Duration) <-chan int64 {
	changes := make(chan int64)
	known, err := s.Revision(ctx)
	if err != nil {
		known = -1
	}
	go func() {
		defer close(changes)
		ticker := time.NewTicker(beat)
		defer ticker.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case <-ticker.C:
			}
			now, err := s.Revision(ctx)
			if err != nil || now == known {
				continue
			}
			known = now
			select {
			case changes <- now:
			case <-ctx.Done():
				return
			}
		}
	}()
	return changes
}
