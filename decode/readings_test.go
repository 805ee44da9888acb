package decode_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// brief writes what a reading means: ohms, tolerance, coefficient and failure
// rate, "-" where there is none.
func brief(r decode.Reading) string {
	tolerance, tempco, rate := "-", "-", "-"
	if r.TolerancePercent.Valid {
		tolerance = r.TolerancePercent.Decimal.String()
	}
	if r.TempcoPPM != nil {
		tempco = fmt.Sprint(*r.TempcoPPM)
	}
	if r.FailureRate.Valid {
		rate = r.FailureRate.Decimal.String()
	}
	return strings.Join([]string{r.Ohms.String(), tolerance, tempco, rate}, " ")
}

func briefs(readings []decode.Reading) []string {
	var list []string
	for _, r := range readings {
		list = append(list, brief(r))
	}
	return list
}

// The source of each example stands beside it in the table.
func TestWorkedExamples(t *testing.T) {
	for _, want := range published(t, "ring_examples.csv") {
		rings := row(t, want["rings"])
		readings, err := decode.Readings(rings)
		require.NoError(t, err, want["rings"])
		first := readings[0]
		assert.Equal(t, rings, first.Rings)
		dash := func(cell string) string {
			if cell == "" {
				return "-"
			}
			return cell
		}
		assert.Equal(t, strings.Join([]string{want["ohms"], dash(want["tolerance_percent"]), dash(want["tempco_ppm"]), "-"}, " "),
			brief(first), want["rings"])
	}
}

// Sources: IEC 60062:2016 for the first meaning of five and six rings; the
// others are older or special uses, all from memory.
func TestEveryMeaningInItsOrder(t *testing.T) {
	for _, tt := range []struct {
		name, rings string
		want        []string
	}{
		{"three rings", "YE VT RD", []string{"4700 20 - -"}},
		{"yellow on four rings", "BN BK RD YE", []string{"1000 5 - -", "1000 4 - -", "1000 0.02 - -"}},
		{"grey on four rings", "BN BK RD GY", []string{"1000 10 - -", "1000 0.05 - -", "1000 0.01 - -"}},
		{"orange on four rings", "BN BK RD OG", []string{"1000 3 - -", "1000 0.05 - -"}},
		{"violet on four rings", "BN BK RD VT", []string{"1000 0.1 - -"}},
		{"gold on four rings", "BN BK RD GD", []string{"1000 5 - -"}},
		{"grey on five rings", "YE VT BK BN GY", []string{"4700 0.01 - -", "4700 0.05 - -"}},
		{"grey on six rings", "YE VT BK BN GY BN", []string{"4700 0.01 100 -", "4700 0.05 100 -"}},
		{"orange on five rings", "YE VT BK BN OG", []string{"4700 0.05 - -", "47 1 - 0.01"}},
		{"yellow on five rings", "YE VT BK BN YE", []string{"4700 0.02 - -", "47 1 - 0.001"}},
		{"failure rate behind a preferred number", "BN BK BK RD BN", []string{"10000 1 - -", "10 2 - 1"}},
		{"failure rate before no preferred number", "RD RD RD GD BN", []string{"2200 5 - 1", "22.2 1 - -"}},
		{"neither preferred", "RD BN RD GD RD", []string{"21.2 2 - -", "2100 5 - 0.1"}},
		{"gold third can only be a multiplier", "YE VT GD SR OG", []string{"4.7 10 - 0.01"}},
		{"black last cannot be a failure rate", "YE VT BK BN VT BK", []string{"4700 0.1 250 -"}},
		{"pink multiplier", "BN BK PK BN", []string{"0.01 1 - -"}},
		{"white multiplier", "WH WH WH WH BN", []string{"999000000000 1 - -"}},
		{"zero-ohm link", "BK", []string{"0 - - -"}},
	} {
		readings, err := decode.Readings(row(t, tt.rings))
		require.NoError(t, err, tt.name)
		assert.Equal(t, tt.want, briefs(readings), tt.name)
	}
}

