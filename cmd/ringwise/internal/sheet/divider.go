package sheet

import (
	"fmt"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// supplies are the voltages of batteries and plug-in supplies that dividers
// are fed from.
var supplies = []decimal.Decimal{decimal.New(3, 0), decimal.New(45, -1), decimal.New(5, 0),
	decimal.New(6, 0), decimal.New(9, 0), decimal.New(12, 0)}

// askDivider asks for the voltage at the tap between two parts.
func (w Words) askDivider(a, b Part, supply decimal.Decimal, level int) Question {
	x, y := a.Reading, b.Reading
	want := tapped(supply, x.Ohms, y.Ohms)
	slips := append([]numberSlip{{SlipTurned, tapped(supply, y.Ohms, x.Ohms)}},
		slippedPairs(x, y, func(a, b decode.Reading) decimal.Decimal { return tapped(supply, a.Ohms, b.Ohms) })...)
	ask := Question{
		Kind:    Divider,
		Ask:     fmt.Sprintf(w.AskDivider, w.volts(supply)),
		Figures: twoOf(a, b),
		Boxes:   []Box{numberBox(w.Voltage, FormVolts, want, rough(want, 3, w.volts), 3, slips)},
		Steps: []string{
			fmt.Sprintf(w.PartIs, "A", w.valueWithTolerance(x)), fmt.Sprintf(w.PartIs, "B", w.valueWithTolerance(y)),
			fmt.Sprintf(w.DividerStep, w.volts(supply), w.ohms(x.Ohms), w.ohms(y.Ohms), result(want, 3, w.volts)),
		},
	}
	if level < 3 {
		return ask
	}
	low, high := tapped(supply, x.High(), y.Low()), tapped(supply, x.Low(), y.High())
	lowest := w.spanBox(w.VoltageLowest, FormVolts, low, high, want, w.volts)
	highest := w.spanBox(w.VoltageHighest, FormVolts, high, low, want, w.volts)
	ask.Boxes = append(ask.Boxes, lowest, highest)
	ask.Steps = append(ask.Steps,
		fmt.Sprintf(w.DividerLow, w.volts(supply), w.ohms(x.High()), w.ohms(y.Low()), result(low, lowest.Figures, w.volts)),
		fmt.Sprintf(w.DividerHigh, w.volts(supply), w.ohms(x.Low()), w.ohms(y.High()), result(high, highest.Figures, w.volts)))
	return ask
}
