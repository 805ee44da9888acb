package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/cmd/ringwise/internal/stock/labels"
)

// exportStock writes all entries.
func exportStock(ctx context.Context, c *stockCall) (int, error) {
	asCSV, err := c.format()
	if err != nil {
		return 0, err
	}
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	return c.write(func(w io.Writer) error {
		if asCSV {
			return s.ExportCSV(ctx, w)
		}
		return s.ExportJSON(ctx, w)
	})
}

// writeLabels writes a sheet of labels.
func writeLabels(ctx context.Context, c *stockCall) (int, error) {
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	bins, err := s.Bins(ctx)
	if err != nil {
		return 0, err
	}
	return c.write(func(w io.Writer) error { return labels.Write(w, bins) })
}

// format tells by the options, or by the name of the file, whether it is CSV
// or JSON.
func (c *stockCall) format() (asCSV bool, err error) {
	suffix := ""
	if len(c.words) > 0 {
		suffix = strings.ToLower(filepath.Ext(c.words[0]))
	}
	switch {
	case c.asCSV && c.asJSON:
		return false, usage("choose one of --csv and --json")
	case c.asCSV || !c.asJSON && suffix == ".csv":
		return true, nil
	case c.asJSON || suffix == ".json" || suffix == ".jsonl":
		return false, nil
	}
	return false, usage("choose --csv or --json")
}

// write writes to the file that is named, which must be new, or else to
// standard output. A file comes to be whole or not at all.
func (c *stockCall) write(do func(io.Writer) error) (int, error) {
	if len(c.words) == 0 || c.words[0] == "-" {
		return allWell, do(c.std.out)
	}
	var whole bytes.Buffer
	if err := do(&whole); err != nil {
		return 0, err
	}
	path := c.words[0]
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	switch {
	case errors.Is(err, os.ErrExist):
		return 0, fmt.Errorf("%s is there already: choose another name", path)
	case err != nil:
		return 0, fmt.Errorf("%s cannot be written: %w", path, errors.Unwrap(err))
	}
	_, err = f.Write(whole.Bytes())
	err = errors.Join(err, f.Sync(), f.Close())
	if err != nil {
		os.Remove(path)
		return 0, fmt.Errorf("%s cannot be written: %w", path, err)
	}
	return allWell, nil
}

// importStock adds what export has written.
func importStock(ctx context.Context, c *stockCall) (int, error) {
	if len(c.words) == 0 {
		return 0, usage("name the file to import, or - for standard input")
	}
	asCSV, err := c.format()
	if err != nil {
		return 0, err
	}
	in := c.std.in
	if c.words[0] != "-" {
		f, err := os.Open(c.words[0])
		if err != nil {
			return 0, fmt.Errorf("%s cannot be read: %w", c.words[0], errors.Unwrap(err))
		}
		defer f.Close()
		in = f
	}
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	read := s.ImportJSON
	if asCSV {
		read = s.ImportCSV
	}
	done, err := read(ctx, in)
	if err != nil {
		return 0, err
	}
	fmt.Fprintf(c.std.out, "imported %s; there already: %d\n", plural(done.Added, "entry"), done.Known)
	return allWell, nil
}

// backUp copies the whole stock into a new file.
func backUp(ctx context.Context, c *stockCall) (int, error) {
	if len(c.words) == 0 {
		return 0, usage("name the file for the backup")
	}
	s, err := c.open(ctx)
	if err != nil {
		return 0, err
	}
	defer s.Close()
	if err := s.Backup(ctx, c.words[0]); err != nil {
		return 0, err
	}
	found, err := stock.Verify(ctx, c.words[0])
	if err != nil {
		return 0, err
	}
	fmt.Fprintf(c.std.out, "backup %s: ", c.words[0])
	return c.report(found), nil
}

// restoreStock puts a backup in place of the stock.
func restoreStock(ctx context.Context, c *stockCall) (int, error) {
	if len(c.words) == 0 {
		return 0, usage("name the backup to restore")
	}
	kept, err := stock.Restore(ctx, c.words[0], c.path)
	if err != nil {
		return 0, err
	}
	fmt.Fprintf(c.std.out, "restored %s from %s\n", c.path, c.words[0])
	if kept != "" {
		fmt.Fprintf(c.std.out, "the stock as it was is kept as %s\n", kept)
	}
	return allWell, nil
}

// verifyStock checks a stock or a backup.
func verifyStock(ctx context.Context, c *stockCall) (int, error) {
	path := c.path
	if len(c.words) > 0 {
		path = c.words[0]
	}
	found, err := stock.Verify(ctx, path)
	if err != nil {
		return 0, err
	}
	fmt.Fprintf(c.std.out, "%s: ", path)
	return c.report(found), nil
}

// report writes what an inspection found.
func (c *stockCall) report(found stock.Inspection) int {
	fmt.Fprintf(c.std.out, "%s in %s, %s, %s\n", plural(found.Parts, "part"), plural(found.Entries, "entry"),
		plural(found.Crops, "picture"), plural(found.Steps, "step"))
	if len(found.Faults) == 0 {
		fmt.Fprintln(c.std.out, "no fault found")
		return allWell
	}
	for _, fault := range found.Faults {
		fmt.Fprintf(c.std.out, "FAULT: %s\n", fault)
	}
	fmt.Fprintln(c.std.out, "restore a backup with ringwise stock restore")
	return failed
}
