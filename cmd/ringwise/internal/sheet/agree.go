package sheet

import "github.com/shopspring/decimal"

// Agrees reports whether a given number is the wanted one: exactly, or, where
// so many figures are enough, rounded to that many or more.
func Agrees(given, want decimal.Decimal, figures int) bool {
	return given.Sub(want).Abs().LessThanOrEqual(halfUnit(want, figures))
}

// halfUnit is half a unit in the last of so many figures of a number; zero
// where the exact number is asked for.
func halfUnit(number decimal.Decimal, figures int) decimal.Decimal {
	if figures == 0 || number.IsZero() {
		return decimal.Zero
	}
	return decimal.New(5, order(number)-int32(figures))
}

// order is the power of ten of the first figure of a number other than zero.
func order(number decimal.Decimal) int32 {
	return int32(number.NumDigits()) - 1 + number.Exponent()
}

// enoughFigures is how many figures of a bound tell it from the nominal value
// that lies so far from it: at least three.
func enoughFigures(bound, distance decimal.Decimal) int {
	figures := 3
	for halfUnit(bound, figures).Mul(decimal.New(2, 0)).GreaterThan(distance) {
		figures++
	}
	return figures
}

// rounded gives a number to so many figures.
func rounded(number decimal.Decimal, figures int) decimal.Decimal {
	if number.IsZero() {
		return number
	}
	return number.Round(int32(figures) - 1 - order(number))
}
