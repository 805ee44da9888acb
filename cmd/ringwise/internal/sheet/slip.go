package sheet

import (
	"slices"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// SlipName names the cause of a wrong answer.
type SlipName string

// The usual slips.
const (
	SlipReversed   SlipName = "reversed"      // rings read from the wrong end
	SlipMultiplier SlipName = "multiplier"    // ten times too much or too little
	SlipBrownRed   SlipName = "brown-red"     // brown and red taken for each other
	SlipTolerance  SlipName = "tolerance"     // the tolerance forgotten
	SlipOtherBound SlipName = "bounds"        // lowest and highest exchanged
	SlipPrefix     SlipName = "prefix"        // a thousand times too much or too little
	SlipExchanged  SlipName = "exchanged"     // series and parallel exchanged
	SlipTurned     SlipName = "upside-down"   // a divider taken upside down
	SlipNominal    SlipName = "nominal-only"  // nominal compared, its span forgotten
	SlipOtherEnd   SlipName = "counted-right" // rings counted from the right
)

// A slipped reading is what a slip makes of a row of rings.
type slipped struct {
	name    SlipName
	reading decode.Reading
}

// slippedReadings are the readings that the usual slips make of a part.
func slippedReadings(r decode.Reading) []slipped {
	var list []slipped
	add := func(name SlipName, rings []decode.Colour) {
		if found, err := decode.Readings(rings); err == nil && !slices.Equal(rings, r.Rings) {
			list = append(list, slipped{name, found[0]})
		}
	}
	back := slices.Clone(r.Rings)
	slices.Reverse(back)
	add(SlipReversed, back)
	for _, step := range []int32{1, -1} {
		off := r
		off.Ohms = r.Ohms.Shift(step)
		list = append(list, slipped{SlipMultiplier, off})
	}
	for _, rings := range brownRed(r.Rings) {
		add(SlipBrownRed, rings)
	}
	return list
}

// brownRed are the rows in which brown and red are taken for each other: in
// one ring, or in all.
func brownRed(rings []decode.Colour) [][]decode.Colour {
	var rows [][]decode.Colour
	all := slices.Clone(rings)
	for i, c := range rings {
		var other decode.Colour
		switch c {
		case decode.Brown:
			other = decode.Red
		case decode.Red:
			other = decode.Brown
		default:
			continue
		}
		one := slices.Clone(rings)
		one[i], all[i] = other, other
		rows = append(rows, one)
	}
	if len(rows) > 1 {
		rows = append(rows, all)
	}
	return rows
}

// numberBox is a box for a number, with the slips that differ from it.
func numberBox(label string, form Form, want decimal.Decimal, shown string, figures int, slips []numberSlip) Box {
	b := Box{Label: label, Form: form, Want: want.String(), Shown: shown, Figures: figures}
	for _, s := range slips {
		if !Agrees(s.number, want, figures) {
			b.addSlip(s.name, s.number.String())
		}
	}
	for _, step := range []int32{3, -3} {
		if form != FormPercent && form != FormTempco && form != FormNumber {
			b.addSlip(SlipPrefix, want.Shift(step).String())
		}
	}
	return b
}

type numberSlip struct {
	name   SlipName
	number decimal.Decimal
}

// addSlip adds a wrong answer unless it is the right one or there already.
func (b *Box) addSlip(name SlipName, answer string) {
	s := Slip{name, answer}
	if answer != b.Want && !slices.Contains(b.Slips, s) {
		b.Slips = append(b.Slips, s)
	}
}
