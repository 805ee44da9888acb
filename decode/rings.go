package decode

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// RingOptions ask Rings for more than a value and a tolerance.
type RingOptions struct {
	// TempcoPPM is the temperature coefficient in ppm/K to write with a
	// sixth ring; nil for none.
	TempcoPPM *int
	// FailureRate is the failure rate in percent per 1000 h to write with a
	// fifth ring behind a four-ring code; null for none.
	FailureRate decimal.NullDecimal
	// HighVoltage asks for yellow in place of gold and grey in place of
	// silver.
	HighVoltage bool
}

// Rings returns the rows of rings that write a resistance in ohms with a
// tolerance in percent either side, the usual one first. Zero ohms is a
// single black ring, whatever the tolerance. ±20 % is written with three
// rings, ±5 and ±10 % with four or else five, tighter ones with five or else
// four, a temperature coefficient with six. A four-ring row is left out if
// its most usual meaning is another one.
//
// It returns an error that names what no row can write: a negative value, too
// many digits, a value out of range, or a tolerance, coefficient or failure
// rate that has no ring.
func Rings(ohms, tolerancePercent decimal.Decimal, options RingOptions) ([][]Colour, error) {
	switch {
	case ohms.IsNegative():
		return nil, errors.New("a resistance is not negative: leave the sign out")
	case ohms.IsZero():
		return [][]Colour{{Black}}, nil
	case !withinReach(ohms):
		return nil, fmt.Errorf("%s ohms is out of range: rings write 0.01 Ω to 999 GΩ", bare(ohms))
	}
	choices, err := ringForms(tolerancePercent, options)
	if err != nil {
		return nil, err
	}
	var rows [][]Colour
	var failures []string
	for _, form := range choices {
		row, err := form.write(ohms)
		switch {
		case err != nil:
			failures = append(failures, err.Error())
		case len(row) == 4 && !usual(row, ohms, tolerancePercent):
			failures = append(failures, fmt.Sprintf("with 4 rings ±%s %% would be taken for another tolerance", tolerancePercent))
		default:
			rows = append(rows, row)
		}
	}
	if rows == nil {
		return nil, errors.New(strings.Join(failures, "; "))
	}
	return rows, nil
}

// A ringForm is a count of digits and the rings that stand behind the
// multiplier.
type ringForm struct {
	digits int
	tail   []Colour
}

// ringForms returns the forms that write a tolerance with the options, the
// usual one first.
func ringForms(tolerance decimal.Decimal, options RingOptions) ([]ringForm, error) {
	if !withinReach(tolerance) {
		return nil, fmt.Errorf("no ring stands for a tolerance of %s %%", bare(tolerance))
	}
	plain := options.TempcoPPM == nil && !options.FailureRate.Valid && !options.HighVoltage
	if plain && tolerance.Equal(noRingTolerance) {
		return []ringForm{{digits: 2}}, nil
	}
	ring, err := toleranceRingFor(tolerance)
	if err != nil {
		return nil, err
	}
	if plain {
		four, five := ringForm{2, []Colour{ring}}, ringForm{3, []Colour{ring}}
		if ring == Gold || ring == Silver {
			return []ringForm{four, five}, nil
		}
		return []ringForm{five, four}, nil
	}
	switch {
	case options.HighVoltage && (options.TempcoPPM != nil || options.FailureRate.Valid),
		options.TempcoPPM != nil && options.FailureRate.Valid:
		return nil, errors.New("no row has rings for more than one of temperature coefficient, failure rate and high voltage: ask for one")
	case options.HighVoltage:
		switch ring {
		case Gold:
			return []ringForm{{2, []Colour{Yellow}}}, nil
		case Silver:
			return []ringForm{{2, []Colour{Grey}}}, nil
		}
		return nil, fmt.Errorf("high-voltage parts have rings of their own for ±5 %% and ±10 %% only, not for ±%s %%", tolerance)
	case options.FailureRate.Valid:
		if !reliableToleranceRing.stands(ring) {
			return nil, fmt.Errorf("with a failure-rate ring the tolerance is 1, 2, 5 or 10 %%, not %s %%", tolerance)
		}
		rate, err := failureRateRingFor(options.FailureRate.Decimal)
		return []ringForm{{2, []Colour{ring, rate}}}, err
	}
	coefficient, err := tempcoRingFor(*options.TempcoPPM)
	return []ringForm{{3, []Colour{ring, coefficient}}}, err
}

