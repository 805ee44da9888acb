package sheet

import "github.com/shopspring/decimal"

// divided is a quotient to far more figures than any box asks for.
func divided(a, b decimal.Decimal) decimal.Decimal {
	return rounded(a.DivRound(b, 40), 15)
}

// inSeries and inParallel are the resistance of two parts together.
func inSeries(a, b decimal.Decimal) decimal.Decimal   { return a.Add(b) }
func inParallel(a, b decimal.Decimal) decimal.Decimal { return divided(a.Mul(b), a.Add(b)) }

// tapped is the voltage over the lower of two parts in series, nothing else
// being connected to their joint.
func tapped(supply, upper, lower decimal.Decimal) decimal.Decimal {
	return divided(supply.Mul(lower), upper.Add(lower))
}

// heat is the power, in watts, that a resistance turns into heat.
func heat(volts, ohms decimal.Decimal) decimal.Decimal {
	return divided(volts.Mul(volts), ohms)
}