func TestNotesAndCautions(t *testing.T) {
	type words struct{ notes, cautions []string }
	for rings, want := range map[string][]words{
		"BK":          {{[]string{decode.NoteLink}, nil}},
		"BN BK RD GD": {{}},
		"BN BK RD YE": {
			{[]string{"Yellow read in place of gold, ±5 %, as on high-voltage parts."}, []string{decode.CautionHighVoltage}},
			{[]string{"Yellow read as ±4 %, an older use."}, nil},
			{[]string{"±0.02 % is hardly ever met with two digits."}, nil}},
		"BN BK RD GY": {
			{[]string{"Grey read in place of silver, ±10 %, as on high-voltage parts."}, []string{decode.CautionHighVoltage}},
			{[]string{"Grey read as ±0.05 %, its meaning before 2016."}, nil},
			{[]string{"±0.01 % is hardly ever met with two digits."}, nil}},
		"BN BK RD OG": {
			{[]string{"Orange read as ±3 %, an older use."}, nil},
			{[]string{"±0.05 % is hardly ever met with two digits."}, nil}},
		"BN BK BK RD BN": {{}, {[]string{decode.NoteFailureRate}, nil}},
		"BN BK BK RD GY": {{}, {[]string{"Grey read as ±0.05 %, its meaning before 2016."}, nil}},
	} {
		readings, err := decode.Readings(row(t, rings))
		require.NoError(t, err)
		var got []words
		for _, r := range readings {
			got = append(got, words{r.Notes, r.Cautions})
		}
		assert.Equal(t, want, got, rings)
	}
}

func TestWrongRowsSayWhichRingAndWhy(t *testing.T) {
	tolerances := "brown, red, orange, yellow, green, blue, violet, grey, gold, silver"
	for rings, want := range map[string]string{
		"BN":          "ring 1 cannot be brown: a single ring stands only for a zero-ohm link; it could be black",
		"BK BN RD GD": "ring 1 cannot be black: a value does not start with the digit zero; it could be brown, red, orange, yellow, green, blue, violet, grey, white",
		"GD RD VT YE": "ring 1 cannot be gold: the first ring is a digit, and gold is none; the row makes sense read from the other end; it could be brown, red, orange, yellow, green, blue, violet, grey, white",
		"YE SR RD GD": "ring 2 cannot be silver: this ring is a digit, and silver is none; it could be black, brown, red, orange, yellow, green, blue, violet, grey, white",
		"YE VT RD BK": "ring 4 cannot be black: the tolerance stands here, and black is none; it could be " + tolerances,
		"YE VT RD WH": "ring 4 cannot be white: the tolerance stands here, and white is none; the row makes sense read from the other end; it could be " + tolerances,
		"YE VT RD PK": "ring 4 cannot be pink: the tolerance stands here, and pink is none; it could be " + tolerances,
		// Only the failure-rate layout makes sense of a third ring of gold.
		"YE VT GD BN GN":    "ring 5 cannot be green: the failure rate stands here, and green is none; it could be brown, red, orange, yellow",
		"YE VT GD GN BN":    "ring 4 cannot be green: with a failure-rate ring the tolerance stands here, and green is none; it could be brown, red, gold, silver",
		"YE VT GN BN PK":    "ring 5 cannot be pink: the tolerance stands here, and pink is none; it could be " + tolerances,
		"YE VT GN BN WH":    "ring 5 cannot be white: the tolerance stands here, and white is none; the row makes sense read from the other end; it could be " + tolerances,
		"YE VT GD BN GN BN": "ring 3 cannot be gold: this ring is a digit, and gold is none; the row makes sense read from the other end; it could be black, brown, red, orange, yellow, green, blue, violet, grey, white",
		"YE VT BK BN GN GD": "ring 6 cannot be gold: the temperature coefficient stands here, and gold is none; it could be black, brown, red, orange, yellow, green, blue, violet, grey",
	} {
		readings, err := decode.Readings(row(t, rings))
		assert.Nil(t, readings, rings)
		var ringError *decode.RingError
		require.ErrorAs(t, err, &ringError, rings)
		assert.Equal(t, want, err.Error(), rings)
		assert.Equal(t, row(t, rings)[ringError.Position-1], ringError.Colour, rings)
	}
}

