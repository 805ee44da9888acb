package network

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// A Value is a resistance in ohms, exact, with its tolerance in percent either
// side, null where there is none. In JSON it is an object that also holds its
// other forms: text, marking, rings and words. Read from JSON it may be such
// an object, of which only ohms and tolerance_percent count, a number, or text
// that ParseValue reads.
type Value struct {
	Ohms             decimal.Decimal
	TolerancePercent decimal.NullDecimal
}

// Exact returns a value without a tolerance.
func Exact(ohms decimal.Decimal) Value { return Value{Ohms: ohms} }

// figures is how many significant figures are kept of a value that is worked
// out, such as that of two parts in parallel.
const figures = 6

// About returns a value that was worked out, without a tolerance, rounded to
// six significant figures. What is no finite number above zero gives zero.
func About(ohms float64) Value {
	if !(ohms > 0) || math.IsInf(ohms, 0) {
		return Value{}
	}
	places := figures - 1 - int32(math.Floor(math.Log10(ohms)))
	return Value{Ohms: decimal.NewFromFloat(ohms).Round(places)}
}

// ParseValue reads a value in any form that the decode package reads: as
// decode.ParseOhms does, as a marking of IEC 60062 such as "5K6J", or as the row
// of rings in reading order, by names or letters, such as "GN BU RD GD". A
// tolerance may follow the first, as in "5.6 kΩ ±5 %", "5.6k +/-5%" or "5.6k 5%". Of
// several meanings of a row the most usual counts; a row is refused where that is one
// with a failure rate.
func ParseValue(text string) (Value, error) {
	if marking, err := decode.ParseRKM(text); err == nil {
		return Value{marking.Ohms, marking.TolerancePercent}, nil
	}
	if row, err := decode.ParseRow(text); err == nil {
		return valueOfRow(row)
	}
	number, tolerance, found := strings.Cut(plusMinus.ReplaceAllString(text, "±"), "±")
	if part := percentBehind.FindStringSubmatch(text); part != nil && !found {
		number, tolerance, found = part[1], part[2], true
	}
	ohms, err := decode.ParseOhms(number)
	if err != nil {
		return Value{}, err
	}
	v := Exact(ohms)
	if found {
		percent, err := ParseTolerance(tolerance)
		if err != nil {
			return Value{}, err
		}
		v.TolerancePercent = decimal.NewNullDecimal(percent)
	}
	return v, nil
}

var (
	// plusMinus is the sign before a tolerance as most keyboards have it.
	plusMinus = regexp.MustCompile(`\+ ?/? ?[-−]`)
	// percentBehind parts a value from a tolerance without a sign behind a space.
	percentBehind = regexp.MustCompile(`^(.*[^ ,]),?[ \x{a0}]+([0-9][0-9.,]*[ \x{a0}]?%)[ \x{a0}]*$`)
)

// valueOfRow is the most usual meaning of a row of rings. It refuses a row of
// which that is a value with a failure rate: such parts are rare, and the
// standard's own meaning is as legal.
func valueOfRow(row []decode.Colour) (Value, error) {
	readings, err := decode.Readings(row)
	if err != nil {
		return Value{}, err
	}
	usual := Value{readings[0].Ohms, readings[0].TolerancePercent}
	if other := readings[len(readings)-1]; readings[0].FailureRate.Valid && len(readings) > 1 {
		return Value{}, fmt.Errorf("the rings %s may mean %s or %s: write the value", decode.RowLetters(row), usual, Value{other.Ohms, other.TolerancePercent})
	}
	return usual, nil
}

// ParseTolerance reads a tolerance in percent, above 0 and up to 100, with or
// without the signs for it, or as a letter of IEC 60062: "5", "±5 %", "J".
func ParseTolerance(text string) (decimal.Decimal, error) {
	plain := strings.TrimSpace(text)
	if percent, err := decode.ToleranceOfLetter(plain); err == nil {
		return percent, nil
	}
	plain = strings.TrimPrefix(plusMinus.ReplaceAllString(plain, "±"), "±")
	plain = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(plain), "%"))
	if len(plain) > 12 {
		return decimal.Decimal{}, fmt.Errorf("the tolerance %.12q… is too long: write one such as 5 %% or J", plain)
	}
	percent, err := decimal.NewFromString(strings.Replace(plain, ",", ".", 1))
	if err != nil || !percent.IsPositive() || percent.GreaterThan(hundred) || percent.Exponent() < -9 {
		return decimal.Decimal{}, fmt.Errorf("%q is no tolerance: write percent above 0 and up to 100, such as 5 %%, or its letter, such as J", strings.TrimSpace(text))
	}
	return percent, nil
}

