// Package onhand brings the parts of the stock and of a series to where they
// are chosen from, and takes chosen parts out of the stock.
package onhand

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

// ErrNoStock tells that there is no stock yet.
var ErrNoStock = errors.New("there is no stock yet")

// Path is where the stock lies: the file named, or the usual one.
func Path(named string) (string, error) {
	if named != "" {
		return named, nil
	}
	return stock.DefaultPath()
}

// Open opens the stock in the file named, or the usual one if named is empty.
// Unlike stock.Open it makes none: it returns an error that is ErrNoStock.
func Open(ctx context.Context, named string) (*stock.Store, error) {
	path, err := Path(named)
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%w at %s: confirm parts with ringwise read --confirm or ringwise bench, name a file with --stock, or choose from a series with --from E24", ErrNoStock, path)
	}
	return stock.Open(ctx, path)
}

// Parts returns the parts of the stock of which any are left, as the network
// package takes them. The ID is the entry's number, as is where to find it.
func Parts(ctx context.Context, s *stock.Store) ([]network.Part, error) {
	entries, err := s.Parts(ctx, stock.Filter{})
	if err != nil {
		return nil, err
	}
	parts := make([]network.Part, len(entries))
	for i, e := range entries {
		parts[i] = FromStock(e)
	}
	return parts, nil
}

// FromStock turns an entry of the stock into a part. A kind that is only
// estimated counts as unknown unless it is a special one; a reading with the
// caution for high voltage makes a high-voltage part. A meter reading counts for a
// single part out of its circuit.
func FromStock(e stock.Part) network.Part {
	p := network.Part{
		ID: strconv.FormatInt(e.ID, 10), Where: fmt.Sprintf("#%d", e.ID), Count: e.Count,
		Value: network.Value{Ohms: e.Reading.Ohms, TolerancePercent: e.Reading.TolerancePercent},
		Rings: e.Reading.Rings, TempcoPPM: e.Reading.TempcoPPM, Kind: e.Kind,
	}
	if e.KindBasis != stock.Said && !e.Kind.Special() {
		p.Kind = decode.KindUnknown
	}
	if slices.Contains(e.Reading.Cautions, decode.CautionHighVoltage) && p.Kind == decode.KindUnknown {
		p.Kind = decode.KindHighVoltage
	}
	if e.RatingWatts.Valid {
		p.RatedWatts = e.RatingWatts.Decimal.InexactFloat64()
		p.RatingEstimated = e.RatingBasis != stock.Said
	}
	if m := e.Meter; m != nil && !m.InCircuit && e.Count == 1 {
		p.Measured = &network.Span{
			Low:  network.Exact(decimal.Max(decimal.Zero, m.Ohms.Sub(m.Limit()))),
			High: network.Exact(m.Ohms.Add(m.Limit())),
		}
	}
	if size, ok := Size(e.Size); ok {
		if p.RatedWatts == 0 {
			p.RatedWatts, p.RatingEstimated = size.LowWatts, true
		}
		if e.SizeBasis == stock.Said {
			p.LimitVolts = size.LimitVolts
		}
	}
	return p
}

// Size is the type size of a body as the stock keeps it; false if it is
// unknown or in none.
func Size(s stock.Size) (network.BodySize, bool) {
	if size, err := network.SizeNamed(string(s)); err == nil {
		return size, true
	}
	length, diameter, _ := strings.Cut(strings.TrimSuffix(string(s), " mm"), " × ")
	l, err := strconv.ParseFloat(length, 64)
	if err != nil {
		return network.BodySize{}, false
	}
	d, err := strconv.ParseFloat(diameter, 64)
	if err != nil {
		d = 0
	}
	size, err := network.SizeOfBody(l, d)
	return size, err == nil
}
