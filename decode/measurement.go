package decode

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/shopspring/decimal"
)

// A Measurement is what a meter showed for one part.
type Measurement struct {
	// Ohms is the value shown, exact.
	Ohms decimal.Decimal
	// AccuracyPercent is the meter's error limit in percent of the value
	// shown, AccuracyOhms what comes on top in ohms: so many counts of the
	// last place, or the resistance of the test leads. As the meter's own
	// sheet states them.
	AccuracyPercent, AccuracyOhms decimal.Decimal
	// InCircuit says that the part was measured with both ends connected.
	InCircuit bool
}

// Limit is the most, in ohms, by which the meter may be wrong either way.
func (m Measurement) Limit() decimal.Decimal {
	return m.Ohms.Mul(m.AccuracyPercent).Shift(-2).Add(m.AccuracyOhms)
}

// A Meter is how far a meter may be wrong, as its own sheet states it.
type Meter struct {
	// Percent is in percent of the value shown.
	Percent decimal.Decimal
	// Counts is how many steps of the last digit shown come on top.
	Counts int64
	// Ohms also comes on top, such as the resistance of the test leads.
	Ohms decimal.Decimal
}

// UsualMeter is what to take of a hand-held meter of which nothing is known:
// 1 % and 3 counts, and 0.2 Ω for the leads. Common practice, no source.
var UsualMeter = Meter{Percent: decimal.New(1, 0), Counts: 3, Ohms: decimal.New(2, -1)}

// Shows reads what the meter shows, as a person types it: "5.58k", "560",
// "0.47 Ω". How many digits were typed tells what a count is, so trailing
// zeros matter: a count of "5.60k" is 10 Ω. Of zero, however written, there is no
// count. It takes what ParseOhms takes, and returns its errors.
func (m Meter) Shows(text string) (Measurement, error) {
	ohms, err := ParseOhms(text)
	if err != nil {
		return Measurement{}, fmt.Errorf("the meter's value: %w", err)
	}
	extra := m.Ohms.Add(lastPlace(text, ohms).Mul(decimal.New(m.Counts, 0)))
	return Measurement{Ohms: ohms, AccuracyPercent: m.Percent, AccuracyOhms: extra}, nil
}

var (
	// powerOfTen is the exponent of a number in E notation.
	powerOfTen = regexp.MustCompile(`[Ee][+-]?[0-9]+`)
	noDigits   = regexp.MustCompile(`[^0-9]`)
)

// lastPlace is what one step of the last digit typed is worth, in ohms: the
// value over its digits as a whole number.
func lastPlace(text string, ohms decimal.Decimal) decimal.Decimal {
	digits := noDigits.ReplaceAllString(powerOfTen.ReplaceAllString(strings.TrimSpace(text), ""), "")
	whole, err := decimal.NewFromString("0" + digits)
	if err != nil || whole.IsZero() {
		return decimal.Zero // the value is zero: the leads alone
	}
	return ohms.DivRound(whole, 30)
}
