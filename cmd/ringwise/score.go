package main

import (
	"context"
	"flag"
	"fmt"

	"ringwise/cmd/ringwise/internal/progress"
	"ringwise/cmd/ringwise/internal/score"
)

const scoreBrief = "measure reading against photos of known parts"

const scoreHelp = `usage: ringwise score [--each] [--groups] [--json] TRUTH.json…

Reads the photos that each truth file lists, which lie beside it, and compares
what was read with what the parts are.

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
  --groups    also the shares by size, lamp, ground and so on, and a table of
              ring colours taken for others
  --json      everything as one JSON object instead

Examples:
  ringwise score samples/truth.json
  ringwise score --each --groups my-lamp/truth.json
`

// measure scores the reader against truth files.
func measure(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("score", flag.ContinueOnError)
	each := set.Bool("each", false, "")
	groups := set.Bool("groups", false, "")
	asJSON := set.Bool("json", false, "")
	paths, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	if len(paths) == 0 {
		return 0, usage("name at least one truth file")
	}

	var truths []score.Truth
	photos := 0
	for _, path := range paths {
		truth, err := score.LoadTruth(path)
		if err != nil {
			return 0, err
		}
		truths = append(truths, truth)
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
	}
	if err != nil {
		return 0, err
	}
	if len(card.Unopened) > 0 {
		return failed, nil
	}
	return allWell, nil
}
