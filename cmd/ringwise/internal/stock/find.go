package stock

import (
	"context"
	"database/sql"
	"errors"
	"slices"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// A Filter picks entries. Its zero value picks all that have a part left.
type Filter struct {
	// Ohms picks this nominal value alone, Low and High the nominal values
	// from and up to these, in ohms.
	Ohms, Low, High decimal.NullDecimal
	// TolerancePercent picks tolerances at most this loose, in percent.
	TolerancePercent decimal.NullDecimal
	// Kind picks this kind alone.
	Kind decode.Kind
	// Empty also picks entries of which no part is left.
	Empty bool
}

// Parts returns the entries that the filter picks, by value, then tolerance,
// then number; without their crops.
func (s *Store) Parts(ctx context.Context, f Filter) ([]Part, error) {
	all, err := partsOf(ctx, s.db, "ORDER BY id")
	if err != nil {
		return nil, plain(s.path, err)
	}
	list := slices.DeleteFunc(all, func(p Part) bool { return !f.picks(p) })
	slices.SortStableFunc(list, func(a, b Part) int { return byValue(a.Reading, b.Reading) })
	return list, nil
}

func (f Filter) picks(p Part) bool {
	r := p.Reading
	switch {
	case p.Count == 0 && !f.Empty,
		f.Ohms.Valid && !r.Ohms.Equal(f.Ohms.Decimal),
		f.Low.Valid && r.Ohms.LessThan(f.Low.Decimal),
		f.High.Valid && r.Ohms.GreaterThan(f.High.Decimal),
		f.TolerancePercent.Valid && !r.IsLink() && (!r.TolerancePercent.Valid || r.TolerancePercent.Decimal.GreaterThan(f.TolerancePercent.Decimal)),
		f.Kind != decode.KindUnknown && p.Kind != f.Kind:
		return false
	}
	return true
}

// byValue orders by value, then by tolerance, unknown last.
func byValue(a, b decode.Reading) int {
	if c := a.Ohms.Cmp(b.Ohms); c != 0 {
		return c
	}
	x, y := a.TolerancePercent, b.TolerancePercent
	switch {
	case x.Valid && y.Valid:
		return x.Decimal.Cmp(y.Decimal)
	case x.Valid:
		return -1
	case y.Valid:
		return 1
	}
	return 0
}

// Part returns one entry, without its crop.
func (s *Store) Part(ctx context.Context, id int64) (Part, error) {
	list, err := partsOf(ctx, s.db, "WHERE id = ?", id)
	if err != nil {
		return Part{}, plain(s.path, err)
	}
	if len(list) == 0 {
		return Part{}, noEntry(id)
	}
	return list[0], nil
}

// ByKey returns the entry with that key, and whether there is one.
func (s *Store) ByKey(ctx context.Context, key string) (Part, bool, error) {
	list, err := partsOf(ctx, s.db, "WHERE key = ?", key)
	if err != nil || len(list) == 0 {
		return Part{}, false, plain(s.path, err)
	}
	return list[0], true, nil
}

// Crop returns the picture of an entry as PNG, nil if it has none.
func (s *Store) Crop(ctx context.Context, id int64) ([]byte, error) {
	var data []byte
	err := s.db.QueryRowContext(ctx, "SELECT png FROM crop WHERE part = ? AND EXISTS (SELECT 1 FROM part WHERE id = ?)", id, id).Scan(&data)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	return data, plain(s.path, err)
}

// A Bin is all parts of one value and tolerance.
type Bin struct {
	// Reading has value and tolerance, and the rings of the entries if all
	// that have rings have the same.
	Reading decode.Reading
	Count   int
	// Entries are those with a part left, by number.
	Entries []Part
}

// Bins returns the parts by value and tolerance, rising, where any are left.
func (s *Store) Bins(ctx context.Context) ([]Bin, error) {
	parts, err := s.Parts(ctx, Filter{})
	if err != nil {
		return nil, err
	}
	var bins []Bin
	for _, p := range parts {
		last := len(bins) - 1
		if last < 0 || byValue(bins[last].Reading, p.Reading) != 0 {
			bins = append(bins, Bin{Reading: decode.Reading{Ohms: p.Reading.Ohms, TolerancePercent: p.Reading.TolerancePercent}})
			last++
		}
		bins[last].Count += p.Count
		bins[last].Entries = append(bins[last].Entries, p)
	}
	for i := range bins {
		bins[i].Reading.Rings = commonRings(bins[i].Entries)
	}
	return bins, nil
}

// commonRings are the rings that all entries with rings share, nil if they
// differ.
func commonRings(entries []Part) []decode.Colour {
	var rings []decode.Colour
	for _, p := range entries {
		switch {
		case len(p.Reading.Rings) == 0:
		case rings == nil:
			rings = p.Reading.Rings
		case !slices.Equal(rings, p.Reading.Rings):
			return nil
		}
	}
	return rings
}
