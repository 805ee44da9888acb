package decode

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// hundred is the whole of a percentage.
var hundred = decimal.New(100, 0)

// IsLink reports whether the reading is a zero-ohm link.
func (r Reading) IsLink() bool { return r.Ohms.IsZero() }

// Low returns the least resistance, in ohms, that the tolerance allows, exact;
// nominal if there is no tolerance.
func (r Reading) Low() decimal.Decimal {
	return r.Ohms.Mul(hundred.Sub(r.TolerancePercent.Decimal)).Shift(-2)
}

// High returns the greatest resistance, in ohms, that the tolerance allows,
// exact; nominal if there is no tolerance.
func (r Reading) High() decimal.Decimal {
	return r.Ohms.Mul(hundred.Add(r.TolerancePercent.Decimal)).Shift(-2)
}

// RKM returns the value in the letter-and-digit code of IEC 60062, such as
// 5K6; 0R for a zero-ohm link.
func (r Reading) RKM() string { return FormatRKM(r.Ohms) }

// RKMWithToleranceLetter returns the value in the letter-and-digit code with
// the tolerance letter behind it, such as 5K6J. The letter is left out if
// there is no tolerance or no letter for it.
func (r Reading) RKMWithToleranceLetter() string {
	if !r.TolerancePercent.Valid {
		return r.RKM()
	}
	letter, _ := LetterOfTolerance(r.TolerancePercent.Decimal)
	return r.RKM() + letter
}

// Value returns the nominal resistance for a person to read, such as 5.6 kΩ.
func (r Reading) Value() string { return FormatOhms(r.Ohms) }

// Meaning returns what the reading says of its part, for a person to read, such
// as "5.6 kΩ ±5 %, 100 ppm/K".
func (r Reading) Meaning() string {
	if r.IsLink() {
		return "0 Ω link"
	}
	text := r.Value()
	if r.TolerancePercent.Valid {
		text += fmt.Sprintf(" ±%s %%", r.TolerancePercent.Decimal)
	}
	if r.TempcoPPM != nil {
		text += fmt.Sprintf(", %d ppm/K", *r.TempcoPPM)
	}
	if r.FailureRate.Valid {
		text += fmt.Sprintf(", %s %%/1000 h", r.FailureRate.Decimal)
	}
	return text
}
