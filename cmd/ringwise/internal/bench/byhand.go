package bench

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

// A byHand is a part whose value a person gives: printed on it, measured, or
// not photographed at all.
type byHand struct {
	Value     string    `json:"value"`     // such as 5K6J or "5.6 kΩ"
	Tolerance string    `json:"tolerance"` // in percent or as a letter; may be empty
	Facts     factsText `json:"facts"`
	// Photo, Part and Version name the part on a photo; 0 without a photo.
	Photo   int `json:"photo"`
	Part    int `json:"part"`
	Version int `json:"version"`
	// Despite says that the person was told that the meter contradicts the
	// value and enters it all the same.
	Despite bool `json:"despite"`
}

// enter puts a part that a person names into the stock.
func (t *tray) enter(ctx context.Context, h byHand) (stock.Part, error) {
	reading, err := h.reading()
	if err != nil {
		return stock.Part{}, err
	}
	f, err := h.Facts.parse()
	if err != nil {
		return stock.Part{}, err
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	var entry stock.Part
	f.on(&entry)
	var p *part
	if h.Photo != 0 {
		if p, err = t.part(h.Photo, h.Part, h.Version); err != nil {
			return stock.Part{}, err
		}
		if p.said.status == stocked {
			return stock.Part{}, errors.New("this part is in the stock already")
		}
		if c := p.contradiction(reading, f.kind); c != "" && !h.Despite {
			return stock.Part{}, in("despite", fmt.Errorf("%s. Measure again, correct the value, or enter it all the same", c))
		}
		p.said.facts = f
		entry = t.entry(t.photo(h.Photo), p)
	}
	entry.Origin, entry.Reading = stock.ByHand, reading
	if entry, err = t.intoStock(ctx, entry); err != nil {
		return stock.Part{}, err
	}
	t.stocked(h.Photo, p, entry)
	return entry, nil
}

// contradiction says that the meter's reading of the part and a value given by
// hand do not agree, as decode.Testimony does; empty if they agree or nothing
// was measured.
func (p *part) contradiction(r decode.Reading, kind decode.Kind) string {
	if p.said.meter.shown == nil {
		return ""
	}
	given := decode.Ranking{Verdict: decode.Check, Candidates: []decode.Candidate{{Reading: r, Confidence: 1}}}
	return given.Hear(*p.said.meter.shown, decode.Specimen{Kind: kind}).Contradiction
}

// reading reads the value and tolerance.
func (h byHand) reading() (decode.Reading, error) {
	v, err := network.ParseValue(h.Value)
	if err != nil {
		return decode.Reading{}, err
	}
	r := v.Reading()
	if m, err := decode.ParseRKM(h.Value); err == nil && len(m.TempcoPPM) == 1 {
		r.TempcoPPM = &m.TempcoPPM[0]
	}
	if strings.TrimSpace(h.Tolerance) == "" {
		return r, nil
	}
	percent, err := network.ParseTolerance(h.Tolerance)
	r.TolerancePercent = decimal.NewNullDecimal(percent)
	return r, err
}
