// Package series holds the preferred numbers of IEC 60063, E3 to E192: which
// values they contain and which lie nearest to a given one.
package series

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"
)

// E is a series of preferred numbers, named by its count of values in a
// decade.
type E int

// The series of IEC 60063, coarse to fine. E3 to E24 are numbers of two
// digits, each series containing the one before; E48 to E192 are numbers of
// three digits, again nested, but not containing E24: 240 is in E24 and E192
// and not in E48 or E96.
const (
	E3   E = 3
	E6   E = 6
	E12  E = 12
	E24  E = 24
	E48  E = 48
	E96  E = 96
	E192 E = 192
)

// All lists the series from coarse to fine.
var All = [...]E{E3, E6, E12, E24, E48, E96, E192}

// String returns the name of the series, such as "E24".
func (e E) String() string { return fmt.Sprintf("E%d", int(e)) }

// Parse reads the name of a series, such as "E24" or "e24".
func Parse(name string) (E, error) {
	for _, e := range All {
		if n := e.String(); name == n || name == "e"+n[1:] {
			return e, nil
		}
	}
	return 0, fmt.Errorf("%q is no series of preferred numbers: use one of E3, E6, E12, E24, E48, E96, E192", name)
}

// Digits returns the number of significant digits in the series: 2 for E3 to
// E24, 3 for E48 to E192, 0 for what is no series.
func (e E) Digits() int {
	switch e {
	case E3, E6, E12, E24:
		return 2
	case E48, E96, E192:
		return 3
	}
	return 0
}

// TolerancePercent returns the tolerance, in percent either side, that goes
// with the series: E6 20, E12 10, E24 5, E48 2, E96 1, E192 0.5 (IEC 60063).
// E3 goes with tolerances above 20 and answers 40, the figure in common use
// (no source). Zero for what is no series.
func (e E) TolerancePercent() decimal.Decimal {
	switch e {
	case E3:
		return decimal.New(40, 0)
	case E6:
		return decimal.New(20, 0)
	case E12:
		return decimal.New(10, 0)
	case E24:
		return decimal.New(5, 0)
	case E48:
		return decimal.New(2, 0)
	case E96:
		return decimal.New(1, 0)
	case E192:
		return decimal.New(5, -1)
	}
	return decimal.Zero
}

// e24 is the E24 series as IEC 60063 gives it, times ten; from memory of the
// published table. 27, 30, 33, 36, 39, 43, 47 and 82 are older than the
// standard and differ from the rounded powers of ten.
var e24 = [24]int{
	10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30,
	33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91,
}

// members holds, for each series, its numbers as three digits, 100 to 999,
// rising.
var members = map[E][]int{
	E3: tens(8), E6: tens(4), E12: tens(2), E24: tens(1),
	E48: powers(48), E96: powers(96), E192: powers(192),
}

// lowest holds the coarsest series that contains each number of three
// digits, zero where none does.
var lowest = coarsest()

// tens takes every nth number of E24, as three digits.
func tens(step int) []int {
	var list []int
	for i := 0; i < len(e24); i += step {
		list = append(list, e24[i]*10)
	}
	return list
}

// powers returns the rounded powers of ten that make up a series of three
// digits. The one exception of IEC 60063, 9.20 in place of 9.19 in E192, is
// put right.
func powers(count int) []int {
	list := make([]int, count)
	for i := range list {
		list[i] = int(math.Round(100 * math.Pow(10, float64(i)/float64(count))))
		if list[i] == 919 {
			list[i] = 920
		}
	}
	return list
}

func coarsest() (table [1000]E) {
	for i := len(All) - 1; i >= 0; i-- {
		for _, n := range members[All[i]] {
			table[n] = All[i]
		}
	}
	return table
}

// Lowest returns the coarsest series that contains a number of three digits,
// 100 to 999: 470 is in E3, 475 in E48. It answers false for a number in no
// series or out of range. It allocates nothing.
func Lowest(significand int) (E, bool) {
	if significand < 100 || significand > 999 {
		return 0, false
	}
	e := lowest[significand]
	return e, e != 0
}

// Significands returns the numbers of a series as three digits, 100 to 999,
// rising; nil for what is no series. The caller may keep and change the
// slice.
func Significands(e E) []int {
	return append([]int(nil), members[e]...)
}

// Values returns the numbers of a series in the decade from 1 up to, not
// including, 10; nil for what is no series.
func Values(e E) []decimal.Decimal {
	var list []decimal.Decimal
	for _, n := range members[e] {
		list = append(list, decimal.New(int64(n), -2))
	}
	return list
}
