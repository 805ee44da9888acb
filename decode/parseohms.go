package decode

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"github.com/shopspring/decimal"
)

// Bounds of ParseOhms.
const (
	mostText     = 64 // longest text read, in bytes
	mostFigures  = 30 // most significant digits
	mostExponent = 15 // largest power of ten in E notation, either side of zero
)

// The values that ParseOhms and ParseRKM take besides zero lie from 10^leastOrder up to, not
// including, 10^mostOrder ohms.
const (
	leastOrder = -12
	mostOrder  = 15
)

// ParseOhms reads a resistance from plain text: "5.6 kΩ", "5600", "0,33 Ohm",
// "2.2 MΩ", "47 mΩ", "5k6", "R33".
//
// The unit may be Ω (either Unicode character), ohm or ohms, or R where no prefix
// stands before it, or be left out. Prefixes are µ (or u), m, k (or K), M, G and T,
// or their names; only m and M differ by case alone, milli and mega. A point or a comma may be the
// decimal mark. Where both stand, or one stands several times, the ones
// before the last kind part groups of three digits, and so may spaces. A
// single comma before exactly three digits, "1,000", may mean either and is
// refused, unless a zero before it or spaces between groups decide: "0,330".
// A single point is always the decimal mark. "4.7E+3" is read, "4E7" is
// refused, for it may mean 4.7 Ω. A marking with a tolerance letter is
// refused; use ParseRKM.
//
// The text may have at most 64 bytes and the value at most 30 significant
// digits; it must be zero or from 1 pΩ to below 1000 TΩ.
func ParseOhms(text string) (decimal.Decimal, error) {
	if len(text) > mostText {
		return decimal.Decimal{}, fmt.Errorf("the value %q is too long: use at most %d characters", shorten(text), mostText)
	}
	plain := strings.TrimSpace(strings.Map(plainSpace, text))
	if plain == "" {
		return decimal.Decimal{}, fmt.Errorf("the value is empty: write one such as 5.6 kΩ or 5K6")
	}
	value, err := parseQuantity(plain)
	if err != nil {
		return decimal.Decimal{}, fmt.Errorf("the value %q cannot be read: %w", plain, err)
	}
	f := figuresOf(value)
	if len(f.digits) > mostFigures {
		return decimal.Decimal{}, fmt.Errorf("the value %q has too many figures: use at most %d", plain, mostFigures)
	}
	if !f.inRange() {
		return decimal.Decimal{}, fmt.Errorf("the value %q is out of range: use 0, or 1 pΩ to below 1000 TΩ", plain)
	}
	return value, nil
}

// plainSpace turns every kind of space into the common one.
func plainSpace(r rune) rune {
	if unicode.IsSpace(r) {
		return ' '
	}
	return r
}

var (
	// unitText is a unit at the end, with the space before it.
	unitText = regexp.MustCompile(` ?(?:(?i:ohms?)|\x{03a9}|\x{2126})$`)
	// rkmText is a number with a letter in place of the decimal point.
	rkmText = regexp.MustCompile(`^[0-9]*[A-Za-z][0-9]+[A-Za-z]*$|^[0-9]+[LlRr]$`)
	// exponentText is a number with a power of ten.
	exponentText = regexp.MustCompile(`^([0-9.,]+)[Ee]([+-]?)([0-9]+)$`)
	// numberText parts a number from what follows it.
	numberText = regexp.MustCompile(`^([-−+]?[0-9., ]*)(.*)$`)
)

// parseQuantity reads a number with or without a prefix and unit.
func parseQuantity(text string) (decimal.Decimal, error) {
	text = strings.TrimSpace(unitText.ReplaceAllString(text, ""))
	if part := exponentText.FindStringSubmatch(text); part != nil {
		return parseScientific(part[1], part[2], part[3])
	}
	if rkmText.MatchString(text) {
		m, err := ParseRKM(text)
		if err == nil && m.TolerancePercent.Valid {
			err = fmt.Errorf("it ends in a tolerance letter: give the value alone, such as %s", FormatRKM(m.Ohms))
		}
		return m.Ohms, err
	}
	part := numberText.FindStringSubmatch(text)
	if part == nil || strings.Trim(part[1], "-−+., ") == "" {
		return decimal.Decimal{}, fmt.Errorf("it does not start with a number: write a value such as 5.6 kΩ or 5K6")
	}
	exponent, err := prefixExponent(part[2])
	if err != nil {
		return decimal.Decimal{}, err
	}
	value, err := parseNumber(strings.TrimSpace(part[1]))
	return value.Shift(int32(exponent)), err
}

