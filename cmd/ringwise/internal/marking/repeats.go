package marking

import (
	"slices"
	"strings"
)

// A Repeat is a name that stands in several rows.
type Repeat struct {
	Name  string
	Lines []int
}

// Repeats finds the names that stand in more than one row, in the order of the
// answers.
func Repeats(learners []Learner) []Repeat {
	var all []Repeat
	at := map[string]int{}
	for _, l := range learners {
		i, known := at[sameName(l.Name)]
		if !known {
			i = len(all)
			at[sameName(l.Name)] = i
			all = append(all, Repeat{Name: l.Name})
		}
		all[i].Lines = append(all[i].Lines, l.Line)
	}
	return slices.DeleteFunc(all, func(r Repeat) bool { return len(r.Lines) < 2 })
}

// sameName is the same for names that differ only in capitals or in spaces.
func sameName(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(name), " "))
}
