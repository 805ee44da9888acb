package series

import "github.com/shopspring/decimal"

// A Choice is what one series offers for a value.
type Choice struct {
	Series E
	// Nearest has the smallest difference from the value; Below and Above are
	// its neighbours on either side, all three the value itself if the series
	// contains it.
	Nearest, Below, Above decimal.Decimal
	// ErrorPercent is how far Nearest lies from the value, in percent of the
	// value, positive above it, to nine decimal places.
	ErrorPercent decimal.Decimal
}

// Choices returns what each series offers for a value, E3 to E192. It returns
// an error if the value is not above zero.
func Choices(value decimal.Decimal) ([]Choice, error) {
	var choices []Choice
	for _, e := range All {
		below, above, err := Neighbours(e, value)
		if err != nil {
			return nil, err
		}
		nearest, err := Nearest(e, value)
		if err != nil {
			return nil, err
		}
		choices = append(choices, Choice{e, nearest, below, above,
			nearest.Sub(value).Shift(2).DivRound(value, 9)})
	}
	return choices, nil
}
