package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"github.com/shopspring/decimal"

	"ringwise/decode"
	"ringwise/decode/network"
	"ringwise/decode/series"
)

// usualTolerance is taken for a value without one, in percent.
var usualTolerance = decimal.New(5, 0)

// mostValues bounds a list of values.
const mostValues = 2000

// ParseValues makes parts to be drawn from a list of values: one a line, or
// parted by semicolons, commas with a space behind, commas where each value has
// its letter, as in 10k,22k, or, where each is one word, spaces. A value may have a
// tolerance, "5.6 kΩ ±5 %", "10k, 5 %" or "5K6J"; without one ±5 % is taken. The
// name of a series, such as E12, stands for its values from 10 Ω to below 1 MΩ.
// What follows # in a line is left out. Values are written with the usual count of
// rings, or with fewer where the level asks for it. The error names the line.
func ParseValues(text string, level int) ([]Part, error) {
	var parts []Part
	number := 0
	for line := range strings.Lines(text) {
		number++
		line, _, _ = strings.Cut(strings.TrimPrefix(line, "\ufeff"), "#")
		list, err := entries(line)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", number, err)
		}
		for _, entry := range list {
			more, err := partsFor(entry, level)
			if err != nil {
				return nil, fmt.Errorf("line %d: %w", number, err)
			}
			if parts = append(parts, more...); len(parts) > mostValues {
				return nil, fmt.Errorf("line %d: these are more than %d values: give fewer", number, mostValues)
			}
		}
	}
	if len(parts) == 0 {
		return nil, fmt.Errorf("there is no value in the list: give some such as 5K6; 10 kΩ ±1 %%; E12")
	}
	return parts, nil
}

var partedBy = regexp.MustCompile(`;|,\s+`)

// entries parts a line into values. An entry that is no value may be several,
// parted by spaces or by commas.
func entries(line string) ([]string, error) {
	var list []string
	line = behindComma.ReplaceAllString(line, "$1, $2")
	for _, entry := range partedBy.Split(line, -1) {
		entry = strings.TrimSpace(entry)
		words := strings.Fields(entry)
		if listed := strings.Split(entry, ","); len(listed) > 1 && eachHasLetter(listed) {
			words = listed
		}
		several := len(words) > 1 && eachIsOne(words)
		_, _, err := parseValue(entry)
		switch {
		case entry == "":
		case several && err == nil && !slices.ContainsFunc(words, tolerance.MatchString):
			return nil, fmt.Errorf("%q may be one value or several: part values by ;", entry)
		case several && err != nil:
			list = append(list, words...)
		default:
			list = append(list, entry)
		}
	}
	return joined(list)
}

// inPercent is the pattern of a number of percent.
const inPercent = `[0-9]+(?:[.,][0-9]+)?\s*%`

var (
	// tolerance is one without a value.
	tolerance = regexp.MustCompile(`^(?:±|\+/-)?\s*` + inPercent + `$`)
	// behindComma finds a tolerance that a comma without a space parts from its value.
	behindComma = regexp.MustCompile(`(\pL),((?:±|\+/-)?\s*` + inPercent + `)`)
)

// joined puts tolerances that stand by themselves to the values before them. Behind
// several values without one, a tolerance may be meant for the last or for all.
func joined(list []string) ([]string, error) {
	var values []string
	bare := 0 // values without a tolerance of their own that were last
	for _, entry := range list {
		if !tolerance.MatchString(entry) {
			values = append(values, entry)
			if bare++; hasTolerance(entry) {
				bare = 0
			}
			continue
		}
		last := len(values) - 1
		switch {
		case bare == 0:
			return nil, fmt.Errorf("%q is a tolerance without a value: write it behind one, as in 10k ±5 %%", entry)
		case bare > 1:
			return nil, fmt.Errorf("%q is a tolerance, of %q alone or of all before it: write it behind each value, as in 10k ±5 %%; 22k ±5 %%", entry, values[last])
		}
		if _, err := series.Parse(values[last]); err == nil {
			return nil, fmt.Errorf("%q is a tolerance, but %s has its own: leave it out, or list the values, as in 10k ±5 %%", entry, values[last])
		}
		values[last] += " ±" + strings.TrimLeft(strings.TrimPrefix(entry, "+/-"), "± ")
		bare = 0
	}
	return values, nil
}

// eachHasLetter reports whether no text is a bare number: then the commas between
// them are no decimal ones.
func eachHasLetter(list []string) bool {
	return !slices.ContainsFunc(list, func(text string) bool {
		return !strings.ContainsFunc(text, unicode.IsLetter) && !tolerance.MatchString(text)
	})
}

func eachIsOne(words []string) bool {
	for _, word := range words {
		if tolerance.MatchString(word) {
			continue
		}
		_, inSeries := series.Parse(word)
		if _, _, err := parseValue(word); err != nil && inSeries != nil {
			return false
		}
	}
	return true
}

// partsFor makes the part of one entry, or those of a series.
func partsFor(entry string, level int) ([]Part, error) {
	if e, err := series.Parse(entry); err == nil {
		return ofSeries(e, level)
	}
	ohms, percent, err := parseValue(entry)
	if err != nil {
		return nil, err
	}
	p, err := drawn(ohms, percent, level)
	return []Part{p}, err
}

// ofSeries makes a part of every number of a series from 10 Ω to below 1 MΩ.
func ofSeries(e series.E, level int) ([]Part, error) {
	percent := e.TolerancePercent()
	if e == series.E3 {
		percent = series.E6.TolerancePercent() // there is no ring for a wider one
	}
	var parts []Part
	for decade := int32(1); decade < 6; decade++ {
		for _, v := range series.Values(e) {
			p, err := drawn(v.Shift(decade), percent, level)
			if err != nil {
				return nil, err
			}
			parts = append(parts, p)
		}
	}
	return parts, nil
}

// drawn is a part to be drawn, with the first of its usual rows of rings that
// a level has.
func drawn(ohms, percent decimal.Decimal, level int) (Part, error) {
	rows, err := decode.Rings(ohms, percent, decode.RingOptions{})
	if err != nil {
		return Part{}, err
	}
	rings := rows[0]
	for _, row := range rows {
		if len(row) <= mostRings(level) {
			rings = row
			break
		}
	}
	return Part{Reading: decode.Reading{Rings: rings, Ohms: ohms, TolerancePercent: decimal.NewNullDecimal(percent)}}, nil
}

// apart finds a tolerance behind a value, with or without the sign for it.
var apart = regexp.MustCompile(`^(.+?)\s*(?:±|\+/-|\s)\s*(` + inPercent + `)$`)

// parseValue reads a value with or without a tolerance.
func parseValue(entry string) (ohms, percent decimal.Decimal, err error) {
	v, err := network.ParseValue(tidied(entry))
	if err != nil {
		return ohms, percent, err
	}
	if !v.TolerancePercent.Valid {
		return v.Ohms, usualTolerance, nil
	}
	return v.Ohms, v.TolerancePercent.Decimal, nil
}

func hasTolerance(entry string) bool {
	v, err := network.ParseValue(tidied(entry))
	return err == nil && v.TolerancePercent.Valid
}

// tidied writes the sign before a tolerance behind a value.
func tidied(entry string) string { return apart.ReplaceAllString(entry, "$1 ±$2") }