func TestAColourThatIsNoneIsNamed(t *testing.T) {
	_, err := decode.Readings([]decode.Colour{decode.Brown, decode.Black, 77, decode.Gold})
	assert.ErrorContains(t, err, "ring 3 cannot be colour 77: that is no ring colour; it could be black")
	_, err = decode.Readings([]decode.Colour{77})
	assert.ErrorContains(t, err, "ring 1 cannot be colour 77")
}

// Replacing the ring that an error names by any of the colours it offers must
// take away that complaint.
func TestWhatAnErrorOffersHelps(t *testing.T) {
	helped := 0
	for count := 3; count <= 5; count++ {
		for rings := range rows(count) {
			_, err := decode.Readings(rings)
			if err == nil {
				continue
			}
			var wrong *decode.RingError
			require.ErrorAs(t, err, &wrong)
			require.NotEmpty(t, wrong.Could)
			// Testing every colour of every row is slow; take one by turns.
			repaired := slices.Clone(rings)
			repaired[wrong.Position-1] = wrong.Could[helped%len(wrong.Could)]
			helped++
			_, err = decode.Readings(repaired)
			var next *decode.RingError
			if err != nil && assert.ErrorAs(t, err, &next) {
				assert.Greater(t, next.Position, wrong.Position, "%v", rings)
			}
		}
	}
	assert.NotZero(t, helped)
}

func TestWrongCounts(t *testing.T) {
	for _, count := range []int{0, 2, 7, 1000} {
		_, err := decode.Readings(make([]decode.Colour, count))
		var wrong *decode.CountError
		require.ErrorAs(t, err, &wrong)
		assert.Equal(t, count, wrong.Count)
		assert.ErrorContains(t, err, fmt.Sprintf("%d rings have no meaning", count))
	}
}

func TestReadingsKeepNoHoldOnTheRow(t *testing.T) {
	rings := row(t, "YE VT BK BN GY BN")
	readings, err := decode.Readings(rings)
	require.NoError(t, err)
	rings[0] = decode.Pink
	assert.Equal(t, decode.Yellow, readings[0].Rings[0])
}

// rows yields every row of a count of rings. The slice is used again.
func rows(count int) func(yield func([]decode.Colour) bool) {
	return func(yield func([]decode.Colour) bool) {
		rings := make([]decode.Colour, count)
		for {
			if !yield(rings) {
				return
			}
			i := 0
			for ; i < count; i++ {
				if rings[i]++; rings[i] < decode.ColourCount {
					break
				}
				rings[i] = 0
			}
			if i == count {
				return
			}
		}
	}
}

func FuzzReadings(f *testing.F) {
	for _, example := range published(f, "ring_examples.csv") {
		var seed []byte
		for _, c := range row(f, example["rings"]) {
			seed = append(seed, byte(c))
		}
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		rings := make([]decode.Colour, len(data))
		for i, b := range data {
			rings[i] = decode.Colour(b)
		}
		readings, err := decode.Readings(rings)
		if err != nil {
			assert.Nil(t, readings)
			assert.NotEmpty(t, err.Error())
			return
		}
		require.NotEmpty(t, readings)
		seen := map[string]bool{}
		for _, r := range readings {
			assert.Equal(t, rings, r.Rings)
			assert.False(t, r.Ohms.IsNegative())
			assert.False(t, seen[brief(r)], "the meaning %s is given twice", brief(r))
			seen[brief(r)] = true
			assert.True(t, r.Low().LessThanOrEqual(r.Ohms) && r.Ohms.LessThanOrEqual(r.High()))
		}
	})
}
