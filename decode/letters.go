package decode

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"
)

// letterOnlyTolerances are the tolerance letters of IEC 60062 for which there
// is no ring colour, in percent either side. From memory of the published
// table. M is the letter of a part without a tolerance ring.
var letterOnlyTolerances = []struct {
	letter  byte
	percent decimal.Decimal
}{
	{'E', decimal.New(5, -3)},
	{'H', decimal.New(3, 0)},
	{noRingLetter, noRingTolerance},
	{'N', decimal.New(30, 0)},
}

// ToleranceOfLetter returns the symmetric tolerance, in percent either side,
// that a letter of IEC 60062 stands for, in either case. It returns an error
// for other letters, also for those that give capacitors an uneven tolerance.
func ToleranceOfLetter(letter string) (decimal.Decimal, error) {
	if b, ok := capital(letter); ok {
		for c, code := range ringTable {
			if code.toleranceLetter == b {
				return ringTolerances[c], nil
			}
		}
		for _, t := range letterOnlyTolerances {
			if t.letter == b {
				return t.percent, nil
			}
		}
	}
	return decimal.Decimal{}, fmt.Errorf("%q is no tolerance letter of resistors: use one of E L P W B C D F G H J K M N", shorten(letter))
}

// LetterOfTolerance returns the letter of IEC 60062 for a tolerance in
// percent either side; false if it has none.
func LetterOfTolerance(percent decimal.Decimal) (string, bool) {
	if !withinReach(percent) {
		return "", false
	}
	for c, code := range ringTable {
		if code.toleranceLetter != 0 && ringTolerances[c].Equal(percent) {
			return string(code.toleranceLetter), true
		}
	}
	for _, t := range letterOnlyTolerances {
		if t.percent.Equal(percent) {
			return string(t.letter), true
		}
	}
	return "", false
}

// capital returns a single ASCII letter as a capital; false for other text.
func capital(text string) (byte, bool) {
	if len(text) != 1 {
		return 0, false
	}
	b := text[0] &^ ('a' - 'A')
	return b, b >= 'A' && b <= 'Z'
}

// TempcosOfLetter returns the temperature coefficients, in ppm/K either side
// of zero and falling, that a letter of IEC 60062 stands for, in either case.
// Z answers with two, 20 and 10; every other letter with one. It returns an
// error for other letters.
func TempcosOfLetter(letter string) ([]int, error) {
	var list []int
	if b, ok := capital(letter); ok {
		for _, code := range ringTable {
			if code.tempcoLetter == b {
				list = append(list, code.tempco)
			}
		}
	}
	if list == nil {
		return nil, fmt.Errorf("%q is no letter of a temperature coefficient: use one of U S R P Q Z M K", shorten(letter))
	}
	slices.SortFunc(list, func(a, b int) int { return b - a })
	return list, nil
}

// LetterOfTempco returns the letter of IEC 60062 for a temperature
// coefficient in ppm/K; false if it has none.
func LetterOfTempco(ppm int) (string, bool) {
	for _, code := range ringTable {
		if code.tempcoLetter != 0 && code.tempco == ppm {
			return string(code.tempcoLetter), true
		}
	}
	return "", false
}
