package decode

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"
)

// A toleranceSense is one meaning of a tolerance ring.
type toleranceSense struct {
	percent       decimal.Decimal
	note, caution string
}

// alternatives are the meanings of tolerance rings besides those of the ring
// table. All from memory; a second source is wanted for each.
var alternatives = []struct {
	colour       Colour
	percent      decimal.Decimal
	fourRingOnly bool
	note         string
	caution      string
}{
	// From memory: the lacquer of high-voltage parts has no metal in it, so
	// yellow stands in for gold and grey for silver.
	{Yellow, decimal.New(5, 0), true, "Yellow read in place of gold, ±5 %, as on high-voltage parts.", CautionHighVoltage},
	{Grey, decimal.New(10, 0), true, "Grey read in place of silver, ±10 %, as on high-voltage parts.", CautionHighVoltage},
	// From memory: the 2016 edition changed the meaning of grey, which was
	// 0.05 before.
	{Grey, decimal.New(5, -2), false, "Grey read as ±0.05 %, its meaning before 2016.", ""},
	// From memory: old four-ring practice.
	{Orange, decimal.New(3, 0), true, "Orange read as ±3 %, an older use.", ""},
	{Yellow, decimal.New(4, 0), true, "Yellow read as ±4 %, an older use.", ""},
}

// leastTwoDigit is the tightest tolerance, in percent, that is met together
// with two digits (common practice, no source).
var leastTwoDigit = decimal.New(1, -1)

// toleranceSenses returns every meaning of a tolerance ring, most usual
// first: that of the ring table before the others, except on four-ring parts,
// where the looser comes first because very tight tolerances never come with
// two digits. Empty for a colour that is no tolerance.
func toleranceSenses(c Colour, fourRing bool) []toleranceSense {
	percent, ok := c.Tolerance()
	if !ok {
		return nil
	}
	own := toleranceSense{percent: percent}
	if fourRing && percent.LessThan(leastTwoDigit) {
		own.note = fmt.Sprintf("±%s %% is hardly ever met with two digits.", percent)
	}
	senses := []toleranceSense{own}
	for _, a := range alternatives {
		if a.colour == c && (fourRing || !a.fourRingOnly) {
			senses = append(senses, toleranceSense{a.percent, a.note, a.caution})
		}
	}
	if fourRing {
		slices.SortStableFunc(senses, func(a, b toleranceSense) int { return b.percent.Cmp(a.percent) })
	}
	return senses
}
