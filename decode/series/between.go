package series

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// mostBetween is the most numbers that Between returns: E192 over fifteen
// decades and more.
const mostBetween = 4000

// Between returns the numbers of a series, in all decades, from low to high,
// both included, rising. It returns an error if low is not above zero, high
// lies below low, e is no series, or there would be more than 4000.
func Between(e E, low, high decimal.Decimal) ([]decimal.Decimal, error) {
	if high.LessThan(low) {
		return nil, fmt.Errorf("the range of values ends below its start: give the lower value first")
	}
	_, first, err := Neighbours(e, low)
	if err != nil {
		return nil, err
	}
	significand, _, exponent, err := leading(first)
	if err != nil {
		return nil, err
	}
	list := members[e]
	at := 0
	for list[at] < significand {
		at++
	}
	var values []decimal.Decimal
	for {
		value := decimal.New(int64(list[at]), exponent)
		if value.GreaterThan(high) {
			return values, nil
		}
		if len(values) == mostBetween {
			return nil, fmt.Errorf("there are more than %d numbers of %s in that range: give a narrower one", mostBetween, e)
		}
		values = append(values, value)
		if at++; at == len(list) {
			at = 0
			exponent++
		}
	}
}
