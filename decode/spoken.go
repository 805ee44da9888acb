package decode

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// Spoken returns the reading in words for a screen reader or a voice, such as
// "five point six kilo-ohm, plus or minus five percent". Signs such as Ω and ±,
// and letters such as k, are read differently from voice to voice; words are
// not.
func (r Reading) Spoken() string {
	if r.IsLink() {
		return "zero-ohm link"
	}
	text := SpokenOhms(r.Ohms)
	if r.TolerancePercent.Valid {
		text += ", plus or minus " + spokenNumber(r.TolerancePercent.Decimal.String()) + " percent"
	}
	if r.TempcoPPM != nil {
		text += ", " + spokenNumber(strconv.Itoa(*r.TempcoPPM)) + " parts per million per kelvin"
	}
	if r.FailureRate.Valid {
		text += ", failure rate " + spokenNumber(r.FailureRate.Decimal.String()) + " percent per thousand hours"
	}
	return text
}

// SpokenOhms returns a resistance in words, such as "five point six kilo-ohm".
func SpokenOhms(ohms decimal.Decimal) string {
	number, _, word := engineering(ohms)
	if word != "" {
		word += "-"
	}
	return spokenNumber(number) + " " + word + "ohm"
}

// SpokenRings returns the colours in reading order, such as "green, blue, red,
// gold".
func SpokenRings(rings []Colour) string {
	words := make([]string, len(rings))
	for i, c := range rings {
		words[i] = c.String()
	}
	return strings.Join(words, ", ")
}

// SpokenPlace returns the place of a ring or a candidate, from 1, as a word:
// "first" to "ninth"; numbers beyond.
func SpokenPlace(place int) string {
	words := []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth"}
	if place >= 1 && place <= len(words) {
		return words[place-1]
	}
	return "number " + strconv.Itoa(place)
}

// spokenNumber returns a plain decimal number in words: the whole part as a
// number, what follows the point digit by digit. Whole parts beyond 999 stay
// as they are.
func spokenNumber(number string) string {
	whole, fraction, _ := strings.Cut(number, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		whole, sign = whole[1:], "minus "
	}
	text := whole
	if n, err := strconv.Atoi(whole); err == nil && n < 1000 {
		text = spokenWhole(n)
	}
	if fraction != "" {
		text += " point"
		for _, d := range fraction {
			text += " " + spokenWhole(int(d-'0'))
		}
	}
	return sign + text
}

var (
	smallNumbers = strings.Fields("zero one two three four five six seven eight nine ten eleven twelve thirteen " +
		"fourteen fifteen sixteen seventeen eighteen nineteen")
	tensNumbers = strings.Fields("- - twenty thirty forty fifty sixty seventy eighty ninety")
)

// spokenWhole returns a number of 0 to 999 in words.
func spokenWhole(n int) string {
	switch {
	case n < 20:
		return smallNumbers[n]
	case n < 100:
		text := tensNumbers[n/10]
		if n%10 > 0 {
			text += "-" + smallNumbers[n%10]
		}
		return text
	}
	text := smallNumbers[n/100] + " hundred"
	if n%100 > 0 {
		text += " and " + spokenWhole(n%100)
	}
	return text
}

// spokenSigns are the signs of values and their words, the longer first.
var spokenSigns = strings.NewReplacer(
	" µΩ", " micro-ohm", " mΩ", " milli-ohm", " kΩ", " kilo-ohm", " MΩ", " mega-ohm", " GΩ", " giga-ohm", " TΩ", " tera-ohm",
	" Ω", " ohm", "±", "plus or minus ", " %", " percent", " ppm/K", " parts per million per kelvin", " × ", " by ",
)

// SpokenText puts words in place of the signs in a sentence such as those in
// notes: "5.6 kΩ ±5 %" becomes "5.6 kilo-ohm plus or minus 5 percent".
func SpokenText(text string) string { return spokenSigns.Replace(text) }
