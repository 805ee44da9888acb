package network

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// A ListLine is one line of a project's list of parts.
type ListLine struct {
	Line      int    `json:"line"`      // of the file, from 1
	Reference string `json:"reference"` // the places in the circuit, such as "R3, R4"
	Need      Need   `json:"need"`
	Quantity  int    `json:"quantity"`
}

// A List is a project's list of parts.
type List struct {
	Lines   []ListLine `json:"lines"`
	Ignored []string   `json:"ignored"` // columns that say nothing here
	Notes   []string   `json:"notes"`   // references and quantities in doubt
}

// Worst is the highest voltage that any line names and the most power that one
// makes.
func (l List) Worst() Operation {
	var worst Operation
	for _, line := range l.Lines {
		o := line.Need.Operation()
		worst.Volts, worst.Watts = max(worst.Volts, o.Volts), max(worst.Watts, o.Watts)
	}
	return worst
}

// listColumns are the columns of a list and their other names. Only value must
// be there.
var listColumns = map[string][]string{
	"reference": {"reference", "references", "ref"},
	"value":     {"value"},
	"tolerance": {"tolerance"},
	"power":     {"power", "rating"},
	"quantity":  {"quantity", "qty"},
	"kind":      {"kind"},
	"voltage":   {"voltage"},
}

// Bounds of a list.
const (
	mostListBytes = 1 << 20
	mostListLines = 2000
	mostOfLine    = 1000 // of one line
)

// ParseList reads a project's list: CSV whose first line names the columns
// reference, value, tolerance, power, quantity, kind and voltage, in any order
// and case. Only value must be there. Columns are parted by commas, semicolons
// or tabs. A field left empty is unknown; an empty quantity is the count of
// references, those of a run such as R1-R3 included, or 1. Other columns are passed
// over and named in the answer. An error names line and column.
func ParseList(text string) (List, error) {
	if len(text) > mostListBytes {
		return List{}, errors.New("the list is larger than 1 MB: is it the right file?")
	}
	text = strings.TrimPrefix(text, "\ufeff")
	first, _, _ := strings.Cut(strings.TrimLeft(text, "\r\n"), "\n")
	reader := csv.NewReader(strings.NewReader(text))
	reader.TrimLeadingSpace = true
	reader.Comma = ','
	for _, mark := range []rune{';', '\t'} {
		if strings.ContainsRune(first, mark) {
			reader.Comma = mark
		}
	}
	header, err := reader.Read()
	if errors.Is(err, io.EOF) {
		return List{}, errors.New("the list is empty: its first line names the columns, such as reference,value,tolerance,power,quantity")
	}
	if err != nil {
		return List{}, listError(err)
	}
	columns, list, err := nameColumns(header)
	if err != nil {
		return List{}, err
	}
	for {
		row, err := reader.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		number := 0
		if len(row) > 0 {
			number, _ = reader.FieldPos(0)
		}
		switch {
		case errors.Is(err, csv.ErrFieldCount) && len(row) < len(header):
			return List{}, fmt.Errorf("line %d has %d columns, and the first line names %d: give each column its field, empty or not, such as %q at the end", number, len(row), len(header), strings.Repeat(string(reader.Comma), len(header)-len(row)))
		case errors.Is(err, csv.ErrFieldCount):
			return List{}, fmt.Errorf("line %d has %d columns, and the first line names %d: put a field with %q in it into quotes", number, len(row), len(header), reader.Comma)
		case err != nil:
			return List{}, listError(err)
		case len(list.Lines) == mostListLines:
			return List{}, fmt.Errorf("the list has more than %d lines: split it", mostListLines)
		}
		if strings.Trim(strings.Join(row, ""), " \t") == "" {
			continue
		}
		line, err := parseLine(columns, row)
		if err != nil {
			return List{}, fmt.Errorf("line %d, column %w", number, err)
		}
		line.Line = number
		list.Lines = append(list.Lines, line)
	}
	if len(list.Lines) == 0 {
		return List{}, errors.New("the list has no lines below the one that names the columns")
	}
	list.Notes = list.doubtPlaces()
	return list, nil
}

// listError says in plain words what is wrong with a CSV file.
func listError(err error) error {
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		return fmt.Errorf("line %d, at character %d: %w: a field with quotes in it is put into quotes, with each of its own written twice", parse.Line, parse.Column, parse.Err)
	}
	return err
}

// nameColumns finds at which index each column stands.
func nameColumns(header []string) (map[string]int, List, error) {
	list := List{Ignored: []string{}}
	columns := map[string]int{}
	for i, field := range header {
		word := strings.ToLower(strings.TrimSpace(field))
		known := ""
		for name, others := range listColumns {
			if slices.Contains(others, word) {
				known = name
			}
		}
		if known == "" {
			list.Ignored = append(list.Ignored, strings.TrimSpace(field))
			continue
		}
		if before, twice := columns[known]; twice {
			return nil, List{}, fmt.Errorf("line 1: columns %d and %d are both the %s: take one out", before+1, i+1, known)
		}
		columns[known] = i
	}
	if _, there := columns["value"]; !there {
		return nil, List{}, fmt.Errorf("line 1 names no column value, only %s: name the columns reference, value, tolerance, power, quantity", quoted(header))
	}
	return columns, list, nil
}

func quoted(fields []string) string {
	var words []string
	for _, field := range fields[:min(8, len(fields))] {
		words = append(words, fmt.Sprintf("%.20q", field))
	}
	return strings.Join(words, ", ")
}

// parseLine reads one row. Its errors start with the name of the column.
func parseLine(columns map[string]int, row []string) (ListLine, error) {
	field := func(name string) string {
		if i, there := columns[name]; there {
			return strings.TrimSpace(row[i])
		}
		return ""
	}
	line := ListLine{Reference: field("reference"), Quantity: 1}
	var err error
	if line.Need.Value, err = ParseValue(field("value")); err != nil {
		return line, fmt.Errorf("value: %w", err)
	}
	line.Need.OwnTolerance = line.Need.Value.TolerancePercent.Valid
	if text := field("tolerance"); text != "" {
		percent, err := ParseTolerance(text)
		if err != nil {
			return line, fmt.Errorf("tolerance: %w", err)
		}
		line.Need.Value.TolerancePercent, line.Need.OwnTolerance = decimal.NewNullDecimal(percent), false
	}
	if text := field("power"); text != "" {
		if line.Need.RatedWatts, err = ParseQuantity(text, Watt); err != nil {
			return line, fmt.Errorf("power: %w", err)
		}
	}
	if text := field("voltage"); text != "" {
		if line.Need.Volts, err = ParseQuantity(text, Volt); err != nil {
			return line, fmt.Errorf("voltage: %w", err)
		}
	}
	if line.Need.Kind, err = decode.ParseKind(field("kind")); err != nil {
		return line, fmt.Errorf("kind: %w", err)
	}
	references, err := places(line.Reference)
	if err != nil {
		return line, fmt.Errorf("reference: %w", err)
	}
	line.Quantity = max(1, len(references))
	if text := field("quantity"); text != "" {
		line.Quantity, err = strconv.Atoi(text)
		if err != nil || line.Quantity < 1 || line.Quantity > mostOfLine {
			return line, fmt.Errorf("quantity: %.20q is no count: write a whole number from 1 to %d", text, mostOfLine)
		}
	}
	return line, nil
}
