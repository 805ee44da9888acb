package marking

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"ringwise/cmd/ringwise/internal/sheet"
)

// The columns of a table of answers besides those of the boxes.
const (
	nameColumn  = "name"
	sheetColumn = "sheet"
)

// Bounds of a table of answers.
const (
	mostBytes    = 8 << 20
	mostLearners = 2000
)

// A Learner is one row of a table of answers: who, which sheet, and what was
// typed for each box.
type Learner struct {
	Name    string
	Line    int // where the row stands in the table, from 1
	Key     sheet.Key
	Answers map[string]string // by the name of the box
}

// ErrNoSheet says that neither a row nor the caller names the sheet.
var ErrNoSheet = errors.New("no sheet is named")

// WriteForm writes an empty table of answers to a sheet.
func WriteForm(w io.Writer, key sheet.Key) error {
	header := []string{nameColumn, sheetColumn}
	for _, b := range key.Boxes() {
		header = append(header, b.Name)
	}
	table := csv.NewWriter(w)
	if err := table.Write(header); err != nil {
		return err
	}
	table.Flush()
	return table.Error()
}

// ReadAnswers reads a table of answers: a column for the name, one for each
// box, and one for the sheet's code unless it is the same for all. Columns may
// be parted by commas, semicolons or tabs. find gets the key to a code; the
// code is empty where a row has none. Errors name the line and the column.
func ReadAnswers(r io.Reader, find func(code string) (sheet.Key, error)) ([]Learner, error) {
	data, err := readText(r)
	if err != nil {
		return nil, err
	}
	t := table{csv: rowsOf(data)}
	if err := t.readHeader(); err != nil {
		return nil, err
	}
	keys := map[string]sheet.Key{}
	var learners []Learner
	for {
		row, err := t.csv.Read()
		if err == io.EOF {
			break
		}
		if errors.Is(err, csv.ErrFieldCount) {
			return nil, t.otherCount(row)
		}
		if err != nil {
			return nil, plain(err)
		}
		if strings.TrimSpace(strings.Join(row, "")) == "" {
			continue
		}
		l, err := t.learner(row, keys, find)
		if err != nil {
			return nil, err
		}
		if learners = append(learners, l); len(learners) > mostLearners {
			return nil, fmt.Errorf("the table has more than %d rows: mark it in parts", mostLearners)
		}
	}
	if len(learners) == 0 {
		return nil, errors.New("line 2: the table has no answers: type one row for each learner below the first line")
	}
	for i, name := range t.header {
		if name == nameColumn || name == sheetColumn || slices.ContainsFunc(learners, func(l Learner) bool { _, has := l.Answers[name]; return has }) {
			continue
		}
		return nil, fmt.Errorf("line 1, column %d: no box of sheet %s is called %q: its boxes are %s",
			i+1, learners[0].Key.Sheet, name, boxNames(learners[0].Key))
	}
	return learners, nil
}

// readText reads a whole file, which must be in UTF-8.
func readText(r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return nil, err
	}
	if len(data) > mostBytes {
		return nil, fmt.Errorf("the table is larger than %d MB: give names and answers alone", mostBytes>>20)
	}
	for i, line := range bytes.Split(data, []byte("\n")) {
		if !utf8.Valid(line) {
			return nil, fmt.Errorf("line %d: this is no text in UTF-8, and another encoding loses Ω and names: save it again in UTF-8, a table as CSV in UTF-8", i+1)
		}
	}
	return bytes.TrimPrefix(data, []byte("\ufeff")), nil
}

// rowsOf reads a table row by row, whatever parts its columns.
func rowsOf(data []byte) *csv.Reader {
	rows := csv.NewReader(bytes.NewReader(data))
	rows.Comma = separator(data)
	rows.TrimLeadingSpace = rows.Comma != '\t' // it would take empty cells for space
	return rows
}

// separator is what parts the columns of the first line.
func separator(data []byte) rune {
	first, _, _ := bytes.Cut(data, []byte("\n"))
	best, most := ',', bytes.Count(first, []byte(","))
	for _, s := range []rune{';', '\t'} {
		if n := bytes.Count(first, []byte(string(s))); n > most {
			best, most = s, n
		}
	}
	return best
}

