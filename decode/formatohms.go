package decode

import "github.com/shopspring/decimal"

// prefixes are the unit prefixes in which resistances are written and read
// (SI brochure, 9th edition, table 7). Mega is a capital M, milli a small m.
var prefixes = []struct {
	exponent     int
	symbol, word string
}{
	{-6, "µ", "micro"}, {-3, "m", "milli"}, {0, "", ""}, {3, "k", "kilo"},
	{6, "M", "mega"}, {9, "G", "giga"}, {12, "T", "tera"},
}

// ohmSign is the Greek capital omega, which Unicode prefers to the ohm sign
// U+2126 (The Unicode Standard, section 22.2).
const ohmSign = "\u03a9"

// FormatOhms writes a resistance exactly, with the unit prefix that leaves
// one to three digits before the point: 5.6 kΩ, 100 Ω, 2.2 MΩ. Below one ohm
// it keeps the unit down to 0.1, as in 0.33 Ω, then goes to milliohms, 47 mΩ
// and 0.5 mΩ, and below 0.1 mΩ to microhms. ParseOhms reads what it writes.
func FormatOhms(ohms decimal.Decimal) string {
	number, symbol, _ := engineering(ohms)
	return number + " " + symbol + ohmSign
}

// engineering splits a resistance into a number and the symbol and word of
// the prefix that goes with it.
func engineering(ohms decimal.Decimal) (number, symbol, word string) {
	if !withinReach(ohms) {
		return bare(ohms), "", ""
	}
	f := figuresOf(ohms)
	shift := f.thousands(12)
	switch {
	case f.point < -3:
		shift = -6
	case f.point < 0:
		shift = -3
	}
	before, after := f.around(shift)
	number = before
	if after != "" {
		number += "." + after
	}
	if ohms.IsNegative() {
		number = "-" + number
	}
	for _, p := range prefixes {
		if p.exponent == shift {
			return number, p.symbol, p.word
		}
	}
	panic("no prefix for a power of ten that is a multiple of three, -6 to 12")
}
