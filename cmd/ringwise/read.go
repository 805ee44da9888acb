package main

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"time"

	"ringwise/cmd/ringwise/internal/isolated"
	"ringwise/cmd/ringwise/internal/logbook"
	"ringwise/cmd/ringwise/internal/marked"
	"ringwise/cmd/ringwise/internal/ordered"
	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/progress"
	"ringwise/cmd/ringwise/internal/report"
	"ringwise/cmd/ringwise/internal/ruler"
	"ringwise/decode"
	"ringwise/vision"
)

const readBrief = "read resistors from photos"

const readHelp = `usage: ringwise read [--json | --csv | --confirm] [--marked OUT] [--scale SCALE]
                     [--isolated] [--verbose] PHOTO…

Finds the resistors in each photo and reads their rings. A PHOTO is a JPEG, PNG,
WebP, TIFF, BMP or GIF file, or - for standard input.

Each part gets one line: its number, a verdict, its value, the value in letters
and digits (IEC 60062), its rings in reading order (letters of IEC 60757), how
likely the reading is, and what else there is to know.

  sure        trust it as you would trust your own eyes
  check       look at the part or measure it; other readings are given
  unreadable  the line says why, and what would help

  --json        one JSON object a photo, one photo a line, readings best first
  --csv         a row for each part, with its first reading
  --marked OUT  also write the photo with every part outlined and numbered and
                its rings lettered: solid outline for sure, dashed for check,
                dotted for unreadable. For one photo OUT is a .jpg, .png or
                .webp file or a folder, for several it is a folder.
  --scale SCALE  how large things are in the photo: a length and the two points
                between which it lies, in pixels from the left and the top, such
                as "10.16 mm 812,400 990,402", or for all photos such as
                "17.5 px/mm". Measure a ruler, a coin of known diameter, leads
                of known spacing. Then each body's length and diameter in mm are
                told, and the range of ratings that such bodies are sold at, of
                which the lowest is the one to count on: an estimate only
  --forms       below each line the values in it as a marking, as rings and in
                words
  --confirm     go through the parts line by line, in plain words, and put what
                you confirm into the stock; ? tells what can be answered
  --stock FILE  with --confirm: another stock than the usual one
  --speak       with --confirm: say it aloud, by espeak-ng or spd-say
  --isolated    for photos of unknown origin: decode each in a process of its
                own, so that a file made to break the decoder breaks no more
  --verbose     log to standard error what each photo took and gave, without its
                name or values

Exit code: 0 every photo had a part, 3 a photo had none, 1 a photo could not be
opened (the others are read all the same), 2 wrong use.

Examples:
  ringwise read pile.jpg
  ringwise read --marked marked *.jpg
  ringwise read --csv *.jpg > stock.csv
  ringwise read --scale "25 mm 120,80 610,84" pile.jpg
  ringwise read --json - < pile.jpg
  ringwise read --confirm --speak pile.jpg
`

// read reads photos.
func read(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("read", flag.ContinueOnError)
	asJSON := set.Bool("json", false, "")
	asCSV := set.Bool("csv", false, "")
	out := set.String("marked", "", "")
	var scale ruler.Scale
	var points []vision.Point
	set.Func("scale", "", func(text string) (err error) {
		scale, points, err = ruler.Parse(text)
		return err
	})
	formsOption(set, &std.out)
	apart := set.Bool("isolated", false, "")
	verbose := set.Bool("verbose", false, "")
	var confirming confirmOptions
	confirming.define(set)
	names, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	switch {
	case len(names) == 0:
		return 0, usage("name at least one photo")
	case *asJSON && *asCSV:
		return 0, usage("choose one of --json and --csv")
	case formsAsked(set) && (*asJSON || *asCSV):
		return 0, usage("--forms is for the table: --json and --csv have forms of their own")
	case formsAsked(set) && confirming.asked:
		return 0, usage("--confirm says every value in words already: leave out --forms")
	case points != nil && len(names) > 1:
		return 0, usage("two points are in one photo: read it alone, or give --scale such as \"17.5 px/mm\" for all")
	}
	if err := confirming.check(*asJSON || *asCSV, names); err != nil {
		return 0, err
	}

	var bar *progress.Bar
	var log *slog.Logger
	if *verbose {
		log = logbook.New(besides{std.err, &bar}, true)
	}
	sources := make([]photoread.Source, len(names))
	streamed := false
	for i, name := range names {
		switch {
		case name != "-":
			sources[i] = photoread.File(name)
		case streamed:
			return 0, usage("standard input can be read only once")
		default:
			sources[i], streamed = photoread.Stream(name, std.in), true
		}
		sources[i].Scale, sources[i].Points = scale, points
		if *apart {
			sources[i].Open = isolated.Open
		}
		if log != nil {
			sources[i].Done = logPhoto(log, i+1)
		}
	}
	looks := make([]photoread.Look, len(sources))
	if given(set, "marked") {
		paths, err := marked.Paths(*out, names)
		if err != nil {
			return 0, usageError{err}
		}
		for i, path := range paths {
			looks[i] = func(photo *vision.Photo, parts []photoread.Part) error {
				return marked.Write(path, photo, parts)
			}
		}
	}

	if confirming.asked {
		return confirming.run(ctx, std, sources, looks)
	}

	write := report.NewTable(std.out).Write
	switch {
	case *asJSON:
		write = func(r photoread.Result) error { return report.WriteJSON(std.out, r) }
	case *asCSV:
		table, err := report.NewCSV(std.out)
		if err != nil {
			return 0, err
		}
		write = table.Write
	}

	code := allWell
	bar = progress.New(std.err, len(sources))
	ordered.Run(len(sources), func(i int) photoread.Result {
		defer bar.Step()
		return photoread.Read(ctx, sources[i], looks[i])
	}, func(_ int, r photoread.Result) {
		if r.Err != nil && ctx.Err() != nil {
			return // stopped: told once, below
		}
		bar.Aside(func() {
			if r.Err != nil {
				fmt.Fprintf(std.err, "%s: %v\n", report.Name(r.Name), r.Err)
			}
			err = cmp.Or(err, write(r))
		})
		switch {
		case r.Err != nil:
			code = failed
		case len(r.Parts) == 0 && code == allWell:
			code = nothingIn
		}
	})
	bar.Clear()
	if ctx.Err() != nil {
		return 0, ctx.Err()
	}
	return code, err
}

// besides writes text beside a progress bar, where there is one.
type besides struct {
	w   io.Writer
	bar **progress.Bar
}

func (b besides) Write(text []byte) (n int, err error) {
	if *b.bar == nil {
		return b.w.Write(text)
	}
	(*b.bar).Aside(func() { n, err = b.w.Write(text) })
	return n, err
}

// logPhoto logs what came of the photo with that number on the command line.
func logPhoto(log *slog.Logger, number int) func(photoread.Result, time.Duration) {
	return func(r photoread.Result, took time.Duration) {
		if r.Err != nil {
			log.Info("photo", "number", number, "outcome", "refused", "took", took)
			return
		}
		verdicts := map[decode.Verdict]int{}
		for _, p := range r.Parts {
			verdicts[p.Verdict]++
		}
		log.Info("photo", "number", number, "outcome", "read", "width", r.Width, "height", r.Height, "took", took,
			"parts", len(r.Parts), "sure", verdicts[decode.Sure], "check", verdicts[decode.Check], "unreadable", verdicts[decode.Unreadable])
	}
}
