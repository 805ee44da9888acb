package network

import "fmt"

// UsualMargin is how many times the power at work a rating usually is. Common
// practice, no source.
const UsualMargin = 2

// marginOf is the margin asked for, the usual one for 0. It refuses one out of
// range.
func marginOf(asked float64) (float64, error) {
	switch {
	case asked == 0:
		return UsualMargin, nil
	case !(asked >= 1 && asked <= 100):
		return 0, fmt.Errorf("a margin of %g times is out of range: use 1 to 100", asked)
	}
	return asked, nil
}

// tooWeak reports whether a known rating is below so many times the power, but
// for rounding.
func tooWeak(ratedWatts, watts, margin float64) bool {
	return ratedWatts > 0 && watts*margin > ratedWatts*(1+1e-12)
}

// tooHigh reports whether a voltage is above the most that a part bears, 0 if that is
// unknown, but for rounding.
func tooHigh(volts, most float64) bool { return most > 0 && volts > most*(1+1e-12) }

// tooLittle reports whether a rating, 0 for none, is below what is needed, but for
// rounding.
func tooLittle(ratedWatts, neededWatts float64) bool {
	return neededWatts > 0 && (ratedWatts == 0 || tooWeak(ratedWatts, neededWatts, 1))
}

// timesText says how many times a power a rating is to be, with a space behind,
// nothing for once.
func timesText(margin float64) string {
	if margin == 1 {
		return ""
	}
	return FormatFigures(margin, 3) + " times "
}

// heatText says why a rating is needed: the usual margin above the heat of a voltage.
func heatText(watts, volts float64) string {
	return fmt.Sprintf("%d times the %s that %s across it make", UsualMargin, FormatQuantity(watts, Watt), FormatQuantity(volts, Volt))
}
