package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"ringwise/cmd/ringwise/internal/ordered"
	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/progress"
	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/sheet/bundle"
	"ringwise/cmd/ringwise/internal/sheet/paper"
	"ringwise/cmd/ringwise/internal/sheet/photopart"
	"ringwise/cmd/ringwise/internal/sheet/printed"
)

const sheetBrief = "make question sheets on the ring code, with their answers"

const sheetHelp = `usage: ringwise sheet [--stock FILE] [--values LIST] [--accept-sure PHOTO…]
                     [--kinds LIST] [--level N] [--questions N] [--variants N]
                     [--seed N] [--title TEXT] [--note TEXT] [--out FOLDER]
                     [--paper a4|letter|both] [--large] [--letters] [--grey]
                     [--language en]

Makes sheets to hand out and the answers to mark by, as PDF to print and as HTML
for the screen and for screen readers. Parts come from any of:

  --stock FILE   the stock of parts that you confirmed, with their pictures
  --values LIST  a list of values, or a file that holds one: the parts are drawn
                 as paper strips. "5K6; 10 kΩ ±1 %; E12": one a line or parted
                 by ; with the tolerance of each behind it, ±5 % if not said;
                 E12 is that series, 10 Ω to below 1 MΩ
  --accept-sure  take the parts of photos whose reading is sure, though nobody
                 has checked them; the sheet says so beside each

What is asked:

  --kinds LIST   value, rings, stand-in, series-parallel, divider, power,
                 impossible, parted by commas; all of them if not given
  --level N      1: three and four rings, nominal values; 2 (usual): five rings,
                 lowest and highest; 3: six rings, spans of results, mains
  --questions N  how many on a sheet, 10 if not given
  --variants N   so many sheets with the same questions in other orders
  --seed N       the same seed and parts make the same sheets again
  --title TEXT   such as the name of the class
  --note TEXT    a line at the head, such as where the parts come from

How it looks:

  --paper        a4 if not given
  --large        large print
  --letters      letters of IEC 60757 below the rings of photos; drawn parts
                 always have them
  --grey         for printers without colour, with letters
  --language en  the language of the sheets; English is the only one yet
  --out FOLDER   where the files go, sheets if not given

Every sheet has a code at its head. Its files begin with the code: questions,
answers, CODE-typed.csv to type in what was answered, and CODE-key.json, which
ringwise mark needs: keep it with them.

Exit code: 0 the sheets are made, 1 they could not be, 2 wrong use.

Examples:
  ringwise sheet --values E12 --level 1 --title "Radio club, first evening"
  ringwise sheet --stock club.db --kinds value,divider --variants 4 --seed 7
  ringwise sheet --accept-sure pile-1.jpg pile-2.jpg --large
`

// mostReasons is how many parts that are left out are named.
const mostReasons = 8

// makeSheets makes question sheets and their answers.
func makeSheets(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("sheet", flag.ContinueOnError)
	order := sheet.Order{Kinds: sheet.Kinds}
	stockFile := set.String("stock", "", "")
	values := set.String("values", "", "")
	acceptSure := set.Bool("accept-sure", false, "")
	set.Func("kinds", "", func(text string) (err error) {
		order.Kinds, err = sheet.ParseKinds(text)
		return err
	})
	set.IntVar(&order.Level, "level", 2, "")
	set.IntVar(&order.Count, "questions", 10, "")
	set.IntVar(&order.Variants, "variants", 1, "")
	set.Uint64Var(&order.Seed, "seed", rand.Uint64N(1_000_000), "")
	set.StringVar(&order.Title, "title", "The ring code of resistors", "")
	set.StringVar(&order.Note, "note", "", "")
	set.StringVar(&order.Language, "language", "en", "")
	sizes := []paper.Size{paper.A4}
	set.Func("paper", "", func(text string) (err error) {
		sizes, err = paper.ParseSizes(text)
		return err
	})
	var look printed.Look
	set.BoolVar(&look.Large, "large", false, "")
	set.BoolVar(&look.Letters, "letters", false, "")
	set.BoolVar(&look.Grey, "grey", false, "")
	folder := set.String("out", "sheets", "")
	photos, err := parse(set, args)
	switch {
	case err != nil:
		return 0, err
	case len(photos) > 0 && !*acceptSure:
		return 0, usage("nobody has confirmed the readings of %s: confirm them and use --stock, or add --accept-sure to take those that are sure", photos[0])
	case *acceptSure && len(photos) == 0:
		return 0, usage("name the photos to take sure readings from")
	case *stockFile == "" && *values == "" && len(photos) == 0:
		return 0, usage("say where the parts come from: --stock, --values, or --accept-sure with photos")
	}
	if err := order.Check(); err != nil {
		return 0, usageError{err}
	}

	var parts []sheet.Part
	if *values != "" {
		listed, err := listedParts(*values, order.Level)
		if err != nil {
			return 0, usageError{err}
		}
		parts = append(parts, listed...)
	}
	if *stockFile != "" {
		confirmed, err := stockedParts(ctx, *stockFile)
		if err != nil {
			return 0, err
		}
		parts = append(parts, confirmed...)
	}
	sure, err := sureParts(ctx, photos, std.err)
	if err != nil {
		return 0, err
	}
	parts, leftOut := sheet.Usable(append(parts, sure...), order.Level)
	for _, reason := range leftOut[:min(len(leftOut), mostReasons)] {
		fmt.Fprintln(std.err, reason)
	}
	if more := len(leftOut) - mostReasons; more > 0 {
		fmt.Fprintf(std.err, "… and %d more are left out\n", more)
	}
	sheets, err := sheet.Compose(parts, order)
	if err != nil {
		return 0, err
	}
	if err := os.MkdirAll(*folder, 0o777); err != nil {
		return 0, fmt.Errorf("the folder %s cannot be made: %w", *folder, err)
	}
	for _, s := range sheets {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		names, err := writeSheet(ctx, *folder, s, look, sizes)
		if err != nil {
			return 0, err
		}
		fmt.Fprintf(std.out, "%s  variant %d, seed %d, in %s:\n  %s\n", s.Code, s.Variant, order.Seed, *folder, strings.Join(names, "\n  "))
	}
	return allWell, nil
}

