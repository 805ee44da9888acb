// Learn teaches the network of package columns on photos whose truth is known,
// such as the scene generator makes, and writes its weights.
//
//	go run ./vision/learn -out vision/columns/reading.bin -steps 20000 DIR…
//
// Each DIR holds a truth.json with ring_spans. Photos whose number is given by
// -hold are kept back: every that-many-th photo is not learnt from and shows
// how well the network does on what it has not seen.
package main

import (
	"flag"
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"ringwise/vision/columns"
)

func main() {
	log.SetFlags(0)
	out := flag.String("out", "", "where the weights go")
	steps := flag.Int("steps", 20000, "how many steps to learn for; 0 only measures and writes")
	hold := flag.Int("hold", 12, "keep back every so-many-th photo")
	cuts := flag.Int("cuts", 6, "strips cut of each part")
	from := flag.String("from", "", "weights to go on from; of several, with commas between, the mean")
	rate := flag.Float64("rate", 2e-3, "learning rate at the start")
	glance := flag.Bool("glance", false, "teach the small network for a first glance, in place of the one that reads")
	flag.Parse()
	shape := columns.Reading
	if *glance {
		shape = columns.Glancing
	}
	if *out == "" || flag.NArg() == 0 {
		log.Fatal("learn: say where the weights go with -out, and name the directories to learn from")
	}
	if err := learn(shape, *out, *from, *steps, *hold, *cuts, *rate, flag.Args()); err != nil {
		log.Fatalf("learn: %v", err)
	}
}

func learn(shape columns.Shape, out, from string, steps, hold, cuts int, rate float64, dirs []string) error {
	chance := rand.New(rand.NewPCG(1, 2))
	var taught, held []example
	n := 0
	for _, dir := range dirs {
		photos, err := readTruth(filepath.Join(dir, "truth.json"))
		if err != nil {
			return err
		}
		for _, p := range photos {
			n++
			examples, err := p.examples(dir, chance, cuts)
			if err != nil {
				return err
			}
			if n%hold == 0 {
				held = append(held, examples...)
			} else {
				taught = append(taught, examples...)
			}
		}
	}
	fmt.Printf("%d strips to learn from, %d held back, of %d photos\n", len(taught), len(held), n)
	t := newTeacher(shape, chance, rate, steps)
	if from != "" {
		if err := t.resume(strings.Split(from, ",")); err != nil {
			return err
		}
	}
	return t.teach(taught, held, func() error {
		f, err := os.Create(out)
		if err != nil {
			return err
		}
		if err := t.steady.Write(f); err != nil {
			return err
		}
		return f.Close()
	})
}
