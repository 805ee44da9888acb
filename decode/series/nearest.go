package series

import (
	"fmt"
	"math"
	"math/big"
	"sort"

	"github.com/shopspring/decimal"
)

// Contains reports whether a value, in any decade, is exactly one of the
// series' numbers. Zero and negative values are in no series.
func Contains(e E, value decimal.Decimal) bool {
	below, above, err := Neighbours(e, value)
	return err == nil && same(below, above)
}

// Neighbours returns the largest number of the series, in any decade, that is
// at most the value, and the smallest that is at least the value. Both are
// the value itself if the series contains it. It returns an error if the
// value is not above zero, or e is no series.
func Neighbours(e E, value decimal.Decimal) (below, above decimal.Decimal, err error) {
	list := members[e]
	if list == nil {
		return below, above, fmt.Errorf("%s is no series of preferred numbers: use one of E3 to E192", e)
	}
	if value.Sign() <= 0 {
		return below, above, fmt.Errorf("no preferred number lies near a value that is not above zero")
	}
	significand, exact, exponent, err := leading(value)
	if err != nil {
		return below, above, err
	}
	// at is the first number of the decade that is at least the value.
	at := sort.Search(len(list), func(i int) bool {
		return list[i] > significand || list[i] == significand && exact
	})
	if at < len(list) && list[at] == significand && exact {
		found := decimal.New(int64(significand), exponent)
		return found, found, nil
	}
	// The first number of every decade is 100, so something lies below.
	below = decimal.New(int64(list[at-1]), exponent)
	if at == len(list) {
		return below, decimal.New(int64(list[0]), exponent+1), nil
	}
	return below, decimal.New(int64(list[at]), exponent), nil
}

// Nearest returns the number of the series, in any decade, with the smallest
// difference from the value. Halfway between two it returns the upper, which
// is the nearer in ratio. It returns an error if the value is not above zero,
// or e is no series.
func Nearest(e E, value decimal.Decimal) (decimal.Decimal, error) {
	below, above, err := Neighbours(e, value)
	if err != nil {
		return decimal.Decimal{}, err
	}
	if value.Sub(below).LessThan(above.Sub(value)) {
		return below, nil
	}
	return above, nil
}

// leading splits a positive value into its first three digits, 100 to 999,
// and the exponent of ten that goes with them. exact is false if other digits
// than zero follow. It never expands the exponent, so that an absurd one
// costs nothing.
func leading(value decimal.Decimal) (significand int, exact bool, exponent int32, err error) {
	coefficient := value.Coefficient()
	digits := value.NumDigits()
	shift := digits - 3
	e := int64(value.Exponent()) + int64(shift)
	if digits > 1000 || e > math.MaxInt32-1 || e < math.MinInt32+1 {
		return 0, false, 0, fmt.Errorf("a value with %d digits and the exponent %d is beyond reach", digits, value.Exponent())
	}
	if shift < 0 {
		return int(coefficient.Int64()) * []int{1, 10, 100}[-shift], true, int32(e), nil
	}
	rest := new(big.Int)
	coefficient.QuoRem(coefficient, new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(shift)), nil), rest)
	return int(coefficient.Int64()), rest.Sign() == 0, int32(e), nil
}

// same compares two numbers made by this package, which have the same
// exponent whenever they are equal.
func same(a, b decimal.Decimal) bool {
	return a.Exponent() == b.Exponent() && a.CoefficientInt64() == b.CoefficientInt64()
}
