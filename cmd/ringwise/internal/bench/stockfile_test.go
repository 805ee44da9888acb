package bench

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
)

// What one stock has saved another takes in, once, as one step that can be undone
// and done again.
func TestBringStock(t *testing.T) {
	ctx := context.Background()
	from := newTray(t)
	for _, value := range []string{"5K6J", "330 ±5 %"} {
		_, err := from.enter(ctx, byHand{Value: value})
		require.NoError(t, err)
	}
	for name, write := range map[string]func(*bytes.Buffer) error{
		"club.csv":   func(b *bytes.Buffer) error { return from.store.ExportCSV(ctx, b) },
		"club.jsonl": func(b *bytes.Buffer) error { return from.store.ExportJSON(ctx, b) },
		"CLUB.JSON":  func(b *bytes.Buffer) error { return from.store.ExportJSON(ctx, b) },
	} {
		t.Run(name, func(t *testing.T) {
			var saved bytes.Buffer
			require.NoError(t, write(&saved))
			to := newTray(t)
			entries := func() int {
				all, err := to.store.Parts(ctx, stock.Filter{})
				require.NoError(t, err)
				return len(all)
			}
			what, err := to.bringStock(ctx, name, saved.Bytes())
			require.NoError(t, err)
			assert.Equal(t, "2 entries added, 0 entries were already here", what)
			assert.Equal(t, 2, entries())

			what, err = to.bringStock(ctx, name, saved.Bytes())
			require.NoError(t, err)
			assert.Equal(t, "nothing new: 2 entries were already here", what)

			to.undoLast(t)
			assert.Zero(t, entries())
			_, err = to.redo(to.undone[len(to.undone)-1].number)
			require.NoError(t, err)
			assert.Equal(t, 2, entries())
		})
	}
}

func TestBringStockThatIsNone(t *testing.T) {
	tray := newTray(t)
	for _, c := range []struct{ name, data, want string }{
		{"photo.jpg", "\xff\xd8", "ends in .csv, .json or .jsonl"},
		{"stock", "", "ends in .csv"},
		{"parts.csv", "value,count\n5k6,1\n", "column"},
		{"read.json", `{"photo":"tin.jpg","parts":[]}`, "not confirmed by anyone"},
		{"half.jsonl", `{"key":`, "no JSON"},
	} {
		_, err := tray.bringStock(context.Background(), c.name, []byte(c.data))
		assert.ErrorContains(t, err, c.want, c.name)
	}
	assert.Len(t, tray.done, 1, "nothing was done but to lay the photo there")
}
