package sheet

import (
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// point writes a number's decimal mark the way the language does.
func (w Words) point(text string) string { return strings.Replace(text, ".", w.Point, 1) }

// Number writes a number with so many decimals, fewer if they are zero.
func (w Words) Number(x float64, decimals int32) string {
	return w.point(decimal.NewFromFloat(x).Round(decimals).String())
}

// ohms writes a resistance with its prefix, 5.6 kΩ.
func (w Words) ohms(d decimal.Decimal) string { return w.point(decode.FormatOhms(d)) }

// plain writes a number in full, with groups of three from five digits on:
// 5600, 4 700 000.
func (w Words) plain(d decimal.Decimal) string {
	whole, fraction, _ := strings.Cut(d.String(), ".")
	if len(whole) > 4 {
		for i := len(whole) - 3; i > 0; i -= 3 {
			whole = whole[:i] + noBreak + whole[i:]
		}
	}
	if fraction = strings.TrimRight(fraction, "0"); fraction != "" {
		whole += w.Point + fraction
	}
	return whole
}

// noBreak is a space at which no line breaks.
const noBreak = "\u00a0"

// roughOhms writes a resistance to three figures, with ≈ unless that is exact.
func (w Words) roughOhms(d decimal.Decimal) string { return rough(d, 3, w.ohms) }

// rough writes a number to so many figures, with ≈ unless that is exact.
func rough(d decimal.Decimal, figures int, write func(decimal.Decimal) string) string {
	r := rounded(d, figures)
	if r.Equal(d) {
		return write(d)
	}
	return about + write(r)
}

const about = "≈ "

// result writes the end of a sum: = and the number, or ≈ and the rounded one.
func result(d decimal.Decimal, figures int, write func(decimal.Decimal) string) string {
	text := rough(d, figures, write)
	if strings.HasPrefix(text, about) {
		return text
	}
	return "= " + text
}

// volts and watts write a voltage or a power with the prefix that leaves one
// to three digits before the point, down to microvolts and microwatts.
func (w Words) volts(d decimal.Decimal) string { return w.scaled(d, "V") }
func (w Words) watts(d decimal.Decimal) string { return w.scaled(d, "W") }

// rating writes a power rating, always in watts as people say it.
func (w Words) rating(d decimal.Decimal) string { return w.plain(d) + " W" }

func (w Words) scaled(d decimal.Decimal, unit string) string {
	shift, prefix := int32(0), ""
	switch o := order(d); {
	case d.IsZero():
	case o >= 3:
		shift, prefix = 3, "k"
	case o < -3:
		shift, prefix = -6, "µ"
	case o < 0:
		shift, prefix = -3, "m"
	}
	return w.plain(d.Shift(-shift)) + " " + prefix + unit
}
