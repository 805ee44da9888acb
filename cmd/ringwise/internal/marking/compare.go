package marking

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/decode"
	"ringwise/decode/network"
)

// A Mark is what came of one answer.
type Mark struct {
	Box   sheet.KeyBox
	Given string
	Right bool
	// Slips are the causes that would lead to just this wrong answer.
	Slips []sheet.SlipName
	// Why says why an answer cannot be read; empty if it can.
	Why string
}

// compare marks one answer. An answer may have any form that people write.
func compare(box sheet.KeyBox, given string, w sheet.Words) Mark {
	m := Mark{Box: box, Given: strings.TrimSpace(given)}
	if m.Given == "" {
		return m
	}
	same, err := reader(box, m.Given, w)
	if err != nil {
		m.Why = err.Error()
		return m
	}
	if m.Right = same(box.Want); m.Right {
		return m
	}
	for _, s := range box.Slips {
		if same(s.Answer) && !slices.Contains(m.Slips, s.Name) {
			m.Slips = append(m.Slips, s.Name)
		}
	}
	return m
}

// reader reads an answer and returns how to compare it with one of the key.
func reader(box sheet.KeyBox, given string, w sheet.Words) (same func(want string) bool, err error) {
	switch box.Form {
	case sheet.FormRings:
		rings, err := readRings(given, w)
		return func(want string) bool { return letters(rings) == want }, err
	case sheet.FormLetters:
		set, err := readLetters(given, w)
		return func(want string) bool { return set == want }, err
	case sheet.FormWord:
		plain := strings.TrimRight(given, ".!")
		for _, word := range box.Words {
			if strings.EqualFold(word, plain) {
				return func(want string) bool { return word == want }, nil
			}
		}
		return nil, fmt.Errorf("%q is none of %s", given, strings.Join(box.Words, ", "))
	}
	number, err := readNumber(box.Form, given)
	return func(want string) bool {
		if box.Form == sheet.FormMarking {
			return decode.FormatRKM(number) == want
		}
		d, err := decimal.NewFromString(want)
		return err == nil && sheet.Agrees(number, d, box.Figures)
	}, err
}

// readNumber reads a number of a form, in ohms, percent, ppm/K, volts or
// watts.
func readNumber(form sheet.Form, given string) (decimal.Decimal, error) {
	given = bare(given)
	switch form {
	case sheet.FormOhms:
		if _, err := decode.ParseRow(given); err == nil {
			return decimal.Decimal{}, fmt.Errorf("%q names rings, not their value: write such as 5.6 kΩ or 5K6", given)
		}
		v, err := network.ParseValue(given)
		return v.Ohms, err
	case sheet.FormMarking:
		m, err := decode.ParseRKM(given)
		return m.Ohms, err
	case sheet.FormPercent:
		return network.ParseTolerance(percentWord.ReplaceAllString(given, "%"))
	case sheet.FormTempco:
		return readTempco(given)
	case sheet.FormVolts:
		return readQuantity(given, network.Volt)
	case sheet.FormWatts:
		return readQuantity(given, network.Watt)
	case sheet.FormNumber:
		return readPlace(given)
	}
	return decimal.Decimal{}, fmt.Errorf("the key asks for a form %q that is not known: make the sheet again with its seed", form)
}

// bare leaves out the signs that people set before what they worked out, such
// as "≈ 338 kΩ" or "= 4.5 V".
func bare(given string) string {
	return strings.TrimLeftFunc(given, func(r rune) bool { return strings.ContainsRune("=≈~", r) || unicode.IsSpace(r) })
}

var percentWord = regexp.MustCompile(`(?i)\s*per ?cent$`)

// readQuantity reads a voltage or a power.
func readQuantity(given, unit string) (decimal.Decimal, error) {
	amount, err := network.ParseQuantity(given, unit)
	if err != nil {
		return decimal.Decimal{}, err
	}
	// Twelve figures leave out what binary fractions add.
	return decimal.NewFromString(strconv.FormatFloat(amount, 'g', 12, 64))
}

// readTempco reads a coefficient: 50, 50 ppm/K, or its letter.
func readTempco(given string) (decimal.Decimal, error) {
	if ppm, err := decode.TempcosOfLetter(given); err == nil {
		return decimal.New(int64(ppm[0]), 0), nil
	}
	plain := strings.ToLower(strings.Join(strings.Fields(given), ""))
	for _, sign := range []string{"±", "+/-", "+-"} {
		plain = strings.TrimPrefix(plain, sign)
	}
	for _, unit := range []string{"/k", "/°c", "/c", "ppm"} {
		plain = strings.TrimSuffix(plain, unit)
	}
	n, err := strconv.Atoi(plain)
	if err != nil {
		return decimal.Decimal{}, fmt.Errorf("%q is no number of ppm/K", given)
	}
	return decimal.New(int64(n), 0), nil
}

var placeText = regexp.MustCompile(`^\D*([0-9]{1,3})\D*$`)

// readPlace reads a small whole number: 3, "ring 3", "3rd".
func readPlace(given string) (decimal.Decimal, error) {
	part := placeText.FindStringSubmatch(given)
	if part == nil {
		return decimal.Decimal{}, fmt.Errorf("%q is no whole number", given)
	}
	return decimal.NewFromString(part[1])
}

// readRings reads rings by name or by letters, parted by anything or by the word
// for "and" or, if letters, by nothing.
func readRings(given string, w sheet.Words) ([]decode.Colour, error) {
	words := strings.FieldsFunc(given, func(r rune) bool { return !unicode.IsLetter(r) })
	words = slices.DeleteFunc(words, func(word string) bool { return strings.EqualFold(word, w.And) })
	if len(words) == 1 && len(words[0])%2 == 0 {
		if rings, err := readColours(pairs(words[0]), w); err == nil {
			return rings, nil
		}
	}
	if len(words) == 0 {
		return nil, errors.New("it names no ring")
	}
	return readColours(words, w)
}

func pairs(word string) []string {
	var list []string
	for i := 0; i+1 < len(word); i += 2 {
		list = append(list, word[i:i+2])
	}
	return list
}

func readColours(words []string, w sheet.Words) ([]decode.Colour, error) {
	var rings []decode.Colour
	for _, word := range words {
		own := slices.IndexFunc(w.Colours[:], func(name string) bool { return strings.EqualFold(name, word) })
		c, err := decode.Colour(max(own, 0)), error(nil)
		if own < 0 {
			c, err = decode.ParseColour(word)
		}
		if err != nil {
			return nil, err
		}
		rings = append(rings, c)
	}
	return rings, nil
}

func letters(rings []decode.Colour) string {
	list := make([]string, len(rings))
	for i, c := range rings {
		list[i] = c.Letters()
	}
	return strings.Join(list, " ")
}

// readLetters reads the letters of figures in any order, parted by anything
// or nothing, or the word for none.
func readLetters(given string, w sheet.Words) (string, error) {
	if strings.EqualFold(given, w.None) || given == sheet.NoneOfThem || given == "–" {
		return sheet.NoneOfThem, nil
	}
	var list []string
	for _, r := range strings.ToUpper(strings.ReplaceAll(strings.ToLower(given), " "+w.And+" ", " ")) {
		switch {
		case r >= 'A' && r <= 'D':
			if !slices.Contains(list, string(r)) {
				list = append(list, string(r))
			}
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			return "", fmt.Errorf("%q is no list of letters: write such as A, C", given)
		}
	}
	if len(list) == 0 {
		return "", fmt.Errorf("%q names no letter", given)
	}
	slices.Sort(list)
	return strings.Join(list, " "), nil
}
