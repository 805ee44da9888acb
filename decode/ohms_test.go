package decode_test

import (
	"math/big"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// Sources: SI brochure, 9th edition, for the prefixes and for spaces between
// groups of three digits; the comma as decimal mark is ISO 80000-1; the rest
// is common practice, no source.
func TestParseOhms(t *testing.T) {
	for text, want := range map[string]string{
		"5600": "5600", "5600 ohm": "5600", "5600 Ohms": "5600", "5600Ω": "5600", "5600 \u2126": "5600", "5600 \u03a9": "5600",
		"5.6 kΩ": "5600", "5.6kΩ": "5600", "5.6 K": "5600", "5,6 kOhm": "5600", "5.6 k ohm": "5600", "5.6 kilo-ohm": "5600",
		"5.6 kilohms": "5600", "5.6 KOHM": "5600", "5.6\u00a0kΩ": "5600", "5.6\u202fkΩ": "5600", "\t5.6 kΩ\n": "5600",
		"2.2 MΩ": "2200000", "2.2M": "2200000", "2.2 Mohm": "2200000", "2.2 megohm": "2200000", "2.2 Meg": "2200000",
		"2.2 mΩ": "0.0022", "2.2 milliohm": "0.0022", "47 mOhm": "0.047",
		"500 µΩ": "0.0005", "500 μΩ": "0.0005", "500 uohm": "0.0005", "1 GΩ": "1000000000", "1 TΩ": "1000000000000",
		"5k6": "5600", "5K6": "5600", "5K6 Ω": "5600", "5k6ohm": "5600", "R33": "0.33", "100R": "100", "100 R": "100", "4L7": "0.0047", "2M2": "2200000",
		"0.33 ohm": "0.33", "0,33 Ohm": "0.33", ".33": "0.33", ",33": "0.33", "33.": "33", "+33": "33", "0": "0", "0 Ω": "0", "0R": "0",
		"1,5": "1.5", "1,50": "1.5", "1,0000": "1", "0,330": "0.33", "00,330": "0.33", "1234,567": "1234.567", "1.000": "1", "4.700 k": "4700",
		"1,000.5": "1000.5", "1.000,5": "1000.5", "1,000,000": "1000000", "1.000.000": "1000000", "1,234,567.25": "1234567.25",
		"5 600": "5600", "10 000 Ω": "10000", "10\u00a0000": "10000", "1 000,500": "1000.5", "1 000 000": "1000000",
		"4.7E+3": "4700", "4.7e3": "4700", "47e-1": "4.7", "4,7E+3 Ω": "4700", "1E+14": "100000000000000",
		"999999999999999": "999999999999999", "1e-12 ohm": "0.000000000001", "000000005600": "5600",
	} {
		got, err := decode.ParseOhms(text)
		require.NoError(t, err, "%q", text)
		assert.Equal(t, want, got.String(), "%q", text)
	}
}

func TestParseOhmsRefuses(t *testing.T) {
	for text, says := range map[string]string{
		"":                                 "the value is empty",
		" \u00a0 ":                         "the value is empty",
		"ohm":                              "does not start with a number",
		"Ω":                                "does not start with a number",
		"kΩ":                               "does not start with a number",
		"five":                             "does not start with a number",
		"5.6 kg":                           `"kg" is no unit of resistance`,
		"5.6 V":                            `"V" is no unit of resistance`,
		"5.6 kΩΩ":                          "is no unit of resistance",
		"5.6 ±5 %":                         "is no unit of resistance",
		"1,000":                            "write 1000 or 1.000",
		"1,000 Ω":                          "write 1000 or 1.000",
		"4,700 kΩ":                         "write 4700 or 4.700",
		"4E7":                              "write 4R7 or 4E+7",
		"4e7 ohm":                          "write 4R7 or 4E+7",
		"2m2":                              "milli or mega",
		"5K6J":                             "tolerance letter: give the value alone, such as 5K6",
		"-5":                               "not negative",
		"−5 kΩ":                            "not negative",
		"--5":                              "does not start with a number",
		"1.2.3":                            "groups of three",
		"1,2,3":                            "groups of three",
		"5 6":                              "groups of three",
		"0,000,000":                        "groups of three",
		"1,000.5,5":                        "groups of three",
		"1.5 5":                            "is no number",
		".":                                "does not start with a number",
		"++5":                              "does not start",
		"0x10":                             "use one of L R K M G T",
		"1_000":                            "is no unit of resistance",
		"Inf":                              "does not start with a number",
		"NaN":                              "does not start with a number",
		"٥":                                "does not start with a number",
		"1e99":                             "power of ten is out of range",
		"1.0e99":                           "power of ten is out of range",
		"1e+999999999999999999999999":      "power of ten is out of range",
		"1e-16":                            "power of ten is out of range",
		"1000 TΩ":                          "out of range",
		"0.0000009 µΩ":                     "out of range",
		"1e+15":                            "out of range",
		"1.234567890123456789012345678901": "too many figures",
		strings.Repeat("9", 65):            "too long",
		"5\x00":                            "is no unit of resistance",
		"\xff\xfe":                         "does not start with a number",
	} {
		_, err := decode.ParseOhms(text)
		assert.ErrorContains(t, err, says, "%q", text)
	}
}

func TestHostileTextIsCheap(t *testing.T) {
	start := time.Now()
	for _, text := range []string{
		strings.Repeat("9", 1<<24), strings.Repeat(" ", 1<<24), strings.Repeat("1,", 1<<20), "1e+" + strings.Repeat("9", 1<<20),
		"1.e+999999999", "9.9e-2147483648",
	} {
		_, err := decode.ParseOhms(text)
		assert.Less(t, len(err.Error()), 800)
		_, err = decode.ParseRKM(text)
		assert.Less(t, len(err.Error()), 800)
	}
	absurd := decimal.New(1, 2147483647)
	assert.Equal(t, "1E2147483647 Ω", decode.FormatOhms(absurd))
	long := decimal.NewFromBigInt(new(big.Int).Lsh(big.NewInt(1), 1<<20), 0)
	assert.Equal(t, "an endless number Ω", decode.FormatOhms(long))
	assert.Less(t, time.Since(start), time.Minute)
}

// Source: SI brochure, 9th edition, for the prefixes; where each takes over
// below one ohm is this project's own choice.
func TestFormatOhms(t *testing.T) {
	for ohms, want := range map[string]string{
		"0": "0 Ω", "0.000": "0 Ω", "5600": "5.6 kΩ", "100": "100 Ω", "999": "999 Ω", "1000": "1 kΩ", "4.70": "4.7 Ω",
		"2200000": "2.2 MΩ", "0.33": "0.33 Ω", "0.1": "0.1 Ω", "0.047": "47 mΩ", "0.005": "5 mΩ", "0.0005": "0.5 mΩ",
		"0.0001": "0.1 mΩ", "0.00005": "50 µΩ", "0.000000001": "0.001 µΩ", "99000000000": "99 GΩ", "1e12": "1 TΩ", "1e16": "10000 TΩ",
		"5320": "5.32 kΩ", "5882.35": "5.88235 kΩ", "123456789": "123.456789 MΩ", "-0.047": "-47 mΩ", "1e900": "1E900 Ω",
	} {
		assert.Equal(t, want, decode.FormatOhms(num(ohms)), ohms)
	}
}

// Every preferred shape of value that a row can write goes to text and back.
func TestTextRoundTrip(t *testing.T) {
	for significand := int64(1); significand < 1000; significand++ {
		for exponent := int32(-5); exponent <= 9; exponent++ {
			ohms := decimal.New(significand, exponent)
			fromText, err := decode.ParseOhms(decode.FormatOhms(ohms))
			require.NoError(t, err)
			fromMarking, err := decode.ParseRKM(decode.FormatRKM(ohms))
			require.NoError(t, err)
			fromMarkingText, err := decode.ParseOhms(decode.FormatRKM(ohms))
			require.NoError(t, err)
			if !fromText.Equal(ohms) || !fromMarking.Ohms.Equal(ohms) || !fromMarkingText.Equal(ohms) {
				t.Fatalf("%s is written %s and %s", ohms, decode.FormatOhms(ohms), decode.FormatRKM(ohms))
			}
		}
	}
}

func FuzzParseOhms(f *testing.F) {
	for _, seed := range []string{
		"5.6 kΩ", "5600", "5k6", "0,33 Ohm", "1,000", "1 000,5", "47 mΩ", "4.7E+3", "4E7", "2m2", "R33", "500 µΩ",
		"1.000.000", "-5", "1e+999999999", "99999999999999999999999999999999", "5K6J", "\u2126", "100 R",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		ohms, err := decode.ParseOhms(text)
		if err != nil {
			assert.Less(t, len(err.Error()), 800)
			return
		}
		require.False(t, ohms.IsNegative())
		written := decode.FormatOhms(ohms)
		again, err := decode.ParseOhms(written)
		require.NoError(t, err)
		assert.True(t, again.Equal(ohms), "%q is written %q and read as %s", text, written, again)
	})
}