// A table reads the rows of a table of answers.
type table struct {
	csv    *csv.Reader
	header []string
}

func (t *table) readHeader() error {
	header, err := t.csv.Read()
	if err == io.EOF {
		return errors.New("line 1: the table is empty: the first line names the columns, as in CODE-typed.csv")
	}
	if err != nil {
		return plain(err)
	}
	for i, name := range header {
		name = strings.ToLower(strings.TrimSpace(name))
		if name == "" {
			return fmt.Errorf("line 1, column %d: the column has no name: write %s, %s or a box such as 1a", i+1, nameColumn, sheetColumn)
		}
		if slices.Contains(t.header, name) {
			return fmt.Errorf("line 1, column %d: the column %q stands there twice: leave one out", i+1, name)
		}
		t.header = append(t.header, name)
	}
	if !slices.Contains(t.header, nameColumn) {
		return fmt.Errorf("line 1, column 1: there is no column %q: the first line is such as name,sheet,1a,1b", nameColumn)
	}
	return nil
}

// learner reads one row.
func (t *table) learner(row []string, keys map[string]sheet.Key, find func(string) (sheet.Key, error)) (Learner, error) {
	cell := func(column string) (text string, at int) {
		at = slices.Index(t.header, column)
		if at >= 0 {
			text = strings.TrimSpace(row[at])
		}
		return text, at
	}
	place := func(at int) string {
		line, _ := t.csv.FieldPos(max(at, 0))
		return fmt.Sprintf("line %d, column %d", line, max(at, 0)+1)
	}
	l := Learner{Answers: map[string]string{}}
	var at int
	if l.Name, at = cell(nameColumn); l.Name == "" {
		return l, fmt.Errorf("%s: the name is missing: write whose answers these are", place(at))
	}
	code, at := cell(sheetColumn)
	key, known := keys[code]
	if !known {
		var err error
		if key, err = find(code); err != nil {
			if errors.Is(err, ErrNoSheet) {
				return l, fmt.Errorf("%s: the sheet's code is missing: write it there, or name the sheet with --sheet", place(at))
			}
			if code != "" {
				err = fmt.Errorf("%s: %w", place(at), err)
			}
			return l, err
		}
		keys[code] = key
	}
	l.Key = key
	l.Line, _ = t.csv.FieldPos(0)
	var missing []string
	for _, b := range key.Boxes() {
		text, at := cell(b.Name)
		if at < 0 {
			missing = append(missing, b.Name)
		}
		l.Answers[b.Name] = text
	}
	if missing != nil {
		return l, fmt.Errorf("line 1, column %d: columns are missing that sheet %s has: add %s", len(t.header)+1, key.Sheet, strings.Join(missing, " "))
	}
	for i, name := range t.header {
		_, has := l.Answers[name]
		if !has && name != nameColumn && name != sheetColumn && strings.TrimSpace(row[i]) != "" {
			return l, fmt.Errorf("%s: sheet %s has no box %q: its boxes are %s", place(i), key.Sheet, name, boxNames(key))
		}
	}
	return l, nil
}

// otherCount says that a row has more or fewer columns than the first line.
func (t *table) otherCount(row []string) error {
	line, _ := t.csv.FieldPos(0)
	mend := "give each box its column, empty or not"
	if len(row) > len(t.header) {
		mend = fmt.Sprintf("put an answer with %q in it between quotation marks", t.csv.Comma)
	}
	return fmt.Errorf("line %d: the row has %d columns and the first line %d: %s", line, len(row), len(t.header), mend)
}

func boxNames(key sheet.Key) string {
	boxes := key.Boxes()
	names := make([]string, len(boxes))
	for i, b := range boxes {
		names[i] = b.Name
	}
	return strings.Join(names, " ")
}

// plain says what an error of the csv package means.
func plain(err error) error {
	var wrong *csv.ParseError
	if !errors.As(err, &wrong) {
		return err
	}
	return fmt.Errorf("line %d, column %d: the quotation marks do not match: save the table again as CSV", wrong.Line, wrong.Column)
}
