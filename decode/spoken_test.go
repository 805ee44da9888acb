package decode_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// Written out by hand, as one reads the values aloud in English.
func TestSpoken(t *testing.T) {
	for rings, want := range map[string]string{
		"GN BU RD GD":       "five point six kilo-ohm, plus or minus five percent",
		"YE VT RD":          "four point seven kilo-ohm, plus or minus twenty percent",
		"OG OG SR GD":       "zero point three three ohm, plus or minus five percent",
		"YE VT PK BN":       "forty-seven milli-ohm, plus or minus one percent",
		"BN BK BN GD":       "one hundred ohm, plus or minus five percent",
		"RD YE WH BN BN":    "two point four nine kilo-ohm, plus or minus one percent",
		"OG YE BK OG BN":    "three hundred and forty kilo-ohm, plus or minus one percent",
		"BN RD BN OG BN":    "one hundred and twenty-one kilo-ohm, plus or minus one percent",
		"BN VT BK SR":       "seventeen ohm, plus or minus ten percent",
		"RD RD BK YE GN RD": "two point two mega-ohm, plus or minus zero point five percent, fifty parts per million per kelvin",
		"RD RD RD GD BN":    "two point two kilo-ohm, plus or minus five percent, failure rate one percent per thousand hours",
		"BN BK BK BK GY":    "one hundred ohm, plus or minus zero point zero one percent",
		"BK":                "zero-ohm link",
	} {
		readings, err := decode.Readings(row(t, rings))
		require.NoError(t, err)
		assert.Equal(t, want, readings[0].Spoken(), rings)
	}
	assert.Equal(t, "green, blue, red, gold", decode.SpokenRings(row(t, "GN BU RD GD")))
	assert.Equal(t, "second", decode.SpokenPlace(2))
	assert.Equal(t, "number 12", decode.SpokenPlace(12))
}

// Of no code is anything spoken that voices read differently: only small
// letters, hyphens, commas and spaces.
func TestSpokenIsWordsAlone(t *testing.T) {
	words := regexp.MustCompile(`^[a-z]+([-, ]+[a-z]+)*$`)
	for rings := range rows(4) {
		readings, err := decode.Readings(rings)
		if err != nil {
			continue
		}
		for _, r := range readings {
			require.Regexp(t, words, r.Spoken(), "%v", rings)
		}
	}
}

// What is spoken of two values differs.
func TestSpokenTellsValuesApart(t *testing.T) {
	said := map[string]string{}
	for rings := range rows(3) {
		readings, err := decode.Readings(rings)
		if err != nil {
			continue
		}
		value := readings[0].Ohms.String()
		text := decode.SpokenOhms(readings[0].Ohms)
		if other, ok := said[text]; ok {
			require.Equal(t, other, value, text)
		}
		said[text] = value
	}
	// Of the 90 · 13 rows, two write the same value only where the second digit
	// is a zero: 10 · 10^3 is not 1 · 10^4, for no value starts with zero.
	assert.Len(t, said, 90*13)
}

func TestSpokenText(t *testing.T) {
	assert.Equal(t, "rings say 5.6 kilo-ohm plus or minus 5 percent, the meter says 560 ohm", decode.SpokenText("rings say 5.6 kΩ ±5 %, the meter says 560 Ω"))
	assert.Equal(t, "47 milli-ohm, 2.2 mega-ohm", decode.SpokenText("47 mΩ, 2.2 MΩ"))
}