// toleranceRingFor returns the ring for a tolerance in percent.
func toleranceRingFor(percent decimal.Decimal) (Colour, error) {
	var known []decimal.Decimal
	for c, p := range ringTolerances {
		if ringTable[c].tolerance == "" {
			continue
		}
		if p.Equal(percent) {
			return Colour(c), nil
		}
		known = append(known, p)
	}
	slices.SortFunc(known, decimal.Decimal.Cmp)
	words := make([]string, len(known))
	for i, p := range known {
		words[i] = p.String()
	}
	text := fmt.Sprintf("no ring stands for ±%s %%", percent)
	if letter, ok := LetterOfTolerance(percent); ok && !percent.Equal(noRingTolerance) {
		text += fmt.Sprintf(", only the letter %s", letter)
	}
	return 0, fmt.Errorf("%s: rings stand for %s, and none for 20", text, strings.Join(words, ", "))
}

// tempcoRingFor returns the ring for a temperature coefficient in ppm/K.
func tempcoRingFor(ppm int) (Colour, error) {
	var known []int
	for c, code := range ringTable {
		if code.tempco == 0 {
			continue
		}
		if code.tempco == ppm {
			return Colour(c), nil
		}
		known = append(known, code.tempco)
	}
	slices.Sort(known)
	words := make([]string, len(known))
	for i, each := range known {
		words[i] = fmt.Sprint(each)
	}
	return 0, fmt.Errorf("no ring stands for %d ppm/K: rings stand for %s", ppm, strings.Join(words, ", "))
}

// failureRateRingFor returns the ring for a failure rate in percent per
// 1000 h.
func failureRateRingFor(percent decimal.Decimal) (Colour, error) {
	if withinReach(percent) {
		for c, rate := range ringFailureRates {
			if ringTable[c].failureRate != "" && rate.Equal(percent) {
				return Colour(c), nil
			}
		}
	}
	return 0, fmt.Errorf("no ring stands for that failure rate: rings stand for 1, 0.1, 0.01 and 0.001 %% per 1000 h")
}

// write returns the row for a value above zero.
func (form ringForm) write(ohms decimal.Decimal) ([]Colour, error) {
	f := figuresOf(ohms)
	if len(f.digits) > form.digits {
		nearest := ohms.Round(int32(form.digits - f.point))
		return nil, fmt.Errorf("%s has %d figures, and %d rings write %d: the nearest is %s",
			FormatOhms(ohms), len(f.digits), form.rings(), form.digits, FormatOhms(nearest))
	}
	exponent := f.point - form.digits
	for c := Colour(0); c < ColourCount; c++ {
		if ringTable[c].exponent != exponent {
			continue
		}
		row := make([]Colour, 0, form.rings())
		for _, d := range f.digits + strings.Repeat("0", form.digits-len(f.digits)) {
			row = append(row, Colour(d-'0'))
		}
		return append(append(row, c), form.tail...), nil
	}
	return nil, fmt.Errorf("%s is out of range: %d rings write %s to %s", FormatOhms(ohms), form.rings(),
		FormatOhms(decimal.New(1, int32(form.digits-1-3))),
		FormatOhms(decimal.New(1, int32(form.digits)).Sub(decimal.New(1, 0)).Shift(9)))
}

// rings returns the count of rings in a row.
func (form ringForm) rings() int { return form.digits + 1 + len(form.tail) }

// usual reports whether the most usual meaning of a row is the value and
// tolerance.
func usual(row []Colour, ohms, tolerance decimal.Decimal) bool {
	readings, err := Readings(row)
	return err == nil && readings[0].Ohms.Equal(ohms) && readings[0].TolerancePercent.Decimal.Equal(tolerance)
}
