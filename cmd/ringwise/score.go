package main

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"ringwise/cmd/ringwise/internal/progress"
	"ringwise/cmd/ringwise/internal/score"
	"ringwise/cmd/ringwise/internal/score/page"
)

const scoreBrief = "measure reading against photos of known parts"

const scoreHelp = `usage: ringwise score [--each] [--groups] [--taught N] [--json]
                      [--page OUT.html] [NAME=]TRUTH.json…

Reads the photos that each truth file lists, which lie beside it, and compares
what was read with what the parts are. Each file is a set of its own, called
NAME or, without one, by its file or folder.

  found                 labelled parts that a reported body matches one to one:
                        centres within a quarter of the true length and, if the
                        truth has an outline, half of the joint area in common
  first right           the first reading has every ring right, in reading order
  first three           one of the first three has
  sure                  called sure
  wrong among sure      wrong, or rings that can be read in two ways
  sure of other things  what is no resistor and was called sure all the same
  calibration error     how far confidence is from the share that is right
  false bodies          reported where no resistor is
  CPU time              against only opening the photos and turning them to Lab

Shares are over all labelled parts, "wrong among sure" over those called sure,
"sure of other things" over the things that the truth lists. Brackets hold the
95 % Wilson interval.

  --each      also a line for each labelled part and each false body
  --groups    also the shares by set, size, lamp, ground and so on, how often
              each step of confidence was right, and a table of ring colours
              taken for others
  --taught N  also how well the other parts of each photo, or batch of photos by
              one lamp, are read after N of its parts were confirmed
  --json      everything as one JSON object instead
  --page OUT  also write everything as one web page, with a diagram of how far
              confidence can be trusted and pictures of the worst failures
  --worst N   with --page: show at most N failures of each kind (24)

Examples:
  ringwise score samples/truth.json
  ringwise score --each --groups my-lamp/truth.json
  ringwise score --page lamps.html desk=desk/truth.json hall=hall/truth.json
`

// measure scores the reader against truth files.
func measure(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("score", flag.ContinueOnError)
	each := set.Bool("each", false, "")
	groups := set.Bool("groups", false, "")
	taught := set.Int("taught", 0, "")
	asJSON := set.Bool("json", false, "")
	out := set.String("page", "", "")
	worst := set.Int("worst", 24, "")
	words, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	switch {
	case len(words) == 0:
		return 0, usage("name at least one truth file")
	case *taught < 0:
		return 0, usage("--taught %d makes no sense: use 0 or more", *taught)
	case *taught > 0 && *asJSON:
		return 0, usage("--taught is not part of --json: leave out one of them")
	case *worst < 0:
		return 0, usage("--worst %d makes no sense: use 0 or more", *worst)
	}

	if _, err := os.Stat(filepath.Dir(*out)); *out != "" && err != nil {
		return 0, fmt.Errorf("the page cannot be written to %s: make the folder first", *out)
	}

	truths, err := score.LoadSets(words)
	if err != nil {
		return 0, err
	}
	photos := 0
	for _, truth := range truths {
		photos += len(truth.Photos)
	}

	bar := progress.New(std.err, photos)
	card, err := score.Measure(ctx, truths, bar.Step)
	bar.Clear()
	if err != nil {
		return 0, err
	}

	if *asJSON {
		err = card.WriteJSON(std.out)
	} else {
		if *each {
			card.PrintEach(std.out)
			fmt.Fprintln(std.out)
		}
		card.PrintSummary(std.out)
		if *groups {
			card.PrintGroups(std.out)
		}
		if *taught > 0 {
			score.PrintTaught(std.out, card.Taught(*taught))
		}
	}
	if err == nil && *out != "" {
		err = writePage(ctx, *out, card, *worst)
	}
	if err != nil {
		return 0, err
	}
	if len(card.Unopened) > 0 {
		return failed, nil
	}
	return allWell, nil
}

// writePage writes the score as a page into a file.
func writePage(ctx context.Context, path string, card *score.Card, worst int) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	return cmp.Or(page.Write(ctx, f, card, time.Now(), worst), f.Close())
}
