package photopart

import (
	"bytes"
	"context"
	"fmt"
	"image"
	_ "image/png" // what the stock keeps
	"slices"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/stock"
)

// FromStock takes the parts of a stock, all of which a person has confirmed.
// Each row of rings comes once, with the picture of its first entry that has
// one and of which it is certain from which end it is read; without such a
// picture the part is drawn.
func FromStock(ctx context.Context, path string) ([]sheet.Part, error) {
	store, err := stock.Open(ctx, path)
	if err != nil {
		return nil, err
	}
	defer store.Close()
	return FromStore(ctx, store, func(stock.Part) bool { return true })
}

// FromStore takes the parts of an open stock as FromStock does, those alone
// that are among the wanted.
func FromStore(ctx context.Context, store *stock.Store, wanted func(stock.Part) bool) ([]sheet.Part, error) {
	entries, err := store.Parts(ctx, stock.Filter{Empty: true})
	if err != nil {
		return nil, err
	}
	var parts []sheet.Part
	for _, e := range entries {
		if e.Origin != stock.FromRings || !wanted(e) {
			continue // it has no rings to ask about, or is not among them
		}
		at := slices.IndexFunc(parts, func(p sheet.Part) bool { return slices.Equal(p.Reading.Rings, e.Reading.Rings) })
		if at < 0 {
			at = len(parts)
			parts = append(parts, sheet.Part{Reading: e.Reading})
		}
		if parts[at].Picture == nil && e.PhotoPart > 0 {
			if parts[at].Picture, err = stocked(ctx, store, e); err != nil {
				return nil, err
			}
		}
	}
	return parts, nil
}

// stocked is the picture of an entry, nil if it has none that may be shown.
func stocked(ctx context.Context, store *stock.Store, e stock.Part) (*sheet.Picture, error) {
	data, err := store.Crop(ctx, e.ID)
	if err != nil || len(data) == 0 {
		return nil, err
	}
	crop, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the picture of entry #%d is damaged (%w): confirm the part again", e.ID, err)
	}
	at, certain := ringsIn(ctx, crop, e.Reading.Rings)
	if !certain {
		return nil, nil
	}
	return picture(crop, at)
}
