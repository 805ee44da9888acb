package sheet

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// A fault is a row of rings without a meaning and the place of the one ring,
// from 0, that makes it so.
type fault struct {
	rings []decode.Colour
	at    int
}

// spoiled changes one ring of a row so that it has no meaning from either end
// and so that changing that one ring, and no other, puts it right. It reports
// false if there is no such change.
func spoiled(rings []decode.Colour, dice *rand.Rand) (fault, bool) {
	var list []fault
	for at := range rings {
		for c := range decode.Colour(decode.ColourCount) {
			row := slices.Clone(rings)
			row[at] = c
			if misplaced(row, at) {
				list = append(list, fault{row, at})
			}
		}
	}
	if len(list) == 0 {
		return fault{}, false
	}
	return list[dice.IntN(len(list))], true
}

// misplaced reports whether a row has no meaning from either end, and only a
// change of the ring at one place can give it one, read from the left.
func misplaced(row []decode.Colour, at int) bool {
	back := slices.Clone(row)
	slices.Reverse(back)
	if meaningful(row) || meaningful(back) {
		return false
	}
	for place := range row {
		if mendable(row, place) != (place == at) {
			return false
		}
	}
	return true
}

func meaningful(row []decode.Colour) bool {
	_, err := decode.Readings(row)
	return err == nil
}

// mendable reports whether changing the ring at one place gives the row a
// meaning.
func mendable(row []decode.Colour, at int) bool {
	mended := slices.Clone(row)
	for c := range decode.Colour(decode.ColourCount) {
		mended[at] = c
		if meaningful(mended) {
			return true
		}
	}
	return false
}

// why says what is wrong with the ring that makes the fault.
func (w Words) why(f fault) string {
	c := f.rings[f.at]
	switch {
	case f.at == 0 && c == decode.Black:
		return w.ZeroFirst
	case f.at < digitCount(len(f.rings)):
		return fmt.Sprintf(w.NoDigit, w.Colours[c])
	case f.at == 5:
		return fmt.Sprintf(w.NoTempco, w.Colours[c])
	}
	return fmt.Sprintf(w.NoTol, w.Colours[c])
}

// askImpossible asks which row has no meaning. wrong is its place among the
// rows, the others are those of parts.
func (w Words) askImpossible(f fault, others []Part, wrong int) Question {
	letter := letterAt(wrong)
	ask := Question{Kind: Impossible, Ask: w.AskImpossible}
	var fine []string
	for i := range len(others) + 1 {
		if i == wrong {
			ask.Figures = append(ask.Figures, Figure{Label: letter, Faulty: true, Part: Part{Reading: decode.Reading{Rings: f.rings}}})
			continue
		}
		p := others[0]
		others = others[1:]
		p.Picture, p.Unchecked = nil, false
		ask.Figures = append(ask.Figures, Figure{Label: letterAt(i), Part: p})
		fine = append(fine, letterAt(i)+" "+w.valueWithTolerance(p.Reading))
	}
	place := decimal.New(int64(f.at+1), 0)
	ask.Boxes = []Box{
		{Label: w.WhichRow, Form: FormLetters, Want: letter, Shown: letter},
		numberBox(w.WhichRing, FormNumber, place, strconv.Itoa(f.at+1), 0,
			[]numberSlip{{SlipOtherEnd, decimal.New(int64(len(f.rings)-f.at), 0)}}),
	}
	ask.Steps = []string{
		fmt.Sprintf(w.ImpossibleStep, letter, f.at+1, w.Colours[f.rings[f.at]], w.why(f)),
		w.OtherEndToo,
		fmt.Sprintf(w.OthersFine, w.list(fine)),
	}
	return ask
}
