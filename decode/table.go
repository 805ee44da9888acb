package decode

import "github.com/shopspring/decimal"

// A ringCode is what one colour may stand for in the ring code.
type ringCode struct {
	digit           int    // 0 to 9, or noDigit
	exponent        int    // multiplier as a power of ten
	tolerance       string // percent either side, or ""
	toleranceLetter byte   // or 0
	tempco          int    // ppm/K, or 0
	tempcoLetter    byte   // or 0
	failureRate     string // percent per 1000 h, or ""
}

// noDigit marks a colour that is no digit.
const noDigit = -1

// ringTable is the ring code of IEC 60062:2016: significant digits,
// multipliers and tolerances with their letters, and temperature coefficients
// with theirs. From memory of the published table. The last column is the
// failure rate of established-reliability parts (MIL practice, MIL-R-39008
// and MIL-R-39017; from memory).
var ringTable = [ColourCount]ringCode{
	Black:  {0, 0, "", 0, 250, 'U', ""},
	Brown:  {1, 1, "1", 'F', 100, 'S', "1"},
	Red:    {2, 2, "2", 'G', 50, 'R', "0.1"},
	Orange: {3, 3, "0.05", 'W', 15, 'P', "0.01"},
	Yellow: {4, 4, "0.02", 'P', 25, 'Q', "0.001"},
	Green:  {5, 5, "0.5", 'D', 20, 'Z', ""},
	Blue:   {6, 6, "0.25", 'C', 10, 'Z', ""},
	Violet: {7, 7, "0.1", 'B', 5, 'M', ""},
	Grey:   {8, 8, "0.01", 'L', 1, 'K', ""},
	White:  {9, 9, "", 0, 0, 0, ""},
	Gold:   {noDigit, -1, "5", 'J', 0, 0, ""},
	Silver: {noDigit, -2, "10", 'K', 0, 0, ""},
	Pink:   {noDigit, -3, "", 0, 0, 0, ""},
}

// ringTolerances and ringFailureRates are the table's percentages as numbers.
var ringTolerances, ringFailureRates = percentages()

func percentages() (tolerances, rates [ColourCount]decimal.Decimal) {
	for c, code := range ringTable {
		if code.tolerance != "" {
			tolerances[c] = decimal.RequireFromString(code.tolerance)
		}
		if code.failureRate != "" {
			rates[c] = decimal.RequireFromString(code.failureRate)
		}
	}
	return tolerances, rates
}

// noRingTolerance is the tolerance, in percent, of a part without a tolerance
// ring, and its letter (IEC 60062).
var noRingTolerance = decimal.New(20, 0)

const noRingLetter = 'M'

// Digit returns the digit, 0 to 9, that the colour stands for; false for
// gold, silver and pink, which are no digits. IEC 60062.
func (c Colour) Digit() (int, bool) {
	if c >= ColourCount || ringTable[c].digit == noDigit {
		return 0, false
	}
	return ringTable[c].digit, true
}

// Multiplier returns the power of ten, -3 to 9, by which the colour
// multiplies the digits. Every ring colour is a multiplier. IEC 60062.
func (c Colour) Multiplier() (exponent int, ok bool) {
	if c >= ColourCount {
		return 0, false
	}
	return ringTable[c].exponent, true
}

// Tolerance returns the tolerance in percent either side of nominal that the
// colour stands for; false for black, white and pink. IEC 60062:2016; other
// meanings, older or for high voltage, come with Readings only.
func (c Colour) Tolerance() (percent decimal.Decimal, ok bool) {
	if c >= ColourCount || ringTable[c].tolerance == "" {
		return decimal.Decimal{}, false
	}
	return ringTolerances[c], true
}

// Tempco returns the temperature coefficient of resistance in ppm/K that the
// colour stands for, as a limit either side of zero; false for white, gold,
// silver and pink. IEC 60062.
func (c Colour) Tempco() (ppm int, ok bool) {
	if c >= ColourCount || ringTable[c].tempco == 0 {
		return 0, false
	}
	return ringTable[c].tempco, true
}

// FailureRate returns the failure rate in percent per 1000 h that the colour
// stands for on established-reliability parts; false for all but brown, red,
// orange and yellow. MIL practice, from memory.
func (c Colour) FailureRate() (percent decimal.Decimal, ok bool) {
	if c >= ColourCount || ringTable[c].failureRate == "" {
		return decimal.Decimal{}, false
	}
	return ringFailureRates[c], true
}
