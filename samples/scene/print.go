package main

import "math"

// glyphs are the printed characters, five rows of three dots, top first.
var glyphs = map[rune][5]string{
	'0': {"###", "#.#", "#.#", "#.#", "###"}, '1': {".#.", "##.", ".#.", ".#.", "###"},
	'2': {"###", "..#", "###", "#..", "###"}, '3': {"###", "..#", ".##", "..#", "###"},
	'4': {"#.#", "#.#", "###", "..#", "..#"}, '5': {"###", "#..", "###", "..#", "###"},
	'6': {"###", "#..", "###", "#.#", "###"}, '7': {"###", "..#", ".#.", ".#.", ".#."},
	'8': {"###", "#.#", "###", "#.#", "###"}, '9': {"###", "#.#", "###", "..#", "###"},
	'K': {"#.#", "##.", "#..", "##.", "#.#"}, 'R': {"##.", "#.#", "##.", "#.#", "#.#"},
	'W': {"#.#", "#.#", "###", "###", "#.#"}, 'J': {"..#", "..#", "..#", "#.#", "###"},
	'V': {"#.#", "#.#", "#.#", "#.#", ".#."}, 'N': {"##.", "#.#", "#.#", "#.#", "#.#"},
}

// upper is the fraction of the way round a body at which its print and its dot
// have their middle.
const upper = 0.5

// inked says whether the text covers a point of the body. The text runs
// along the axis; slim is the body's length
// over its girth.
func inked(text string, t, turn, slim float64) bool {
	dot := 0.6 / float64(4*len(text)) // fraction of the length
	column := int(math.Floor((t - 0.2) / dot))
	row := int(math.Floor((turn-upper)/(dot*slim) + 2.5))
	if column < 0 || column >= 4*len(text) || row < 0 || row > 4 || column%4 == 3 {
		return false
	}
	return glyphs[rune(text[column/4])][row][column%4] == '#'
}
