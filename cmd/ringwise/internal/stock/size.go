package stock

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// A Size is how large a body is: one of TypeSizes, or length and diameter in
// millimetres such as "6.3 × 2.3 mm". Empty if unknown.
type Size string

// TypeSizes are the usual sizes of axial bodies: two digits each for the
// diameter and the length in whole millimetres, near enough (common practice,
// no source).
var TypeSizes = []Size{"0204", "0207", "0411", "0414", "0617"}

// millimetres is a length, and a diameter where given.
var millimetres = regexp.MustCompile(`^([0-9]{1,3}(?:[.,][0-9]{1,2})?)(?: ?[x×*] ?([0-9]{1,2}(?:[.,][0-9]{1,2})?))? ?(?:mm)?$`)

// ParseSize reads a type size such as "0207", or a length or length and
// diameter in millimetres such as "6.3 mm" or "6.3 x 2.3". Nothing at all is
// the unknown size.
func ParseSize(text string) (Size, error) {
	plain := strings.ToLower(strings.TrimSpace(text))
	if plain == "" {
		return "", nil
	}
	if slices.Contains(TypeSizes, Size(plain)) {
		return Size(plain), nil
	}
	part := millimetres.FindStringSubmatch(plain)
	if part == nil || (strings.HasPrefix(plain, "0") && !strings.ContainsAny(plain, ".,")) {
		return "", fmt.Errorf("%q is no body size: use 0204, 0207, 0411, 0414, 0617, or length and diameter in mm such as 6.3 x 2.3", shorten(text))
	}
	var sides []string
	for _, side := range part[1:] {
		if side == "" {
			continue
		}
		mm, err := decimal.NewFromString(strings.Replace(side, ",", ".", 1))
		if err != nil || !mm.IsPositive() {
			return "", fmt.Errorf("%q is no body size: a length in mm is above zero, such as 6.3 x 2.3", shorten(text))
		}
		sides = append(sides, mm.String())
	}
	return Size(strings.Join(sides, " × ") + " mm"), nil
}

// shorten cuts text that goes into a message.
func shorten(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