// hundred is the whole of a percentage.
var hundred = decimal.New(100, 0)

// Reading returns the value as a reading without rings.
func (v Value) Reading() decode.Reading {
	return decode.Reading{Ohms: v.Ohms, TolerancePercent: v.TolerancePercent}
}

// Low and High are the bounds of the tolerance, exact.
func (v Value) Low() Value  { return Exact(v.Reading().Low()) }
func (v Value) High() Value { return Exact(v.Reading().High()) }

// Rounded returns the value rounded to so many significant figures, for showing
// what was worked out.
func (v Value) Rounded(figures int32) Value {
	r := v
	if f := v.Ohms.Abs().InexactFloat64(); isAmount(f) {
		r.Ohms = v.Ohms.Round(figures - 1 - int32(math.Floor(math.Log10(f))))
	}
	return r
}

// String returns the value for a person to read, such as "5.6 kΩ ±5 %".
func (v Value) String() string {
	text := decode.FormatOhms(v.Ohms)
	if v.TolerancePercent.Valid && !v.Ohms.IsZero() {
		text += fmt.Sprintf(" ±%s %%", v.TolerancePercent.Decimal)
	}
	return text
}

// RKM returns the value in the letter-and-digit code of IEC 60062, with the
// letter of its tolerance if there is one.
func (v Value) RKM() string { return v.Reading().RKMWithToleranceLetter() }

// Rings returns the usual row of rings that writes the value (IEC 60062), nil
// if none does. Without a tolerance that is the row without a tolerance ring,
// which holds two digits: of three digits and a multiplier the last ring would be
// read as a tolerance.
func (v Value) Rings() []decode.Colour {
	rows, err := decode.Rings(v.Ohms, withTolerance(v).TolerancePercent.Decimal, decode.RingOptions{})
	if err != nil {
		return nil
	}
	return rows[0]
}

// Spoken returns the value in words for a screen reader.
func (v Value) Spoken() string { return v.Reading().Spoken() }

// ohms is the nominal value for working with.
func (v Value) ohms() float64 { return v.Ohms.InexactFloat64() }

// bounds are the bounds of the tolerance for working with.
func (v Value) bounds() (low, high float64) {
	r := v.Reading()
	return r.Low().InexactFloat64(), r.High().InexactFloat64()
}

// MarshalJSON writes the value with all its forms.
func (v Value) MarshalJSON() ([]byte, error) {
	out := struct {
		Ohms             json.Number  `json:"ohms"`
		TolerancePercent *json.Number `json:"tolerance_percent"`
		Forms
	}{Ohms: json.Number(v.Ohms.String()), Forms: v.Forms()}
	if v.TolerancePercent.Valid {
		n := json.Number(v.TolerancePercent.Decimal.String())
		out.TolerancePercent = &n
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads an object, a number or text.
func (v *Value) UnmarshalJSON(data []byte) error {
	var text string
	if json.Unmarshal(data, &text) == nil {
		read, err := ParseValue(text)
		*v = read
		return err
	}
	var number json.Number
	if json.Unmarshal(data, &number) == nil {
		read, err := ParseValue(signed(number))
		*v = read
		return err
	}
	var object struct {
		Ohms             json.Number  `json:"ohms"`
		TolerancePercent *json.Number `json:"tolerance_percent"`
	}
	if err := json.Unmarshal(data, &object); err != nil {
		return fmt.Errorf("a value is a number of ohms, text such as \"5K6\", or an object with ohms: %w", err)
	}
	read, err := ParseValue(signed(object.Ohms))
	if err == nil && object.TolerancePercent != nil {
		read.TolerancePercent.Valid = true
		read.TolerancePercent.Decimal, err = ParseTolerance(object.TolerancePercent.String())
	}
	*v = read
	return err
}

// signed is a number with a sign before its power of ten, without which a person may
// have meant an exponent or a decimal point by the letter.
func signed(number json.Number) string {
	digits, power, has := strings.Cut(strings.ToUpper(number.String()), "E")
	if !has || strings.HasPrefix(power, "-") || strings.HasPrefix(power, "+") || strings.HasPrefix(digits, "-") {
		return number.String()
	}
	return digits + "E+" + power
}
