package sheet

import (
	"fmt"
	"math/rand/v2"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// Voltages across a part, in volts: of batteries and bench supplies, and of
// the mains, which only level 3 asks about.
var (
	acrossVolts = []decimal.Decimal{decimal.New(15, -1), decimal.New(3, 0), decimal.New(45, -1), decimal.New(5, 0),
		decimal.New(6, 0), decimal.New(9, 0), decimal.New(12, 0), decimal.New(24, 0)}
	mainsVolts = decimal.New(230, 0)
)

// ratings are usual power ratings in watts; the first is asked about below
// level 3 (common practice, no source).
var ratings = []decimal.Decimal{decimal.New(25, -2), decimal.New(125, -3), decimal.New(5, -1), decimal.New(1, 0), decimal.New(2, 0)}

// heatBounds are the shares of the rating up to which a part is cool, warm or
// hot (common practice, no source); heatRoom is how far, in the same unit
// relative to the bound, a question stays away from each.
var (
	heatBounds = [3]decimal.Decimal{decimal.New(1, -1), decimal.New(5, -1), decimal.New(1, 0)}
	heatRoom   = decimal.New(5, -2)
)

// A load is the voltage across a part and the rating it is taken to have.
type load struct{ volts, rating decimal.Decimal }

// loads picks what may be asked about a part's power: no result lies near a
// bound, and none is so small or so great that nobody would wonder.
func loads(r decode.Reading, level int, dice *rand.Rand) (load, bool) {
	volts, rated := acrossVolts, ratings[:1]
	if level >= 3 {
		volts, rated = append(append([]decimal.Decimal(nil), volts...), mainsVolts), ratings
	}
	byHeat := map[int][]load{}
	for _, v := range volts {
		for _, p := range rated {
			share := divided(heat(v, r.Ohms), p)
			if share.LessThan(decimal.New(1, -3)) || share.GreaterThan(decimal.New(20, 0)) || nearBound(share) {
				continue
			}
			byHeat[heatOf(share)] = append(byHeat[heatOf(share)], load{v, p})
		}
	}
	for _, k := range dice.Perm(len(heatBounds) + 1) {
		if list := byHeat[k]; len(list) > 0 {
			return list[dice.IntN(len(list))], true
		}
	}
	return load{}, false
}

func nearBound(share decimal.Decimal) bool {
	for _, b := range heatBounds {
		if share.Sub(b).Abs().LessThan(b.Mul(heatRoom)) {
			return true
		}
	}
	return false
}

// heatOf is the place among HeatWords of a share of the rating.
func heatOf(share decimal.Decimal) int {
	for i, b := range heatBounds {
		if share.LessThanOrEqual(b) {
			return i
		}
	}
	return len(heatBounds)
}

// askPower asks for the power in a part and whether it will get hot.
func (w Words) askPower(p Part, l load) Question {
	r := p.Reading
	want := heat(l.volts, r.Ohms)
	share := divided(want, l.rating)
	word := w.HeatWords[heatOf(share)]
	var slips []numberSlip
	heatBox := Box{Label: w.Heat, Form: FormWord, Want: word, Shown: word}
	for _, s := range slippedReadings(r) {
		other := heat(l.volts, s.reading.Ohms)
		slips = append(slips, numberSlip{s.name, other})
		heatBox.addSlip(s.name, w.HeatWords[heatOf(divided(other, l.rating))])
	}
	h := w.HeatWords
	ask := Question{
		Kind:     Power,
		Ask:      fmt.Sprintf(w.AskPower, w.volts(l.volts), w.rating(l.rating)) + " " + fmt.Sprintf(w.HeatRule, h[0], h[1], h[2], h[3]),
		Figures:  []Figure{{Part: p}},
		Boxes:    []Box{numberBox(w.PowerBox, FormWatts, want, rough(want, 3, w.watts), 3, slips), heatBox},
		Cautions: []string{w.CautionHeat},
		Steps: []string{
			w.worked(r),
			fmt.Sprintf(w.PowerStep, w.volts(l.volts), w.ohms(r.Ohms), result(want, 3, w.watts)),
			fmt.Sprintf(w.PowerShare, w.rating(l.rating), w.plain(rounded(share.Shift(2), 3)), word),
		},
	}
	if l.volts.Equal(mainsVolts) {
		ask.Cautions = append(ask.Cautions, w.CautionMains)
	}
	return ask
}
