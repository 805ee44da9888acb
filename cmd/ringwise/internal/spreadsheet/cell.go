// Package spreadsheet guards what the program writes as CSV from being reckoned
// with by the spreadsheet that opens it.
package spreadsheet

import "strings"

// formulaStarts are what a spreadsheet may take for the start of a formula
// (common practice, no source), and the guard itself.
const formulaStarts = "=+-@'"

// Guard returns a text that a person or a file named as a cell that stays text:
// with an apostrophe before it where it may pass for a formula.
func Guard(text string) string {
	if text != "" && strings.ContainsRune(formulaStarts, rune(text[0])) {
		return "'" + text
	}
	return text
}

// Unguard returns the text of a cell that Guard made.
func Unguard(text string) string { return strings.TrimPrefix(text, "'") }
