// Vary makes many photos of few: it turns and scales the photos of a truth file,
// shows them under another light, blurs them a little, adds noise and stores them as
// JPEG anew, and writes them with a truth file of their own. What is read of these
// tells finer than the few photos do whether a change to the reader does good.
//
//	go run ./cmd/ringwise/internal/score/vary -times 16 -out DIR truth.json
//
// The copies of one photo are like each other, so no interval can be told from them,
// and no figures are given for them.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
)

func main() {
	out := flag.String("out", "", "the folder for the photos and their truth.json")
	times := flag.Int("times", 16, "how many copies to make of each photo")
	seed := flag.Uint64("seed", 1, "another seed gives other copies")
	flag.Parse()
	if err := vary(*out, *times, *seed, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "vary:", err)
		os.Exit(1)
	}
}

// vary carries the command out.
func vary(out string, times int, seed uint64, args []string) error {
	if out == "" || times < 1 || len(args) != 1 {
		return errors.New("say where the copies go with -out, at least one of each photo with -times, and name one truth file")
	}
	truth, err := readTruth(args[0])
	if err != nil {
		return err
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	var varied labels
	for i, photo := range truth.Photos {
		data, err := os.ReadFile(filepath.Join(filepath.Dir(args[0]), photo.File))
		if err != nil {
			return err
		}
		for n := range times {
			v := newVariation(rand.New(rand.NewPCG(seed, uint64(i*times+n))), photo.smallest())
			copied, way, err := v.of(data)
			if err != nil {
				return fmt.Errorf("%s: %w", photo.File, err)
			}
			moved := photo.moved(way)
			moved.File = fmt.Sprintf("%s-%02d.jpg", strings.TrimSuffix(photo.File, filepath.Ext(photo.File)), n)
			if err := os.WriteFile(filepath.Join(out, moved.File), copied, 0o644); err != nil {
				return err
			}
			varied.Photos = append(varied.Photos, moved)
		}
	}
	data, err := json.MarshalIndent(varied, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, "truth.json"), append(data, '\n'), 0o644)
}
