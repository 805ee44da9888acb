package main

import (
	"context"
	"encoding/json"
	"flag"

	"ringwise/cmd/ringwise/internal/doctor"
	"ringwise/cmd/ringwise/internal/stock"
)

const doctorBrief = "examine whether all that Ringwise needs is there and works"

const doctorHelp = `usage: ringwise doctor [--stock FILE] [--camera N|FILE|URL] [--json]

Examines OpenCV, reads a built-in photo, opens it as the bench does, looks at
the stock and its folder, free space, fonts, browser and speech. Each gets one
line: how it stands, what was found and what to do.

  well     it works
  lacking  something optional is not there; all else works
  wrong    something does not work as it should

  --stock FILE  another stock than the usual one
  --camera ...  try this camera too: a number, from 0, or a video file or stream
  --json        the same as one JSON object

Nothing is kept: a file is made beside the stock, to see that it can be, and
removed. No camera is opened unless it is named.

Exit code: 0 nothing is wrong, 1 something is, 2 wrong use.

Examples:
  ringwise doctor
  ringwise doctor --camera 0
`

// examine carries out ringwise doctor.
func examine(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("doctor", flag.ContinueOnError)
	path := set.String("stock", "", "")
	camera := set.String("camera", "", "")
	asJSON := set.Bool("json", false, "")
	words, err := parse(set, args)
	switch {
	case err != nil:
		return 0, err
	case len(words) > 0:
		return 0, usage("%q is too much", words[0])
	}
	if *path == "" {
		if *path, err = stock.DefaultPath(); err != nil {
			return 0, err
		}
	}
	found := doctor.Examine(ctx, *path, *camera)
	if *asJSON {
		err = json.NewEncoder(std.out).Encode(struct {
			Sound    bool             `json:"sound"`
			Findings []doctor.Finding `json:"findings"`
		}{doctor.Sound(found), found})
	} else {
		err = doctor.Write(std.out, found)
	}
	if !doctor.Sound(found) {
		return failed, err
	}
	return allWell, err
}
