// Calibrate fits how far confidence can be trusted to readings whose truth is
// known, and writes decode/calibration.json. Use scenes that neither teach the
// network nor give figures: those of the tune split.
//
//	go run ./cmd/ringwise/internal/score/calibrate tune=build/scenes/mixed-30000/truth.json
package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/signal"
	"strings"

	"ringwise/cmd/ringwise/internal/score"
	"ringwise/decode"
)

const file = "decode/calibration.json"

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := calibrate(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "calibrate:", err)
		os.Exit(1)
	}
}

// calibrate carries the command out.
func calibrate(ctx context.Context, args []string) error {
	if len(args) == 0 {
		return errors.New("name at least one truth file, as for ringwise score")
	}
	truths, err := score.LoadSets(args)
	if err != nil {
		return err
	}
	card, err := score.Measure(ctx, truths, nil)
	if err != nil {
		return err
	}
	was := decode.CurrentCalibration()
	var read []outcome
	for _, l := range card.Labelled {
		if c := l.Confidence(); l.Found && c > 0 {
			read = append(read, outcome{was.Share(c), l.First()})
		}
	}
	c, err := fit(read)
	if err != nil {
		return err
	}
	names := make([]string, len(args))
	for i, word := range args {
		names[i], _, _ = strings.Cut(word, "=")
	}
	c.Made = fmt.Sprintf("by cmd/ringwise/internal/score/calibrate from %d readings of %s; method: Platt (1999)", len(read), strings.Join(names, ", "))
	text, err := json.MarshalIndent(c, "", " ")
	if err != nil {
		return err
	}
	fmt.Println(string(text))
	return os.WriteFile(file, append(text, '\n'), 0o644)
}

// An outcome is one reading: its share of the weight and whether it was right.
type outcome struct {
	share float64
	right bool
}

// fit finds the line in log odds under which what came of the readings is
// likeliest, by Newton's method. Platt's targets, a little off 0 and 1, keep
// it finite.
func fit(read []outcome) (decode.Calibration, error) {
	rights := 0.0
	for _, o := range read {
		if o.right {
			rights++
		}
	}
	wrongs := float64(len(read)) - rights
	if rights < 10 || wrongs < 10 {
		return decode.Calibration{}, fmt.Errorf("%.0f right and %.0f wrong readings are too few to fit to: at least 10 of each", rights, wrongs)
	}
	slope, offset := 0.0, 0.0
	for range 100 {
		var g1, g0, h11, h10, h00 float64
		for _, o := range read {
			p := math.Max(1e-6, math.Min(1-1e-6, o.share))
			x := math.Log(p / (1 - p))
			target := 1 / (wrongs + 2)
			if o.right {
				target = (rights + 1) / (rights + 2)
			}
			q := 1 / (1 + math.Exp(-slope*x-offset))
			g1 += (target - q) * x
			g0 += target - q
			w := q * (1 - q)
			h11 += w * x * x
			h10 += w * x
			h00 += w
		}
		det := h11*h00 - h10*h10
		dSlope, dOffset := (h00*g1-h10*g0)/det, (h11*g0-h10*g1)/det
		slope += dSlope
		offset += dOffset
		if math.Abs(dSlope)+math.Abs(dOffset) < 1e-9 {
			if slope <= 0 {
				return decode.Calibration{}, errors.New("the more confident readings are right less often: there is nothing to fit")
			}
			return decode.Calibration{Slope: math.Round(slope*1e4) / 1e4, Offset: math.Round(offset*1e4) / 1e4}, nil
		}
	}
	return decode.Calibration{}, errors.New("no line fits: are there readings of many confidences?")
}
