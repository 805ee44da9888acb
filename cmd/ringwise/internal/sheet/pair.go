package sheet

import (
	"fmt"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// widestPair is how many times the larger of two parts may be the smaller: a
// much larger one hardly shows in three figures.
var widestPair = decimal.New(20, 0)

// twoOf shows two parts as A and B.
func twoOf(a, b Part) []Figure { return []Figure{{Label: "A", Part: a}, {Label: "B", Part: b}} }

// askPair asks for two parts in series and in parallel.
func (w Words) askPair(a, b Part, level int) Question {
	x, y := a.Reading, b.Reading
	series, parallel := inSeries(x.Ohms, y.Ohms), inParallel(x.Ohms, y.Ohms)
	slips := func(together func(a, b decimal.Decimal) decimal.Decimal) []numberSlip {
		return slippedPairs(x, y, func(a, b decode.Reading) decimal.Decimal { return together(a.Ohms, b.Ohms) })
	}
	ask := Question{
		Kind:    Pair,
		Ask:     w.AskPair,
		Figures: twoOf(a, b),
		Boxes: []Box{
			numberBox(w.SeriesValue, FormOhms, series, w.roughOhms(series), 3,
				append([]numberSlip{{SlipExchanged, parallel}}, slips(inSeries)...)),
			numberBox(w.ParallelValue, FormOhms, parallel, w.roughOhms(parallel), 3,
				append([]numberSlip{{SlipExchanged, series}}, slips(inParallel)...)),
		},
		Steps: []string{
			fmt.Sprintf(w.PartIs, "A", w.valueWithTolerance(x)), fmt.Sprintf(w.PartIs, "B", w.valueWithTolerance(y)),
			fmt.Sprintf(w.SeriesStep, w.ohms(x.Ohms), w.ohms(y.Ohms), "= "+w.ohms(series)),
			fmt.Sprintf(w.ParallelStep, w.ohms(x.Ohms), w.ohms(y.Ohms), result(parallel, 3, w.ohms)),
		},
	}
	if level < 3 {
		return ask
	}
	ask.Steps[0] = fmt.Sprintf(w.PartSpan, "A", w.valueWithTolerance(x), w.ohms(x.Low()), w.ohms(x.High()))
	ask.Steps[1] = fmt.Sprintf(w.PartSpan, "B", w.valueWithTolerance(y), w.ohms(y.Low()), w.ohms(y.High()))
	for _, way := range []struct {
		together          func(a, b decimal.Decimal) decimal.Decimal
		nominal           decimal.Decimal
		lowest, highest   string
		step              string
		lowText, highText string
	}{
		{together: inSeries, nominal: series, lowest: w.SeriesLowest, highest: w.SeriesHighest, step: w.SeriesSpan},
		{together: inParallel, nominal: parallel, lowest: w.ParallelLowest, highest: w.ParallelHighest, step: w.ParallelSpan},
	} {
		low, high := way.together(x.Low(), y.Low()), way.together(x.High(), y.High())
		ask.Boxes = append(ask.Boxes,
			w.spanBox(way.lowest, FormOhms, low, high, way.nominal, w.ohms),
			w.spanBox(way.highest, FormOhms, high, low, way.nominal, w.ohms))
		ask.Steps = append(ask.Steps, fmt.Sprintf(way.step, w.roughOhms(low), w.roughOhms(high)))
	}
	return ask
}

// spanBox is a box for one end of what a result may be.
func (w Words) spanBox(label string, form Form, want, other, nominal decimal.Decimal, write func(decimal.Decimal) string) Box {
	figures := enoughFigures(want, want.Sub(nominal).Abs())
	if figures > 3 {
		label = fmt.Sprintf(w.MoreFigures, label, figures)
	}
	return numberBox(label, form, want, rough(want, figures, write), figures, []numberSlip{{SlipTolerance, nominal}, {SlipOtherBound, other}})
}

// slippedPairs are the results when a slip is made with one of two parts.
func slippedPairs(x, y decode.Reading, result func(a, b decode.Reading) decimal.Decimal) []numberSlip {
	var list []numberSlip
	for _, s := range slippedReadings(x) {
		list = append(list, numberSlip{s.name, result(s.reading, y)})
	}
	for _, s := range slippedReadings(y) {
		list = append(list, numberSlip{s.name, result(x, s.reading)})
	}
	return list
}
