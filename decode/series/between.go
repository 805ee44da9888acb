package series

import (
	"errors"
	"fmt"

	"github.com/shopspring/decimal"
)

// mostBetween is the most numbers that Between returns: E192 over fifteen
// decades and more.
const mostBetween = 4000

// Between returns the numbers of a series, in all decades, from low to high,
// both included, rising. It returns an error if low is not above zero, high
// lies below low, e is no series, or there would be more than 4000. An absurd
// exponent costs nothing.
func Between(e E, low, high decimal.Decimal) ([]decimal.Decimal, error) {
	_, first, err := Neighbours(e, low)
	if err != nil {
		return nil, err
	}
	if high.Sign() <= 0 {
		return nil, errBackwards
	}
	_, _, lowest, err := leading(low)
	if err != nil {
		return nil, err
	}
	_, _, highest, err := leading(high)
	if err != nil {
		return nil, err
	}
	list := members[e]
	// Numbers that lie many decades apart are not compared, which would write
	// out all their digits.
	switch decades := int64(highest) - int64(lowest); {
	case decades < 0:
		return nil, errBackwards
	case decades > int64(mostBetween/len(list))+1:
		return nil, errTooMany(e)
	case high.LessThan(low):
		return nil, errBackwards
	}
	significand, _, exponent, err := leading(first)
	if err != nil {
		return nil, err
	}
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
			return nil, errTooMany(e)
		}
		values = append(values, value)
		if at++; at == len(list) {
			at = 0
			exponent++
		}
	}
}

// errBackwards tells of a range whose end lies below its start.
var errBackwards = errors.New("the range of values ends below its start: give the lower value first")

// errTooMany tells of a range that holds too many numbers of a series.
func errTooMany(e E) error {
	return fmt.Errorf("there are more than %d numbers of %s in that range: give a narrower one", mostBetween, e)
}
