package sheet

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/decode"
	"ringwise/decode/series"
)

// askValue asks for what the rings of a part mean.
func (w Words) askValue(p Part, level int) Question {
	r := p.Reading
	slips := slippedReadings(r)
	ask := Question{
		Kind:    ToValue,
		Ask:     w.AskValue,
		Figures: []Figure{{Part: p}},
		Boxes: []Box{
			ringsBox(w.Rings, r.Rings),
			numberBox(w.Value, FormOhms, r.Ohms, w.ohms(r.Ohms), 0, eachOf(slips, ohmsOf)),
			w.toleranceBox(r, slips),
		},
		Steps:   []string{w.worked(r)},
		Remarks: w.remarks(r),
	}
	if level >= 2 {
		ask.Boxes = append(ask.Boxes, w.boundBoxes(r, slips)...)
	}
	if level >= 3 {
		ask.Boxes = append(ask.Boxes, w.markingBox(r, slips))
		if r.TempcoPPM != nil {
			ppm := decimal.New(int64(*r.TempcoPPM), 0)
			ask.Boxes = append(ask.Boxes, numberBox(w.Coefficient, FormTempco, ppm, fmt.Sprintf("%d ppm/K", *r.TempcoPPM), 0, nil))
		}
	}
	return ask
}

func ohmsOf(r decode.Reading) decimal.Decimal { return r.Ohms }

// eachOf takes one number from every slipped reading.
func eachOf(slips []slipped, number func(decode.Reading) decimal.Decimal) []numberSlip {
	var list []numberSlip
	for _, s := range slips {
		list = append(list, numberSlip{s.name, number(s.reading)})
	}
	return list
}

// ringsBox is a box for a row of rings.
func ringsBox(label string, rings []decode.Colour) Box {
	b := Box{Label: label, Form: FormRings, Want: lettersOf(rings), Shown: lettersOf(rings)}
	back := make([]decode.Colour, len(rings))
	for i, c := range rings {
		back[len(rings)-1-i] = c
	}
	b.addSlip(SlipReversed, lettersOf(back))
	for _, row := range brownRed(rings) {
		b.addSlip(SlipBrownRed, lettersOf(row))
	}
	return b
}

// toleranceBox is a box for the tolerance of a part in percent.
func (w Words) toleranceBox(r decode.Reading, slips []slipped) Box {
	percent := r.TolerancePercent.Decimal
	shown := "±" + w.point(percent.String()) + " %"
	b := numberBox(w.Tolerance, FormPercent, percent, shown, 0,
		eachOf(slips, func(r decode.Reading) decimal.Decimal { return r.TolerancePercent.Decimal }))
	b.addSlip(SlipTolerance, "0")
	return b
}

// boundBoxes are boxes for the lowest and the highest a part may be.
func (w Words) boundBoxes(r decode.Reading, slips []slipped) []Box {
	low, high := decode.Reading.Low, decode.Reading.High
	return []Box{w.boundBox(w.Lowest, r, low, high, slips), w.boundBox(w.Highest, r, high, low, slips)}
}

func (w Words) boundBox(label string, r decode.Reading, bound, other func(decode.Reading) decimal.Decimal, slips []slipped) Box {
	want := bound(r)
	figures := enoughFigures(want, want.Sub(r.Ohms).Abs())
	if figures > 3 {
		label = fmt.Sprintf(w.MoreFigures, label, figures)
	}
	return numberBox(label, FormOhms, want, w.ohms(want), figures, append([]numberSlip{
		{SlipTolerance, r.Ohms}, {SlipOtherBound, other(r)},
	}, eachOf(slips, bound)...))
}

// markingBox is a box for the value in letters and digits.
func (w Words) markingBox(r decode.Reading, slips []slipped) Box {
	b := numberBox(w.Marking, FormOhms, r.Ohms, r.RKM(), 0, eachOf(slips, ohmsOf))
	b.Form, b.Want = FormMarking, r.RKM()
	for i, s := range b.Slips {
		b.Slips[i].Answer = decode.FormatRKM(decimal.RequireFromString(s.Answer))
	}
	return b
}

// worked tells in words how the rings make the value: green 5, blue 6, red:
// times 100 → 5600 ohm = 5.6 kΩ; gold: ±5 % → 5320 to 5880 ohm.
func (w Words) worked(r decode.Reading) string {
	var digits []string
	at := 0
	for ; at < digitCount(len(r.Rings)); at++ {
		d, _ := r.Rings[at].Digit()
		digits = append(digits, fmt.Sprintf(w.DigitRing, w.Colours[r.Rings[at]], d))
	}
	exponent, _ := r.Rings[at].Multiplier()
	digits = append(digits, fmt.Sprintf(w.TimesRing, w.Colours[r.Rings[at]], w.plain(decimal.New(1, int32(exponent)))))
	steps := []string{fmt.Sprintf(w.Makes, strings.Join(digits, ", "), w.plain(r.Ohms))}
	if short := w.ohms(r.Ohms); short != w.plain(r.Ohms)+" Ω" {
		steps[0] += fmt.Sprintf(w.Also, short)
	}
	percent := w.point(r.TolerancePercent.Decimal.String())
	if at++; at < len(r.Rings) {
		steps = append(steps, fmt.Sprintf(w.ToleranceRing, w.Colours[r.Rings[at]], percent, w.plain(r.Low()), w.plain(r.High())))
	} else {
		steps = append(steps, fmt.Sprintf(w.NoTolerance, percent, w.plain(r.Low()), w.plain(r.High())))
	}
	if r.TempcoPPM != nil {
		steps = append(steps, fmt.Sprintf(w.TempcoRing, w.Colours[r.Rings[at+1]], *r.TempcoPPM))
	}
	return strings.Join(steps, "; ") + "."
}

// digitCount is how many of so many rings are digits (IEC 60062).
func digitCount(rings int) int {
	if rings >= 5 {
		return 3
	}
	return 2
}

// remarks give the marking in letters and digits, whether the digits are a
// preferred number, and the cautions that go with the part.
func (w Words) remarks(r decode.Reading) []string {
	list := []string{fmt.Sprintf(w.MarkedAs, r.RKM(), r.RKMWithToleranceLetter())}
	digits := ""
	for _, c := range r.Rings[:digitCount(len(r.Rings))] {
		d, _ := c.Digit()
		digits += fmt.Sprint(d)
	}
	significand := decimal.RequireFromString((digits + "0")[:3]).IntPart()
	if e, ok := series.Lowest(int(significand)); ok {
		return append(list, fmt.Sprintf(w.Preferred, digits, e))
	}
	return append(list, fmt.Sprintf(w.NotPreferred, digits))
}

// valueWithTolerance writes 5.6 kΩ ±5 %.
func (w Words) valueWithTolerance(r decode.Reading) string {
	return w.ohms(r.Ohms) + " ±" + w.point(r.TolerancePercent.Decimal.String()) + " %"
}
