package onhand

import (
	"context"
	"fmt"
	"strconv"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode/network"
)

// Take takes parts out of the stock, one step of its journal for each entry.
// If one cannot be taken, those before it are put back and the error says
// which one.
func Take(ctx context.Context, s *stock.Store, takings []network.Taking) error {
	for i, t := range takings {
		id, err := strconv.ParseInt(t.Part.ID, 10, 64)
		if err == nil {
			_, err = s.Take(ctx, id, t.Count)
		}
		if err == nil {
			continue
		}
		for _, done := range takings[:i] {
			id, _ := strconv.ParseInt(done.Part.ID, 10, 64)
			if _, e := s.Put(context.WithoutCancel(ctx), id, done.Count); e != nil {
				return fmt.Errorf("%w; and %d of %s could not be put back: %w", err, done.Count, done.Part, e)
			}
		}
		return fmt.Errorf("nothing was taken: %w", err)
	}
	return nil
}
