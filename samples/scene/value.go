package main

import (
	"fmt"
	"slices"

	"ringwise/decode"
	"ringwise/decode/series"
)

// meaning is what the rings of a part stand for.
type meaning struct {
	decode.Reading
	oddity string // what is unusual about the part, empty if nothing
}

// drawMeaning draws what a part with the given number of rings means, one
// of 1, 3, 4, 5 and 6. Shares of tolerances, decades and oddities follow
// what parts drawers hold; common practice, no source.
func drawMeaning(d dice, rings int) meaning {
	switch rings {
	case 1:
		return read([]decode.Colour{decode.Black}, false)
	case 3:
		return read(spell(d, pick(d, twoDigits(pick(d, []series.E{series.E6, series.E12}))), 2), false)
	case 4:
		return drawFour(d)
	}
	return drawFive(d, rings == 6)
}

func drawFour(d dice) meaning {
	tolerance := pickWeighted(d, []weighted[decode.Colour]{
		{decode.Gold, 80}, {decode.Silver, 11}, {decode.Brown, 4}, {decode.Red, 4}, {decode.Green, 0.6},
		{decode.Blue, 0.2}, {decode.Violet, 0.2},
	})
	numbers := twoDigits(series.E12)
	if tolerance != decode.Silver && d.chance(0.55) {
		numbers = twoDigits(series.E24)
	}
	number, oddity := pick(d, numbers), ""
	if d.chance(0.005) {
		number, oddity = 10+d.IntN(90), "not a preferred number"
	}
	rings := append(spell(d, number, 2), tolerance)
	if rings[2] >= decode.Yellow && rings[2] <= decode.Blue && d.chance(0.03) {
		rings[3] = pick(d, []decode.Colour{decode.Yellow, decode.Grey})
		oddity = "high-voltage lacquer without metal"
	}
	m := read(rings, false)
	m.oddity = oddity
	return m
}

func drawFive(d dice, coefficient bool) meaning {
	if !coefficient && d.chance(0.008) {
		rings := append(spell(d, pick(d, twoDigits(series.E24)), 2),
			pick(d, []decode.Colour{decode.Gold, decode.Silver}),
			pick(d, []decode.Colour{decode.Brown, decode.Red, decode.Orange, decode.Yellow}))
		m := read(rings, true)
		m.oddity = "failure-rate ring"
		return m
	}
	tolerance := pickWeighted(d, []weighted[decode.Colour]{
		{decode.Brown, 76}, {decode.Red, 12}, {decode.Green, 5}, {decode.Blue, 3},
		{decode.Violet, 3}, {decode.Gold, 1}, {decode.Orange, 0.15}, {decode.Grey, 0.1}, {decode.Yellow, 0.1},
	})
	// How often a part keeps to E24, and the series it follows else.
	coarse, fine := 0.4, series.E96
	if d.chance(0.1) {
		fine = series.E192
	}
	switch tolerance {
	case decode.Gold:
		coarse = 1
	case decode.Brown:
		coarse, fine = 0.5, series.E96
	case decode.Red:
		coarse, fine = 0.6, series.E48
	}
	if d.chance(coarse) {
		fine = series.E24
	}
	number, oddity := pick(d, series.Significands(fine)), ""
	if d.chance(0.005) {
		number, oddity = 100+d.IntN(900), "not a preferred number"
	}
	rings := append(spell(d, number, 3), tolerance)
	if coefficient {
		rings = append(rings, pickWeighted(d, []weighted[decode.Colour]{
			{decode.Brown, 40}, {decode.Red, 32}, {decode.Yellow, 10}, {decode.Orange, 8},
			{decode.Blue, 4}, {decode.Violet, 3}, {decode.Black, 2}, {decode.Green, 0.5}, {decode.Grey, 0.5},
		}))
	}
	m := read(rings, false)
	m.oddity = oddity
	return m
}

// read gives the rings their meaning, with a failure rate or without.
func read(rings []decode.Colour, failureRate bool) meaning {
	readings, err := decode.Readings(rings)
	for _, r := range readings {
		if r.FailureRate.Valid == failureRate {
			return meaning{Reading: r}
		}
	}
	panic(fmt.Sprintf("drew rings %v that mean nothing: %v", rings, err))
}

// twoDigits is a series up to E24 as numbers from 10 to 99.
func twoDigits(e series.E) []int {
	numbers := series.Significands(e)
	for i := range numbers {
		numbers[i] /= 10
	}
	return numbers
}

// exponents are the powers of ten that multiply two or three digits, by
// share; common practice, no source.
var exponents = map[int][]weighted[int]{
	2: {{-3, 0.25}, {-2, 0.8}, {-1, 4}, {0, 14}, {1, 24}, {2, 27}, {3, 19}, {4, 9}, {5, 2}, {6, 0.4}},
	3: {{-3, 0.25}, {-2, 1}, {-1, 5.5}, {0, 25}, {1, 30}, {2, 22}, {3, 12}, {4, 3}, {5, 0.4}},
}

// spell draws a multiplier for a number and gives its digit and multiplier
// rings.
func spell(d dice, number, digits int) []decode.Colour {
	exponent := pickWeighted(d, exponents[digits])
	var rings []decode.Colour
	for range digits {
		rings = append(rings, decode.Colour(number%10))
		number /= 10
	}
	slices.Reverse(rings)
	return append(rings, multiplierRing(exponent))
}

func multiplierRing(exponent int) decode.Colour {
	for c := decode.Colour(0); c < decode.ColourCount; c++ {
		if e, ok := c.Multiplier(); ok && e == exponent {
			return c
		}
	}
	panic(fmt.Sprintf("drew the multiplier 10^%d, which has no colour", exponent))
}

// reverse gives the way to read the part from its other end, if that is
// about as likely a part: legal, from 0.1 Ω to 22 MΩ, with a tolerance in
// common use and a preferred number that goes with it.
func (p *part) reverse() [][]string {
	turned := slices.Clone(p.Rings)
	slices.Reverse(turned)
	readings, err := decode.Readings(turned)
	if err != nil || slices.Equal(turned, p.Rings) || len(turned) == 1 {
		return nil
	}
	r := readings[0]
	if ohms := r.Ohms.InexactFloat64(); ohms < 0.1 || ohms > 22e6 {
		return nil
	}
	if r.TempcoPPM != nil && !slices.Contains([]int{100, 50, 25, 15}, *r.TempcoPPM) {
		return nil
	}
	finest, common := commonSeries[r.TolerancePercent.Decimal.String()]
	if len(turned) <= 4 {
		finest = min(finest, series.E24)
	}
	if !common || !series.Contains(finest, r.Ohms) && !series.Contains(series.E24, r.Ohms) {
		return nil
	}
	return [][]string{names(turned)}
}

// commonSeries is the finest series that parts of a tolerance in percent are
// made in; common practice, no source.
var commonSeries = map[string]series.E{
	"20": series.E12, "10": series.E12, "5": series.E24, "2": series.E48, "1": series.E96,
	"0.5": series.E192, "0.25": series.E192, "0.1": series.E192,
}