// listedParts makes parts from a list of values or from a file that holds one.
func listedParts(list string, level int) ([]sheet.Part, error) {
	const most = 1 << 20
	if info, err := os.Stat(list); err == nil && !info.IsDir() {
		if info.Size() > most {
			return nil, fmt.Errorf("%s is larger than %d MB: give fewer values", list, most>>20)
		}
		data, err := os.ReadFile(list)
		if err != nil {
			return nil, fmt.Errorf("the values cannot be read: %w", err)
		}
		parts, err := sheet.ParseValues(string(data), level)
		if err != nil {
			return nil, fmt.Errorf("%s, %w", list, err)
		}
		return parts, nil
	}
	parts, err := sheet.ParseValues(list, level)
	if err != nil {
		return nil, fmt.Errorf("--values is no file, and as a list, %w", err)
	}
	return parts, nil
}

// stockedParts takes the parts of a stock, which must be there.
func stockedParts(ctx context.Context, path string) ([]sheet.Part, error) {
	if _, err := os.Stat(path); err != nil {
		return nil, fmt.Errorf("there is no stock %s: check the name, or confirm parts first", path)
	}
	parts, err := photopart.FromStock(ctx, path)
	if err == nil && len(parts) == 0 {
		err = fmt.Errorf("the stock %s has no part with rings: confirm some first", path)
	}
	return parts, err
}

// sureParts takes the sure readings of photos. A photo that cannot be read
// stops it all: a sheet is not made of less than was asked for.
func sureParts(ctx context.Context, photos []string, errs io.Writer) (parts []sheet.Part, err error) {
	bar := progress.New(errs, len(photos))
	defer bar.Clear()
	ordered.Run(len(photos), func(i int) photopart.Reading {
		defer bar.Step()
		return photopart.FromPhoto(ctx, photoread.File(photos[i]))
	}, func(i int, r photopart.Reading) {
		switch {
		case r.Err != nil && err == nil:
			err = r.Err
		case r.Err == nil && r.Left > 0:
			bar.Aside(func() {
				fmt.Fprintf(errs, "%s: %d sure, %d not sure and left out\n", photos[i], len(r.Parts), r.Left)
			})
		}
		parts = append(parts, r.Parts...)
	})
	if err == nil && len(photos) > 0 && len(parts) == 0 {
		err = fmt.Errorf("no reading of these photos is sure: confirm them and use --stock")
	}
	return parts, err
}

// writeSheet writes the files of a sheet and returns their names.
func writeSheet(ctx context.Context, folder string, s sheet.Sheet, look printed.Look, sizes []paper.Size) (names []string, err error) {
	files, err := bundle.Of(ctx, s, look, sizes)
	for _, f := range files {
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, f.Name), f.Data, 0o666)
		}
		names = append(names, f.Name)
	}
	return names, err
}
