package report

import (
	"strings"
	"unicode"
)

// Name is a file's name as a terminal can show it and a screen reader say it: a
// question mark stands for each character that would steer the terminal or break
// the line, and for what is no text.
func Name(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return '?'
		}
		return r
	}, name)
}
