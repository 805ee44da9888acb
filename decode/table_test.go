package decode_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// Source: IEC 60062:2016 and IEC 60757, from memory of the published tables.
func TestRingTableIsThePublishedOne(t *testing.T) {
	rows := published(t, "iec60062_rings.csv")
	require.Len(t, rows, decode.ColourCount)
	text := func(value any, ok bool) string {
		if !ok {
			return ""
		}
		return fmt.Sprint(value)
	}
	for _, want := range rows {
		c, err := decode.ParseColour(want["colour"])
		require.NoError(t, err)
		byLetters, err := decode.ParseColour(want["letters"])
		require.NoError(t, err)
		assert.Equal(t, c, byLetters)

		got := map[string]string{"colour": c.String(), "letters": c.Letters()}
		digit, ok := c.Digit()
		got["digit"] = text(digit, ok)
		exponent, ok := c.Multiplier()
		got["multiplier_exponent"] = text(exponent, ok)
		tolerance, ok := c.Tolerance()
		got["tolerance_percent"] = text(tolerance, ok)
		got["tolerance_letter"] = ""
		if ok {
			got["tolerance_letter"], _ = decode.LetterOfTolerance(tolerance)
		}
		ppm, ok := c.Tempco()
		got["tempco_ppm"] = text(ppm, ok)
		got["tempco_letter"], _ = decode.LetterOfTempco(ppm)
		rate, ok := c.FailureRate()
		got["failure_rate"] = text(rate, ok)
		assert.Equal(t, want, got)
	}
}

func TestNoColourHasNoMeaning(t *testing.T) {
	for _, c := range []decode.Colour{decode.ColourCount, 255} {
		_, digit := c.Digit()
		_, multiplier := c.Multiplier()
		_, tolerance := c.Tolerance()
		_, tempco := c.Tempco()
		_, rate := c.FailureRate()
		assert.Equal(t, [5]bool{}, [5]bool{digit, multiplier, tolerance, tempco, rate})
	}
}

func TestLookingUpAColourAllocatesNothing(t *testing.T) {
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		for c := decode.Colour(0); c < decode.ColourCount; c++ {
			c.Digit()
			c.Multiplier()
			c.Tolerance()
			c.Tempco()
			c.FailureRate()
		}
	}))
}

// Source: IEC 60062:2016, letters for tolerances, from memory of the
// published table.
func TestToleranceLetters(t *testing.T) {
	for _, want := range published(t, "iec60062_tolerance_letters.csv") {
		percent, err := decode.ToleranceOfLetter(want["letter"])
		require.NoError(t, err)
		assert.Equal(t, want["percent"], percent.String())
		letter, ok := decode.LetterOfTolerance(num(want["percent"]))
		assert.True(t, ok)
		assert.Equal(t, want["letter"], letter)

		ring := ""
		for c := decode.Colour(0); c < decode.ColourCount; c++ {
			if p, ok := c.Tolerance(); ok && p.Equal(percent) {
				ring = c.String()
			}
		}
		assert.Equal(t, want["ring"], ring, want["letter"])
	}
	small, err := decode.ToleranceOfLetter("j")
	require.NoError(t, err)
	assert.Equal(t, "5", small.String())
	for _, letter := range []string{"", "A", "Q", "S", "T", "Z", "JJ", "Ω", "\x00"} {
		_, err := decode.ToleranceOfLetter(letter)
		assert.ErrorContains(t, err, "no tolerance letter", "%q", letter)
	}
	for _, percent := range []string{"4", "0", "-5", "5.0001", "0.03", "1e900"} {
		_, ok := decode.LetterOfTolerance(num(percent))
		assert.False(t, ok, percent)
	}
}

// Source: IEC 60062:2016, letters for temperature coefficients, from memory.
func TestTempcoLetters(t *testing.T) {
	for letter, want := range map[string][]int{
		"U": {250}, "S": {100}, "R": {50}, "P": {15}, "Q": {25}, "Z": {20, 10}, "M": {5}, "K": {1}, "z": {20, 10},
	} {
		got, err := decode.TempcosOfLetter(letter)
		require.NoError(t, err)
		assert.Equal(t, want, got, letter)
	}
	for _, letter := range []string{"", "J", "A", "ZZ", "\x00"} {
		_, err := decode.TempcosOfLetter(letter)
		assert.ErrorContains(t, err, "no letter of a temperature coefficient", "%q", letter)
	}
	for _, ppm := range []int{0, -5, 30, 200} {
		_, ok := decode.LetterOfTempco(ppm)
		assert.False(t, ok, ppm)
	}
}
