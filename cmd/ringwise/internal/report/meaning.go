package report

import (
	"fmt"

	"ringwise/decode"
)

// Meaning writes what a reading says of its part, such as
// "5.6 kΩ ±5 %, 100 ppm/K".
func Meaning(r decode.Reading) string {
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
