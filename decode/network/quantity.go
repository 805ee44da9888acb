package network

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/dustin/go-humanize"
)

// The units in which quantities are read and written.
const (
	Volt   = "V"
	Ampere = "A"
	Watt   = "W"
)

// unitNames are the units as words, which are read too.
var unitNames = map[string]string{Volt: "volt", Ampere: "amp", Watt: "watt"}

// Bounds of ParseQuantity, in the unit.
const (
	leastQuantity = 1e-15
	mostQuantity  = 1e9
)

var (
	// fraction is a rating as it is spoken of: 1/4 W.
	fraction = regexp.MustCompile(`^([0-9]+)/([0-9]+)([^0-9.].*)?$`)
	// thousands is a number whose comma may part thousands or be the decimal mark.
	thousands = regexp.MustCompile(`^0*[1-9][0-9]*,[0-9]{3}([^0-9.].*)?$`)
	// plainNumber parts a number from its unit.
	plainNumber = regexp.MustCompile(`^([0-9]*\.?[0-9]+)( ?)([a-zA-Zµμ ]*)$`)
)

// ParseQuantity reads a voltage, current or power above zero, up to a
// thousand million of the unit: "12 V", "5mA", "0,25", "1/4 W". Without a unit
// the number is in the unit itself, whose symbol may be small: "12v". "1,000 V" may
// mean either of two and is refused.
func ParseQuantity(text, unit string) (float64, error) {
	example := map[string]string{Volt: "12 V", Ampere: "5 mA", Watt: "1/4 W"}[unit]
	refuse := func(why string) (float64, error) {
		if len(text) > 40 {
			text = strings.ToValidUTF8(text[:40], "") + "…"
		}
		return 0, fmt.Errorf("%q cannot be read: %s; write it such as %s", text, why, example)
	}
	plain := strings.Join(strings.Fields(strings.Replace(text, ",", ".", 1)), " ")
	if len(plain) > 40 {
		return refuse("it is too long")
	}
	if thousands.MatchString(strings.TrimSpace(text)) {
		return refuse("a comma before three digits may part thousands or decimals")
	}
	divisor := 1.0
	if part := fraction.FindStringSubmatch(plain); part != nil {
		divisor, _ = strconv.ParseFloat(part[2], 64)
		plain = part[1] + part[3]
	}
	if strings.HasPrefix(plain, "-") || strings.HasPrefix(plain, "−") {
		return refuse("it must be above zero")
	}
	part := plainNumber.FindStringSubmatch(plain)
	if part == nil {
		return refuse("it is no number with a unit")
	}
	name := strings.TrimSuffix(strings.ToLower(part[3]), "s")
	tail := part[3]
	if word := unitNames[unit]; strings.HasSuffix(name, word) || strings.HasSuffix(name, word+"ere") {
		prefix := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(name, "ere"), word))
		symbol, known := map[string]string{"": "", "milli": "m", "micro": "µ", "kilo": "k", "mega": "M"}[prefix]
		if !known {
			return refuse(fmt.Sprintf("%q is no unit prefix", prefix))
		}
		tail = symbol + unit
	}
	if small := strings.ToLower(unit); strings.HasSuffix(tail, small) { // a unit named small, as in 12v, has no other meaning
		tail = strings.TrimSuffix(tail, small) + unit
	}
	tail = strings.Replace(strings.Replace(tail, "u", "µ", 1), "μ", "µ", 1) // the letter u, and the Greek letter
	if tail == "K" || tail == "K"+unit {
		tail = "k" + unit
	}
	amount, found, err := humanize.ParseSI(part[1] + part[2] + tail)
	if err != nil || found != "" && found != unit {
		return refuse(fmt.Sprintf("%q is no unit in %s", part[3], unit))
	}
	amount /= divisor
	switch {
	case !(amount > 0) || math.IsInf(amount, 0):
		return refuse("it must be above zero")
	case amount < leastQuantity || amount > mostQuantity:
		return refuse("it is out of range")
	}
	return amount, nil
}

// UnitOf is the unit in which a quantity is written, by its symbol or its name at the
// end as ParseQuantity reads them; empty if neither stands there.
func UnitOf(text string) string {
	word := strings.TrimSuffix(strings.ToLower(strings.TrimSpace(text)), "s")
	for unit, name := range unitNames {
		if strings.HasSuffix(word, strings.ToLower(unit)) || strings.HasSuffix(word, name) || strings.HasSuffix(word, name+"ere") {
			return unit
		}
	}
	return ""
}

// FormatQuantity writes a quantity to four significant figures with the unit
// prefix that leaves one to three digits before the point: 12 V, 5.36 mA.
func FormatQuantity(amount float64, unit string) string {
	switch {
	case amount == 0:
		return "0 " + unit
	case math.IsInf(amount, 0) || math.IsNaN(amount):
		return "no finite number of " + unit
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(amount, 'g', 4, 64), 64)
	if err != nil {
		return "no finite number of " + unit
	}
	return humanize.SI(rounded, unit)
}

// FormatRating writes a power rating in watts, never in milliwatts: 0.25 W.
func FormatRating(watts float64) string {
	return FormatFigures(watts, 4) + " W"
}

// errAboveZero tells of a quantity that has to be above zero.
func errAboveZero(what string) error {
	return errors.New(what + " must be above zero and below 10^15")
}

// mostAmount bounds all amounts, so that nothing worked out of them is endless.
const mostAmount = 1e15

// isAmount reports whether x is a number above zero and within bounds.
func isAmount(x float64) bool { return x > 0 && x <= mostAmount }

// isAmountOrNone reports whether x is a number within bounds or zero.
func isAmountOrNone(x float64) bool { return x == 0 || isAmount(x) }
