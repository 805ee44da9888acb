package onhand

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode/network"
)

// Take takes parts out of the stock, all or none, as one step of its journal
// whose number it returns. why says in a few words what they are for; it may be
// empty.
func Take(ctx context.Context, s *stock.Store, why string, takings []network.Taking) (step int64, err error) {
	list, err := entriesOf(takings)
	if err == nil {
		step, err = s.TakeSeveral(ctx, why, list)
	}
	if err != nil {
		return 0, fmt.Errorf("nothing was taken: %w", err)
	}
	return step, nil
}

// PutBack undoes a Take: it undoes its step if nothing was done to the stock
// since, and else puts as many back, as a step of their own.
func PutBack(ctx context.Context, s *stock.Store, step int64, takings []network.Taking) error {
	list, err := entriesOf(takings)
	if err == nil {
		if _, undone := s.UndoStep(ctx, step); undone == nil {
			return nil
		}
		_, err = s.PutSeveral(ctx, "", list)
	}
	if err != nil {
		return fmt.Errorf("nothing was put back: %w", err)
	}
	return nil
}

// entriesOf names the entries of parts that come from the stock.
func entriesOf(takings []network.Taking) ([]stock.Taking, error) {
	if len(takings) == 0 {
		return nil, errors.New("no part was named")
	}
	list := make([]stock.Taking, len(takings))
	for i, t := range takings {
		id, err := strconv.ParseInt(t.Part.ID, 10, 64)
		if err != nil {
			return nil, fmt.Errorf("%s is no part of the stock", t.Part)
		}
		list[i] = stock.Taking{Entry: id, Count: t.Count}
	}
	return list, nil
}
