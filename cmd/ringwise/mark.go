package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"ringwise/cmd/ringwise/internal/marking"
	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/sheet/paper"
)

const markBrief = "mark typed answers to a question sheet"

const markHelp = `usage: ringwise mark ANSWERS.csv [--sheet CODE] [--keys FOLDER] [--out FOLDER]
                    [--class FILE] [--paper a4|letter]

Marks the answers to a sheet that ringwise sheet made. ANSWERS.csv has a row for
each learner: a column name, one for each box, such as 1a, and one for the
sheet's code where a class had several variants; it then has a column for every
box of any of them. CODE-typed.csv is such a table to fill in; a spreadsheet can
save it as CSV in UTF-8, with commas, semicolons or tabs.

A box is one point. Values may be written in any way that ringwise reads: 5600,
5.6 kΩ, 5K6. Wrong answers are looked at for the usual slips: read from the
wrong end, multiplier off by one, brown and red, tolerance forgotten and others.

Beside ANSWERS.csv, or in the folder of --out, it writes
  …-points.csv   points for each question and what is wrong with each box
  …-class.pdf    one page on how the class did, with a chart
  …-class.html   the same for the screen

  --sheet CODE   the sheet, for rows that name none
  --keys FOLDER  where CODE-key.json lies, if not beside ANSWERS.csv, in the
                 folder sheets or in this one
  --class FILE   who is in the class: a name a line, or a table that ends in
                 .csv and has them in the column name, or else in the first.
                 Then it also says who handed in nothing, and who did but is
                 not in the class
  --out FOLDER   where the files go, if not beside ANSWERS.csv
  --paper        of the PDF, a4 if not given

Exit code: 0 marked, 1 it could not be, 2 wrong use.

Examples:
  ringwise mark sheets/K7Q4MX-typed.csv --sheet K7Q4MX
  ringwise mark answers.csv --keys sheets --class class.txt --out marks
`

// markAnswers marks typed answers.
func markAnswers(_ context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("mark", flag.ContinueOnError)
	code := set.String("sheet", "", "")
	keys := set.String("keys", "", "")
	classFile := set.String("class", "", "")
	out := set.String("out", "", "")
	size := paper.A4
	set.Func("paper", "", func(text string) error {
		sizes, err := paper.ParseSizes(text)
		if err == nil && len(sizes) != 1 {
			err = fmt.Errorf("use a4 or letter")
		}
		if err == nil {
			size = sizes[0]
		}
		return err
	})
	words, err := parse(set, args)
	switch {
	case err != nil:
		return 0, err
	case len(words) != 1:
		return 0, usage("name one table of answers")
	}
	answers := words[0]
	f, err := openTable(answers)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	folders := []string{*keys}
	if *keys == "" {
		folders = []string{filepath.Dir(answers)}
		for _, usual := range []string{"sheets", "."} {
			if !slices.Contains(folders, usual) {
				folders = append(folders, usual)
			}
		}
	}
	learners, err := marking.ReadAnswers(f, func(own string) (sheet.Key, error) {
		if own == "" {
			own = *code
		}
		if own == "" {
			return sheet.Key{}, marking.ErrNoSheet
		}
		return marking.FindKey(own, folders)
	})
	if err != nil {
		return 0, fmt.Errorf("%s: %w", answers, err)
	}
	scripts, err := marking.MarkAll(learners)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", answers, err)
	}
	class, err := marking.Sum(scripts)
	if err != nil {
		return 0, err
	}
	var roll []string
	if *classFile != "" {
		if roll, err = readRoll(*classFile); err != nil {
			return 0, err
		}
	}
	folder := *out
	if folder == "" {
		folder = filepath.Dir(answers)
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return 0, fmt.Errorf("the folder %s cannot be made: %w", folder, err)
	}
	stem := filepath.Join(folder, strings.TrimSuffix(filepath.Base(answers), filepath.Ext(answers)))
	for _, file := range []struct {
		name    string
		content func(io.Writer) error
	}{
		{stem + "-points.csv", func(w io.Writer) error { return marking.WritePoints(w, scripts) }},
		{stem + "-class.html", class.WriteHTML},
		{stem + "-class.pdf", func(w io.Writer) error { _, err := class.WritePDF(w, size); return err }},
	} {
		var b bytes.Buffer
		if err := file.content(&b); err != nil {
			return 0, err
		}
		if err := os.WriteFile(file.name, b.Bytes(), 0o666); err != nil {
			return 0, err
		}
	}
	if repeats := marking.Repeats(learners); len(repeats) > 0 {
		fmt.Fprintf(std.err, "%s: %s: each row is marked, so take out what was typed twice\n", answers, repeated(repeats))
	}
	if err := printClass(std.out, scripts, class); err != nil {
		return 0, err
	}
	if roll != nil {
		printAttendance(std.out, *classFile, len(roll), marking.Attend(roll, learners))
	}
	_, err = fmt.Fprintf(std.out, "\nwritten: %s-points.csv, -class.pdf and -class.html\n", stem)
	return allWell, err
}

// readRoll reads who is in the class.
func readRoll(path string) ([]string, error) {
	f, err := openTable(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	roll, err := marking.ReadRoll(f, strings.EqualFold(filepath.Ext(path), ".csv"))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return roll, nil
}

// mostRepeats is how many names that stand in several rows are told.
const mostRepeats = 8

// repeated says which names stand in which rows.
func repeated(repeats []marking.Repeat) string {
	var told []string
	for _, r := range repeats[:min(len(repeats), mostRepeats)] {
		lines := make([]string, len(r.Lines))
		for i, line := range r.Lines {
			lines[i] = strconv.Itoa(line)
		}
		told = append(told, fmt.Sprintf("%q stands in %d rows (lines %s)", r.Name, len(lines), strings.Join(lines, ", ")))
	}
	if more := len(repeats) - mostRepeats; more > 0 {
		told = append(told, fmt.Sprintf("and so do %d more names", more))
	}
	return strings.Join(told, "; ")
}

// printAttendance writes who handed in nothing, and who is not in the class.
func printAttendance(w io.Writer, path string, of int, a marking.Attendance) {
	fmt.Fprintf(w, "\nhanded in: %d of the %d in %s\n", of-len(a.Absent)-len(a.Empty), of, path)
	for _, list := range []struct {
		names []string
		what  string
	}{{a.Absent, "handed in nothing"}, {a.Empty, "has a row with no answer in it"}, {a.Strangers, "not in " + path + ", or written otherwise there"}} {
		if len(list.names) == 0 {
			continue
		}
		fmt.Fprintf(w, "%s: %d\n", list.what, len(list.names))
		for _, name := range list.names {
			fmt.Fprintf(w, "  %s\n", name)
		}
	}
}

// printClass writes each learner's points and how the class did.
func printClass(w io.Writer, scripts []marking.Script, class marking.Class) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, s := range scripts {
		fmt.Fprintf(table, "%s\t%s\t%d of %d", s.Name, s.Key.Sheet, s.Points(), s.Of())
		if n := s.NotRead(); n > 0 {
			fmt.Fprintf(table, ", %d not read", n)
		}
		fmt.Fprintln(table)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w)
	for _, line := range append(slices.Clone(class.Lines), class.Slips...) {
		fmt.Fprintln(w, line)
	}
	return nil
}
