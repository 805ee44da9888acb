package decode

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"
)

// A Marking is a value in the letter-and-digit code of IEC 60062.
type Marking struct {
	// Ohms is the resistance, exact.
	Ohms decimal.Decimal
	// TolerancePercent is either side of nominal; null without a letter.
	TolerancePercent decimal.NullDecimal
	// TempcoPPM are the temperature coefficients in ppm/K that the marking
	// may mean: two for the letter Z, none without a letter.
	TempcoPPM []int
}

// rkmLetters are the letters that stand for the decimal point and a power of
// ten (IEC 60062; L and T from memory).
var rkmLetters = []struct {
	letter   byte
	exponent int
}{{'L', -3}, {'R', 0}, {'K', 3}, {'M', 6}, {'G', 9}, {'T', 12}}

// Bounds of ParseRKM.
const (
	mostRKM       = 20 // longest marking read, in bytes
	mostRKMDigits = 16 // most digits in it, written with R or a larger letter
)

// ParseRKM reads a value in the letter-and-digit code: 5K6, R33, 18K, 2M2,
// 4L7. A tolerance letter may follow, 5K6J, and after it a letter for the
// temperature coefficient, 5K6JS. Small letters are taken too, except an m in
// place of the decimal point, which may be meant for milli or for mega.
//
// The text may have at most 20 bytes and 16 digits; the value must be zero or
// from 1 pΩ to below 1000 TΩ. What else stands there is an error that says what
// to write.
func ParseRKM(text string) (Marking, error) {
	code := strings.TrimSpace(text)
	if len(code) > mostRKM {
		return Marking{}, fmt.Errorf("%q is too long for a marking such as 5K6: use at most %d characters", shorten(code), mostRKM)
	}
	before, rest := leadingDigits(code)
	exponent, err := rkmExponent(code, rest)
	if err != nil {
		return Marking{}, err
	}
	after, letters := leadingDigits(rest[1:])
	if before == "" && after == "" {
		return Marking{}, fmt.Errorf("%q has no digit: write a value such as 5K6 or R33", code)
	}
	if len(before)+len(after)-min(exponent, 0) > mostRKMDigits {
		return Marking{}, fmt.Errorf("%q has too many digits for a marking such as 5K6: use at most %d", code, mostRKMDigits)
	}
	value, err := decimal.NewFromString("0" + before + "." + after + "0")
	if err != nil {
		return Marking{}, fmt.Errorf("%q cannot be read as a marking such as 5K6: %w", code, err)
	}
	m := Marking{Ohms: value.Shift(int32(exponent))}
	if !figuresOf(m.Ohms).inRange() {
		return Marking{}, fmt.Errorf("the value of %q is out of range: use 0, or 1 pΩ to below 1000 TΩ", code)
	}
	if len(letters) > 2 {
		return Marking{}, fmt.Errorf("%q goes on with %q after the value: at most a tolerance letter and a coefficient letter may follow, as in 5K6JS", code, letters)
	}
	if len(letters) > 0 {
		percent, err := ToleranceOfLetter(letters[:1])
		if err != nil {
			return Marking{}, fmt.Errorf("in %q: %w", code, err)
		}
		m.TolerancePercent = decimal.NewNullDecimal(percent)
	}
	if len(letters) > 1 {
		if m.TempcoPPM, err = TempcosOfLetter(letters[1:]); err != nil {
			return Marking{}, fmt.Errorf("in %q: %w", code, err)
		}
	}
	return m, nil
}

// rkmExponent returns the power of ten of the letter at the start of rest,
// what follows the first digits of code.
func rkmExponent(code, rest string) (int, error) {
	if rest == "" {
		return 0, fmt.Errorf("%q has no letter for the decimal point: write a value such as 5K6 or 100R", code)
	}
	if rest[0] == 'm' {
		return 0, fmt.Errorf("the small m in %q may mean milli or mega: write M for mega, or L for milli", code)
	}
	for _, l := range rkmLetters {
		if strings.EqualFold(rest[:1], string(l.letter)) {
			return l.exponent, nil
		}
	}
	return 0, fmt.Errorf("%q has no letter for the decimal point after %q: use one of L R K M G T, as in 5K6", code, code[:len(code)-len(rest)])
}

// FormatRKM writes a resistance in the letter-and-digit code of IEC 60062,
// exact: 5K6, R33, 18K, 2M2, 100R, 1K0, R005. At least two figures are
// written (IEC 60062 gives 1K0 and R10; from memory). Zero is 0R.
func FormatRKM(ohms decimal.Decimal) string {
	if !withinReach(ohms) {
		return bare(ohms) + "R"
	}
	sign := ""
	if ohms.IsNegative() {
		sign = "-"
	}
	f := figuresOf(ohms)
	if f.digits == "" {
		return "0R"
	}
	shift := f.thousands(12)
	before, after := f.around(shift)
	if before == "0" {
		before = ""
	}
	if len(before)+len(after) < 2 {
		after += "0"
	}
	for _, l := range rkmLetters {
		if l.exponent == shift {
			return sign + before + string(l.letter) + after
		}
	}
	panic("no letter for a power of ten that is a multiple of three, 0 to 12")
}

// leadingDigits splits text after its leading ASCII digits.
func leadingDigits(text string) (digits, rest string) {
	end := strings.IndexFunc(text, func(r rune) bool { return r < '0' || r > '9' })
	if end < 0 {
		return text, ""
	}
	return text[:end], text[end:]
}
