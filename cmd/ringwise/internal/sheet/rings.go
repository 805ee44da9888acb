package sheet

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// askRings asks for the rings that write a part's value.
func (w Words) askRings(p Part) Question {
	r := p.Reading
	box := ringsBox(w.Rings, r.Rings)
	for _, row := range offByOne(r.Rings) {
		box.addSlip(SlipMultiplier, lettersOf(row))
	}
	if n := len(r.Rings); n > 3 {
		box.addSlip(SlipTolerance, lettersOf(r.Rings[:digitCount(n)+1]))
	}
	// The photo would give the rings away; and the value stands in the text,
	// so that it does not matter who read it.
	p.Picture, p.Unchecked = nil, false
	value := w.valueWithTolerance(r)
	if r.TempcoPPM != nil {
		value += fmt.Sprintf(", %d ppm/K", *r.TempcoPPM)
	}
	return Question{
		Kind:    ToRings,
		Ask:     fmt.Sprintf(w.AskRings, value, len(r.Rings)),
		Figures: []Figure{{Part: p, Blank: true}},
		Boxes:   []Box{box},
		Steps:   []string{w.written(r)},
		Remarks: w.remarks(r),
	}
}

// offByOne are the rows with the multiplier one too high or too low.
func offByOne(rings []decode.Colour) [][]decode.Colour {
	at := digitCount(len(rings))
	exponent, _ := rings[at].Multiplier()
	var rows [][]decode.Colour
	for c := range decode.Colour(decode.ColourCount) {
		if e, _ := c.Multiplier(); e == exponent+1 || e == exponent-1 {
			row := append([]decode.Colour(nil), rings...)
			row[at] = c
			rows = append(rows, row)
		}
	}
	return rows
}

// written tells in words how a value is written in rings.
func (w Words) written(r decode.Reading) string {
	n := digitCount(len(r.Rings))
	var digits, rings []string
	for _, c := range r.Rings[:n] {
		d, _ := c.Digit()
		digits = append(digits, fmt.Sprint(d))
		rings = append(rings, fmt.Sprintf(w.RingIs, fmt.Sprintf(w.DigitIs, d), w.Colours[c]))
	}
	exponent, _ := r.Rings[n].Multiplier()
	times := w.plain(decimal.New(1, int32(exponent)))
	rings = append(rings, fmt.Sprintf(w.RingIs, fmt.Sprintf(w.TimesIs, times), w.Colours[r.Rings[n]]))
	percent := w.point(r.TolerancePercent.Decimal.String())
	if len(r.Rings) > n+1 {
		rings = append(rings, fmt.Sprintf(w.RingIs, fmt.Sprintf(w.TolIs, percent), w.Colours[r.Rings[n+1]]))
	} else {
		rings = append(rings, fmt.Sprintf(w.TolNone, percent))
	}
	if r.TempcoPPM != nil {
		rings = append(rings, fmt.Sprintf(w.RingIs, fmt.Sprintf("%d ppm/K", *r.TempcoPPM), w.Colours[r.Rings[n+2]]))
	}
	whole := fmt.Sprintf(w.RingsFor, w.ohms(r.Ohms), strings.Join(digits, ""), times)
	return whole + ": " + strings.Join(rings, ", ") + "."
}
