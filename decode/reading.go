package decode

import "github.com/shopspring/decimal"

// A Reading is one meaning of a row of rings.
type Reading struct {
	// Rings are the colours in reading order.
	Rings []Colour
	// Ohms is the nominal resistance, exact. Zero for a link.
	Ohms decimal.Decimal
	// TolerancePercent is the tolerance either side of nominal in percent.
	// Null for a zero-ohm link, which has none.
	TolerancePercent decimal.NullDecimal
	// TempcoPPM is the temperature coefficient in ppm/K, nil if no ring
	// gives one.
	TempcoPPM *int
	// FailureRate is in percent per 1000 h, null if no ring gives one.
	FailureRate decimal.NullDecimal
	// Notes and Cautions are plain sentences for a person.
	Notes, Cautions []string
}
