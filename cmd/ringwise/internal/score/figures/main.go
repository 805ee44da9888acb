// Figures measures reading on the scenes that were never used to fit it and on
// the demo photos, and writes what came of it to testdata/figures: figures.txt,
// in which a change that makes reading worse shows, and reliability.svg, how
// far confidence can be trusted.
//
//	go run ./cmd/ringwise/internal/score/figures                   all of it, into testdata/figures
//	go run ./cmd/ringwise/internal/score/figures -count 4          at most 4 scenes of each set, into build/figures
//	go run ./cmd/ringwise/internal/score/figures -split tune       the scenes that confidence was fitted to
//	go run ./cmd/ringwise/internal/score/figures desk=desk/truth.json   other photos too, into build/figures
//
// Scenes are rendered when they are needed, by samples/scene, into build/scenes
// or another folder, and used again the next time. A scene takes some seconds.
//
// # Splits
//
//	split    seeds                                                        used for
//	fit      2000–2049, 9500–9563, 9700–9763, 9800–9861, 30060–30329,      teaching the networks
//	         61000–61296, 62000–62235, 64000–64309, 68000–68031,
//	         76000–76177; of 66000–67999 some whose bodies touch; heaps:
//	         77000–77047
//	tune     30000–30059, 63000–63059, 70001–70100                        fitting confidence
//	report   50000–50119; heaps: 79000–79015; things that are no          nothing but figures
//	         resistors: from 41000 on, until 300 are shown; resistors
//	         without rings: from 44000 on, until 100 are shown
//
// The cost of reading is measured on two scenes of 12 megapixels and 12 parts
// each, seeds 42005 and 42008.
package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"

	"ringwise/cmd/ringwise/internal/progress"
	"ringwise/cmd/ringwise/internal/score"
	"ringwise/cmd/ringwise/internal/score/diagram"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := measure(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "figures:", err)
		os.Exit(1)
	}
}

// measure carries the command out.
func measure(ctx context.Context, args []string) error {
	root, err := moduleRoot(ctx)
	if err != nil {
		return err
	}
	flags := flag.NewFlagSet("figures", flag.ContinueOnError)
	splitName := flags.String("split", "report", "the scenes to measure on: report, tune or fit")
	count := flags.Int("count", 0, "at most so many scenes of each run of seeds, 0 for all")
	scenes := flags.String("scenes", filepath.Join(root, "build", "scenes"), "folder for rendered scenes")
	out := flags.String("out", "", "folder for the figures; without it testdata/figures for the report split as a whole, build/figures for anything else")
	if err := flags.Parse(args); err != nil {
		return err
	}
	of, err := splitNamed(*splitName)
	if err != nil {
		return err
	}
	if *out == "" {
		*out = folderFor(root, of.name, *count, flags.NArg())
	}
	if *scenes, err = filepath.Abs(*scenes); err != nil {
		return err
	}
	studio, err := newStudio(root, *scenes, *count)
	if err != nil {
		return err
	}
	others, err := score.LoadSets(flags.Args())
	if err != nil {
		return err
	}

	var truths []score.Truth
	titles := map[string]string{} // of the sets, by name
	for _, set := range of.sets {
		truth, err := studio.set(ctx, set)
		if err != nil {
			return err
		}
		truths = append(truths, truth)
		titles[set.name] = studio.title(of, set)
	}
	demo, err := score.LoadTruth(filepath.Join(root, "samples", "truth.json"))
	if err != nil {
		return err
	}
	demo.SetName(demoName)
	titles[demoName] = "demo photos, shown to people and looked at while working on the reader"
	truths = append(truths, demo)
	for _, truth := range others {
		titles[truth.Name] = truth.Name
	}

	// Before all others, while the process has used no more memory.
	largeTruth, err := studio.set(ctx, large)
	if err != nil {
		return err
	}
	speed, err := score.Speed(ctx, largeTruth)
	if err != nil {
		return err
	}
	card, err := measureAll(ctx, append(truths, others...))
	if err != nil {
		return err
	}

	var text bytes.Buffer
	text.WriteString(head)
	for _, set := range card.Sets {
		writeShares(&text, titles[set.Name], set)
		switch set.Name {
		case of.sets[0].name:
			writeGroups(&text, set)
			writeReliability(&text, set.Tally().Reliability)
			writeConfusion(&text, set.Confusion())
		case demoName:
			writeParts(&text, set)
		}
	}
	writeSpeed(&text, largeTruth, speed)
	first := card.Sets[0]
	drawing := diagram.Reliability("Reliability of confidence, "+titles[first.Name], first.Tally().Reliability)
	if err := write(*out, map[string]string{"figures.txt": text.String(), "reliability.svg": drawing}); err != nil {
		return err
	}
	fmt.Fprintf(os.Stderr, "written to %s\n", *out)
	return nil
}

// demoName is the name of the set of the photos in samples.
const demoName = "demo photos"

const head = `Figures of reading, written by: go run ./cmd/ringwise/internal/score/figures
All parts are invented and rendered. A share is count/total, percent and its 95 %
Wilson interval, over all labelled parts, so that a miss counts as wrong; "wrong
among sure" is over those called sure, "sure of other things" over what is no
resistor. The calibration error is the expected one (ECE) over 10 bins.
`

// folderFor is where figures go that no folder was named for. Only those of
// the whole report split and nothing else are the ones to keep.
func folderFor(root, split string, count, others int) string {
	if split == splits[0].name && count == 0 && others == 0 {
		return filepath.Join(root, "testdata", "figures")
	}
	return filepath.Join(root, "build", "figures")
}

// title tells what a set consists of.
func (s *studio) title(of split, set set) string {
	var runs []string
	for _, r := range set.runs {
		runs = append(runs, r.fewer(s.most).String())
	}
	return of.name + ", " + set.name + ": " + strings.Join(runs, "; ")
}

// measureAll scores all sets, with a bar on a terminal.
func measureAll(ctx context.Context, truths []score.Truth) (*score.Card, error) {
	photos := 0
	for _, t := range truths {
		photos += len(t.Photos)
	}
	bar := progress.New(os.Stderr, photos)
	defer bar.Clear()
	return score.Measure(ctx, truths, bar.Step)
}

// write writes texts into files of a folder.
func write(folder string, texts map[string]string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for name, text := range texts {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// moduleRoot is the folder of the module the command is run in.
func moduleRoot(ctx context.Context) (string, error) {
	out, err := exec.CommandContext(ctx, "go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err != nil {
		return "", fmt.Errorf("could not find the module: run this within it: %w", err)
	}
	return strings.TrimSpace(string(out)), nil
}
