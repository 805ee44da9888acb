package decode

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// eachCode calls visit with every row of that many rings. The row is reused.
func eachCode(rings int, visit func(code []Colour)) {
	code := make([]Colour, rings)
	for {
		visit(code)
		i := rings - 1
		for ; i >= 0 && code[i] == ColourCount-1; i-- {
			code[i] = 0
		}
		if i < 0 {
			return
		}
		code[i]++
	}
}

// What Readings calls legal, by the layouts of IEC 60062, is possible for the
// prior, and nothing else is.
func TestPriorKnowsJustTheLegalCodes(t *testing.T) {
	wrong := 0
	compare := func(code []Colour) {
		_, err := Readings(code)
		if prior := logPrior(code); (err == nil) != (prior > math.Inf(-1)) {
			if wrong++; wrong <= 5 {
				assert.Fail(t, "the prior and the code differ", "%v: prior %v, error %v", code, prior, err)
			}
		}
	}
	for rings := 1; rings <= 4; rings++ {
		eachCode(rings, compare)
	}
	// Five and six rings have too many rows to try each in Readings: a sample
	// of all, and of those that differ from a legal one in one ring.
	dice := rand.New(rand.NewPCG(60062, 1))
	for range 60_000 {
		code := make([]Colour, 5+dice.IntN(2))
		for i := range code {
			code[i] = Colour(dice.IntN(ColourCount))
		}
		compare(code)
		code[0] = Colour(1 + dice.IntN(9))
		code[1] = Colour(dice.IntN(10))
		code[4] = Colour(1 + dice.IntN(8))
		compare(code)
		code[2] = Colour(dice.IntN(10))
		compare(code)
	}
	assert.Zero(t, wrong)
}

// Shares are parts of a whole: over all rows of a count they come to no more
// than one, and to no less than almost all of it.
func TestPriorSumsToOne(t *testing.T) {
	for rings, least := range map[int]float64{1: 1, 3: 0.95, 4: 0.5, 5: 0.95} {
		sum := 0.0
		eachCode(rings, func(code []Colour) { sum += math.Exp(logPrior(code)) })
		assert.LessOrEqual(t, sum, 1+1e-9, "%d rings", rings)
		assert.GreaterOrEqual(t, sum, least, "%d rings", rings)
	}
}

func TestSharesSumToOne(t *testing.T) {
	sum := func(shares []float64) (total float64) {
		for _, s := range shares {
			require.GreaterOrEqual(t, s, 0.0)
			total += s
		}
		return total
	}
	for name, shares := range map[string][]float64{
		"rings":                   shareOfRings[:],
		"multiplier":              shareOfMultiplier[:],
		"tolerance of four rings": shareOfTolerance4[:],
		"tolerance of five rings": shareOfTolerance5[:],
		"coefficient":             shareOfTempco[:],
	} {
		total := sum(shares)
		assert.LessOrEqual(t, total, 1+1e-9, name)
		assert.GreaterOrEqual(t, total, 0.98, name)
	}
	for c := range Colour(ColourCount) {
		total := 0.0
		for _, share := range seriesOf(c) {
			total += share
		}
		assert.InDelta(t, 1, total, 1e-9, "series of %s", c)
		numbers := 0.0
		for _, l := range logDigits3[c] {
			numbers += math.Exp(l)
		}
		assert.InDelta(t, 1, numbers, 1e-9, "numbers of %s", c)
	}
}

// The bounds by which the search leaves rows out must bound: no row of digits,
// multiplier and tolerance weighs more than they say.
func TestDigitBoundsBound(t *testing.T) {
	for c := range Colour(ColourCount) {
		for n := 100; n < 1000; n++ {
			tens := n / 10
			least := math.Min(logDigitsAny[3][n]-logDigits3[c][n], logDigitsAny[2][tens]-logDigits2[c][tens])
			least = math.Min(least, logDigitsAny[3][n]-logDigits2[c][tens]) // two digits and a multiplier
			least = math.Min(least, math.Min(mostDigits[3]-logDigitsAny[3][n], mostDigits[2]-logDigitsAny[2][tens]))
			if least < 0 {
				require.Fail(t, "a row weighs more than its bound", "%d with tolerance %s", n, c)
			}
		}
	}
}

// What the roles of a row's rings add up to, with the most that its digits may, is no
// less than the row's share: else the search leaves out rows that are in the running.
func TestRolesBound(t *testing.T) {
	for rings := 3; rings <= 5; rings++ {
		eachCode(rings, func(code []Colour) {
			share := logPrior(code)
			if math.IsInf(share, -1) {
				return
			}
			digits, number := digitsOf[rings], 0
			for _, c := range code[:digits] {
				number = 10*number + int(min(c, White))
			}
			most := logDigitsAny[digits][number]
			for i, c := range code {
				most += logRole[rings][i][c]
			}
			if share > most+1e-9 {
				require.Fail(t, "a row weighs more than its bound", "%v: %v over %v", code, share, most)
			}
		})
	}
}

// ln(e^a + e^b), by the definition of the logarithm.
func TestLogSum(t *testing.T) {
	none := math.Inf(-1)
	for _, c := range []struct{ a, b, want float64 }{
		{0, 0, math.Ln2},
		{math.Log(3), math.Log(4), math.Log(7)},
		{-1000, -1000, -1000 + math.Ln2},
		{5, none, 5},
		{none, 5, 5},
		{none, none, none},
		{800, -800, 800},
	} {
		assert.InDelta(t, 0, nanless(logSum(c.a, c.b)-c.want), 1e-12, "%v and %v", c.a, c.b)
		assert.Equal(t, logSum(c.a, c.b), logSum(c.b, c.a))
	}
}

// nanless is the difference of two numbers, zero if both are the same infinity.
func nanless(difference float64) float64 {
	if math.IsNaN(difference) {
		return 0
	}
	return difference
}
