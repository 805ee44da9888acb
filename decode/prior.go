package decode

import (
	"math"

	"ringwise/decode/series"
)

// How common parts are, as rough shares of what turns up on a bench. Common
// practice, no source: judged from what catalogues and scrap boxes hold.
var (
	shareOfRings = [8]float64{1: 0.01, 3: 0.04, 4: 0.47, 5: 0.41, 6: 0.07}

	shareOfMultiplier = [ColourCount]float64{
		Black: 0.14, Brown: 0.17, Red: 0.2, Orange: 0.18, Yellow: 0.14,
		Green: 0.06, Blue: 0.02, Violet: 0.002, Grey: 0.0005, White: 0.0005,
		Gold: 0.05, Silver: 0.03, Pink: 0.001,
	}
	shareOfTolerance4 = [ColourCount]float64{
		Gold: 0.77, Silver: 0.13, Brown: 0.04, Red: 0.04, Green: 0.004,
		Blue: 0.002, Violet: 0.002, Orange: 0.001, Yellow: 0.002, Grey: 0.002,
	}
	shareOfTolerance5 = [ColourCount]float64{
		Brown: 0.72, Red: 0.11, Gold: 0.03, Silver: 0.01, Green: 0.05,
		Blue: 0.03, Violet: 0.03, Grey: 0.004, Orange: 0.003, Yellow: 0.003,
	}
	shareOfTempco = [ColourCount]float64{
		Black: 0.02, Brown: 0.34, Red: 0.34, Orange: 0.11, Yellow: 0.11,
		Green: 0.02, Blue: 0.03, Violet: 0.02, Grey: 0.01,
	}
)

// shareOdd is the share of parts whose digits are no preferred number.
const shareOdd = 0.03

// seriesOf gives the series from which parts of a tolerance are taken, with
// the share taken from each.
func seriesOf(tolerance Colour) map[series.E]float64 {
	switch tolerance {
	case Gold:
		return map[series.E]float64{series.E12: 0.5, series.E24: 0.5}
	case Silver:
		return map[series.E]float64{series.E6: 0.2, series.E12: 0.75, series.E24: 0.05}
	case Brown, Red:
		return map[series.E]float64{series.E12: 0.15, series.E24: 0.3, series.E48: 0.1, series.E96: 0.45}
	}
	return map[series.E]float64{series.E24: 0.2, series.E96: 0.5, series.E192: 0.3}
}

// logDigits2 and logDigits3 hold, for each tolerance colour, the logarithm of
// the share of each two- and three-digit number. Pink, which is no tolerance,
// stands for three-ring parts.
var logDigits2, logDigits3 = digitShares()

func digitShares() (two [ColourCount][100]float64, three [ColourCount][1000]float64) {
	for c := range Colour(ColourCount) {
		from := seriesOf(c)
		if c == Pink {
			from = map[series.E]float64{series.E6: 0.7, series.E12: 0.3}
		}
		var share [1000]float64
		for n := 100; n < 1000; n++ {
			share[n] = shareOdd / 900
		}
		var share2 [100]float64
		for n := 10; n < 100; n++ {
			share2[n] = shareOdd / 90
		}
		for e, part := range from {
			all := series.Significands(e)
			for _, n := range all {
				for n < 100 {
					n *= 10
				}
				share[n] += (1 - shareOdd) * part / float64(len(all))
				if n%10 == 0 {
					share2[n/10] += (1 - shareOdd) * part / float64(len(all))
				}
			}
		}
		for n := range share {
			three[c][n] = math.Log(share[n])
		}
		for n := range share2 {
			two[c][n] = math.Log(share2[n])
		}
	}
	return two, three
}

// shareReliable is the share of five-ring parts that are four rings and one of
// the four failure rates.
const shareReliable = 0.005 / 4

// digitsOf is how many of the first rings are digits, by the count of rings.
var digitsOf = [7]int{3: 2, 4: 2, 5: 3, 6: 3}

// logRole is, by count of rings, place and colour, what the ring's role adds to
// the prior: the share of the multiplier, tolerance or coefficient. Where a ring
// may have either of two roles it is the larger. It is minus infinity where the
// colour can't stand.
var logRole = roles()

