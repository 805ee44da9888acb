package network

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

var (
	// spacedDash is a dash of a range with spaces round it.
	spacedDash = regexp.MustCompile(` *(-|–|\.\.) *`)
	// placeRange is a run of references, such as R1-R3 or R1-3.
	placeRange = regexp.MustCompile(`^([A-Za-z]+)([0-9]{1,6})-([A-Za-z]*)([0-9]{1,6})$`)
	// numbered is a reference that names a single place.
	numbered = regexp.MustCompile(`^[A-Za-z]+[0-9]+$`)
)

// places lists the references of a line, such as "R3, R4", each of a run such as
// R1-R3 by itself; R2-1 is no run but one reference. It returns an error for a
// run such as R3-R1 that does not rise, or that is too long.
func places(reference string) ([]string, error) {
	var list []string
	joined := spacedDash.ReplaceAllString(reference, "-")
	for _, word := range strings.FieldsFunc(joined, func(r rune) bool { return strings.ContainsRune(" ,;", r) }) {
		run := placeRange.FindStringSubmatch(word)
		if run == nil || run[3] != "" && run[3] != run[1] {
			list = append(list, word)
			continue
		}
		first, _ := strconv.Atoi(run[2])
		last, _ := strconv.Atoi(run[4])
		if last <= first && run[3] == "" { // a number in two parts
			list = append(list, word)
			continue
		}
		if last <= first || last-first >= mostOfLine {
			return nil, fmt.Errorf("%s is no run of 2 to %d references: write one such as R1-R3", word, mostOfLine)
		}
		for n := first; n <= last; n++ {
			list = append(list, run[1]+strconv.Itoa(n))
		}
		if len(list) > mostOfLine {
			return nil, fmt.Errorf("more than %d references are too many for one line: split it", mostOfLine)
		}
	}
	return list, nil
}

// doubtPlaces notes what the references of the lines leave in doubt: a place
// that is named twice, and a count that is no multiple of the places named.
func (l List) doubtPlaces() []string {
	notes := []string{}
	first := map[string]int{}
	for _, line := range l.Lines {
		named, _ := places(line.Reference) // was read before
		if n := len(named); n > 1 && line.Quantity%n != 0 {
			notes = append(notes, fmt.Sprintf("line %d names %d references, and its quantity is %d: the quantity counts", line.Line, n, line.Quantity))
		}
		for _, place := range named {
			switch before, twice := first[place]; {
			case !twice || !numbered.MatchString(place):
			case before == line.Line:
				notes = append(notes, fmt.Sprintf("line %d names %s twice: both are counted", line.Line, place))
			default:
				notes = append(notes, fmt.Sprintf("line %d names %s, as line %d does: both are counted", line.Line, place, before))
			}
			first[place] = line.Line
		}
	}
	return notes
}
