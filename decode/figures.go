package decode

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"
)

// figures are the significant digits of a number, without leading or trailing
// zeros, and the place of its decimal point: point digits stand before it.
// 5600 is {"56", 4}, 0.033 is {"33", -1}, zero is {"", 0}.
type figures struct {
	digits string
	point  int
}

// withinReach reports whether a number may be written out or compared without
// cost: decimal numbers can carry exponents that would fill the memory.
func withinReach(d decimal.Decimal) bool {
	return d.Exponent() > -200 && d.Exponent() < 200 && d.Coefficient().BitLen() < 1000
}

// figuresOf splits a number that is within reach. The sign is left out.
func figuresOf(d decimal.Decimal) figures {
	digits := d.Abs().Coefficient().String()
	point := len(digits) + int(d.Exponent())
	digits = strings.TrimRight(digits, "0")
	if digits == "" {
		return figures{}
	}
	return figures{digits, point}
}

// inRange reports whether a value is one that resistances are read up to.
func (f figures) inRange() bool {
	return f.digits == "" || f.point > leastOrder && f.point <= mostOrder
}

// around returns the digits before and after the decimal point once it is
// moved left by shift places. before is at least "0".
func (f figures) around(shift int) (before, after string) {
	point := f.point - shift
	switch {
	case f.digits == "":
		return "0", ""
	case point <= 0:
		return "0", strings.Repeat("0", -point) + f.digits
	case point >= len(f.digits):
		return f.digits + strings.Repeat("0", point-len(f.digits)), ""
	}
	return f.digits[:point], f.digits[point:]
}

// thousands returns the largest multiple of three, 0 to most, by which the
// point may move left and leave a digit before it.
func (f figures) thousands(most int) int {
	return max(0, min((f.point-1)/3*3, most))
}

// bare writes a number that is out of reach.
func bare(d decimal.Decimal) string {
	if d.Coefficient().BitLen() < 1000 {
		return fmt.Sprintf("%sE%d", d.Coefficient(), d.Exponent())
	}
	return "an endless number"
}

// shorten cuts text that goes into an error message.
func shorten(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