// prefixExponent returns the power of ten of a prefix, given as its symbol or
// its name.
func prefixExponent(text string) (int, error) {
	name := strings.TrimRight(text, "- ")
	switch name {
	case "R", "r":
		return 0, nil
	case "K":
		name = "k"
	case "u", "\u03bc": // Greek mu; the symbol is the micro sign U+00B5
		name = "µ"
	}
	word := strings.ToLower(name)
	switch word {
	case "kil": // kilohm
		word = "kilo"
	case "meg": // megohm, and short for mega
		word = "mega"
	}
	for _, p := range prefixes {
		if name == p.symbol || word == p.word {
			return p.exponent, nil
		}
	}
	return 0, fmt.Errorf("%q is no unit of resistance: use Ω with a prefix µ, m, k, M, G or T", shorten(text))
}

// parseScientific reads a number with a power of ten. Without a sign or a
// decimal mark an E may stand for the decimal point, as R does.
func parseScientific(number, sign, power string) (decimal.Decimal, error) {
	exponent, err := strconv.Atoi(sign + power)
	outOfRange := err != nil || exponent > mostExponent || exponent < -mostExponent
	if sign == "" && !strings.ContainsAny(number, ".,") && !outOfRange {
		return decimal.Decimal{}, fmt.Errorf("the E may be a decimal point or a power of ten: write %sR%s or %sE+%s", number, power, number, power)
	}
	if outOfRange {
		return decimal.Decimal{}, fmt.Errorf("its power of ten is out of range: use %d to %d", -mostExponent, mostExponent)
	}
	value, err := parseNumber(number)
	return value.Shift(int32(exponent)), err
}

// grouped is a whole number in groups of three digits, parted by one kind of
// mark.
var grouped = map[string]*regexp.Regexp{
	" ": regexp.MustCompile(`^[1-9][0-9]{0,2}( [0-9]{3})+$`),
	",": regexp.MustCompile(`^[1-9][0-9]{0,2}(,[0-9]{3})+$`),
	".": regexp.MustCompile(`^[1-9][0-9]{0,2}(\.[0-9]{3})+$`),
}

// ungroup takes the marks out of a whole number; a number without them stays
// as it is.
func ungroup(whole, mark string) (string, error) {
	if !strings.Contains(whole, mark) {
		return whole, nil
	}
	if !grouped[mark].MatchString(whole) {
		return "", fmt.Errorf("the digits of %q are not in groups of three: write it without %q between them", whole, mark)
	}
	return strings.ReplaceAll(whole, mark, ""), nil
}

// parseNumber reads a number of digits with at most one decimal mark.
func parseNumber(text string) (decimal.Decimal, error) {
	if strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−") {
		return decimal.Decimal{}, fmt.Errorf("a resistance is not negative: leave the sign out")
	}
	text = strings.TrimSpace(strings.TrimPrefix(text, "+"))
	commas, points := strings.Count(text, ","), strings.Count(text, ".")
	last := strings.LastIndexAny(text, ".,")
	whole, fraction, mark := text, "", ""
	switch {
	case commas > 1 && points == 0:
		mark = ","
	case points > 1 && commas == 0:
		mark = "."
	case last >= 0:
		whole, fraction = text[:last], text[last+1:]
		mark = "."
		if text[last] == '.' {
			mark = ","
		}
	}
	spaced := strings.Contains(whole, " ")
	if commas == 1 && points == 0 && !spaced && isThousand(whole, fraction) {
		return decimal.Decimal{}, fmt.Errorf("the comma may part thousands or be the decimal mark: write %s%s or %s.%s", whole, fraction, whole, fraction)
	}
	if spaced {
		mark = " "
	}
	if mark != "" {
		var err error
		if whole, err = ungroup(whole, mark); err != nil {
			return decimal.Decimal{}, err
		}
	}
	if digits := whole + fraction; digits == "" || strings.Trim(digits, "0123456789") != "" {
		return decimal.Decimal{}, fmt.Errorf("%q is no number: write digits with at most one decimal mark", text)
	}
	return decimal.NewFromString("0" + whole + "." + fraction + "0")
}

// isThousand reports whether digits before and after a comma could be a whole
// number in groups of three.
func isThousand(whole, fraction string) bool {
	return len(whole) >= 1 && len(whole) <= 3 && whole[0] != '0' && len(fraction) == 3
}