func roles() (out [7][6][ColourCount]float64) {
	logs := func(shares [ColourCount]float64) (l [ColourCount]float64) {
		for c, s := range shares {
			l[c] = math.Log(s)
		}
		return l
	}
	var digit, first [ColourCount]float64
	for c := range Colour(ColourCount) {
		if c > White {
			digit[c] = math.Inf(-1)
		}
	}
	first = digit
	first[Black] = math.Inf(-1)
	for _, n := range [...]int{3, 4, 5, 6} {
		d := digitsOf[n]
		out[n][0] = first
		for i := 1; i < d; i++ {
			out[n][i] = digit
		}
		out[n][d] = logs(shareOfMultiplier)
	}
	out[4][3] = logs(shareOfTolerance4)
	out[5][4] = logs(shareOfTolerance5)
	out[6][4] = logs(shareOfTolerance5)
	out[6][5] = logs(shareOfTempco)
	// A five-ring part may be four rings and a failure rate: the multiplier
	// then stands third and the tolerance fourth. No failure rate is likelier
	// than another.
	for c := range Colour(ColourCount) {
		out[5][2][c] = max(out[5][2][c], math.Log(shareOfMultiplier[c])+math.Log(shareReliable))
		out[5][3][c] = max(out[5][3][c], math.Log(shareOfTolerance4[c]))
		if failureRateRing.stands(c) {
			out[5][4][c] = 0
		}
	}
	return out
}

// logDigitsAny bounds logDigits2 and logDigits3 over the tolerances, and
// mostDigits bounds those over the numbers; both by the count of digits.
var logDigitsAny, mostDigits = digitBounds()

func digitBounds() (any [4][]float64, most [4]float64) {
	any[2], any[3] = make([]float64, 100), make([]float64, 1000)
	for d := 2; d <= 3; d++ {
		for n := range any[d] {
			any[d][n] = math.Inf(-1)
			for c := range ColourCount {
				if d == 2 {
					any[d][n] = max(any[d][n], logDigits2[c][n])
				} else {
					any[d][n] = max(any[d][n], logDigits3[c][n])
				}
			}
			if d == 3 {
				// as the digits and multiplier of four rings and a failure rate
				any[d][n] = max(any[d][n], any[2][n/10])
			}
		}
		most[d] = math.Inf(-1)
		for _, l := range any[d] {
			most[d] = max(most[d], l)
		}
	}
	return any, most
}

// logPrior is the logarithm of the share, among parts with as many rings, of
// those that carry just these, or minus infinity where no reading is legal.
func logPrior(code []Colour) float64 {
	switch len(code) {
	case 1:
		if code[0] == Black {
			return 0
		}
	case 3:
		return logValue2(code, Pink)
	case 4:
		return logValue2(code, code[3]) + math.Log(shareOfTolerance4[code[3]])
	case 5:
		value := logValue3(code, code[4]) + math.Log(shareOfTolerance5[code[4]])
		return logSum(value, logReliability(code))
	case 6:
		return logValue3(code, code[4]) + math.Log(shareOfTolerance5[code[4]]) + math.Log(shareOfTempco[code[5]])
	}
	return math.Inf(-1)
}

// logReliability is the logarithm of the share, among five-ring parts, of those
// that carry just these read as four rings and a failure rate (MIL practice).
func logReliability(code []Colour) float64 {
	if !failureRateRing.stands(code[4]) || !reliableToleranceRing.stands(code[3]) {
		return math.Inf(-1)
	}
	return math.Log(shareReliable) + logValue2(code, code[3]) + math.Log(shareOfTolerance4[code[3]])
}

func logValue2(code []Colour, tolerance Colour) float64 {
	if code[0] > White || code[1] > White || code[0] == Black {
		return math.Inf(-1)
	}
	return logDigits2[tolerance][10*code[0]+code[1]] + math.Log(shareOfMultiplier[code[2]])
}

func logValue3(code []Colour, tolerance Colour) float64 {
	if code[0] > White || code[1] > White || code[2] > White || code[0] == Black {
		return math.Inf(-1)
	}
	n := 100*int(code[0]) + 10*int(code[1]) + int(code[2])
	return logDigits3[tolerance][n] + math.Log(shareOfMultiplier[code[3]])
}

// logSum adds two numbers given by their logarithms.
func logSum(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}

// oddDigits tells whether the digits of a legal code are no preferred number of
// its tolerance's series. Of five rings the third is none where it cannot be: then a
// failure rate stands last.
func oddDigits(code []Colour) bool {
	digits := digitsOf[len(code)]
	if len(code) == 5 && code[2] > White {
		digits = 2
	}
	tolerance := Pink
	if len(code) > 3 {
		tolerance = code[digits+1]
	}
	number := 0
	for _, c := range code[:digits] {
		number = 10*number + int(c)
	}
	const rounding = 1e-9
	if digits == 3 {
		return logDigits3[tolerance][number] <= math.Log(shareOdd/900)+rounding
	}
	return logDigits2[tolerance][number] <= math.Log(shareOdd/90)+rounding
}
