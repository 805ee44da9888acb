package marking

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// ReadRoll reads who is in a class: a name a line, or, from a table with columns
// parted by commas, semicolons or tabs, the column name, or the first one where no
// column is called so. A name stands once: answers could not tell two apart.
// Errors name the line.
func ReadRoll(r io.Reader, table bool) ([]string, error) {
	data, err := readText(r)
	if err != nil {
		return nil, err
	}
	var roll []string
	lines := map[string]int{}
	add := func(name string, line int) error {
		name = strings.TrimSpace(name)
		if name == "" || len(roll) == 0 && strings.EqualFold(name, nameColumn) {
			return nil
		}
		if first, twice := lines[sameName(name)]; twice {
			return fmt.Errorf("line %d: %q stands there twice, first in line %d: leave one out, or tell two learners apart here and in the answers", line, name, first)
		}
		lines[sameName(name)] = line
		if roll = append(roll, name); len(roll) > mostLearners {
			return fmt.Errorf("line %d: the list has more than %d names: give the class alone", line, mostLearners)
		}
		return nil
	}
	if table {
		err = eachInColumn(data, add)
	} else {
		number := 0
		for line := range bytes.Lines(data) {
			number++
			if err = add(string(line), number); err != nil {
				break
			}
		}
	}
	if err == nil && len(roll) == 0 {
		err = errors.New("the list has no names: write one on each line")
	}
	return roll, err
}

// eachInColumn goes through the names of a table.
func eachInColumn(data []byte, do func(name string, line int) error) error {
	rows := rowsOf(data)
	rows.FieldsPerRecord = -1
	column := -1
	for {
		row, err := rows.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return plain(err)
		}
		if column < 0 {
			column = max(0, slices.IndexFunc(row, func(cell string) bool { return strings.EqualFold(strings.TrimSpace(cell), nameColumn) }))
		}
		if column < len(row) {
			line, _ := rows.FieldPos(column)
			if err := do(row[column], line); err != nil {
				return err
			}
		}
	}
}

// Attendance is how the answers of a class agree with who is in it.
type Attendance struct {
	Absent    []string // in the class, without a row
	Empty     []string // in the class, with no answer in any row
	Strangers []string // in no class list, and yet with a row
}

// Attend compares answers with who is in the class, in the order of each.
func Attend(roll []string, learners []Learner) Attendance {
	var a Attendance
	filled := map[string]bool{} // by name: whether any box of any row is
	for _, l := range learners {
		name := sameName(l.Name)
		filled[name] = filled[name] || l.answered()
	}
	known := map[string]bool{}
	for _, name := range roll {
		known[sameName(name)] = true
		switch any, row := filled[sameName(name)]; {
		case !row:
			a.Absent = append(a.Absent, name)
		case !any:
			a.Empty = append(a.Empty, name)
		}
	}
	for _, l := range learners {
		if name := sameName(l.Name); !known[name] {
			known[name] = true // told once
			a.Strangers = append(a.Strangers, l.Name)
		}
	}
	return a
}

// answered reports whether any box was filled in.
func (l Learner) answered() bool {
	for _, text := range l.Answers {
		if text != "" {
			return true
		}
	}
	return false
}
