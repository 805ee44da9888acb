// Learn teaches a network of package columns or of package bodies on photos whose
// truth is known, such as the scene generator makes, and writes its weights.
//
//	go run ./vision/learn -of reading -out vision/columns/reading.bin -steps 20000 DIR…
//	go run ./vision/learn -of bodies -out vision/bodies/bodies.bin -steps 5000 DIR…
//
// Each DIR holds a truth.json with polygons and ring_spans. Photos whose number is
// given by -hold are kept back: every that-many-th photo is not learnt from and
// shows how well the network does on what it has not seen.
package main

import (
	"errors"
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
	of := flag.String("of", "reading", "which network to teach: reading, glance, edges, cover or bodies")
	flag.Parse()
	if *out == "" || flag.NArg() == 0 {
		log.Fatal("learn: say where the weights go with -out, and name the directories to learn from")
	}
	chance := rand.New(rand.NewPCG(1, 2))
	c := course{out: *out, from: *from, steps: *steps, hold: *hold, rate: *rate, dirs: flag.Args()}
	var err error
	switch *of {
	case "reading":
		err = c.strips(columns.Reading, *cuts, chance)
	case "glance":
		err = c.strips(columns.Glancing, *cuts, chance)
	case "edges":
		err = c.strips(columns.Edging, *cuts, chance)
	case "cover":
		err = c.strips(columns.Covering, *cuts, chance)
	case "bodies":
		err = c.scenes(chance)
	default:
		err = fmt.Errorf("%q is no network: use reading, glance, edges, cover or bodies", *of)
	}
	if err != nil {
		log.Fatalf("learn: %v", err)
	}
}

// A course is what is learnt from, for how long and how fast.
type course struct {
	out, from   string
	steps, hold int
	rate        float64
	dirs        []string
}

// strips teaches a network that tells what a strip's columns show.
func (c course) strips(shape columns.Shape, cuts int, chance *rand.Rand) error {
	taught, held, err := gathered(c, func(p photo, dir string) ([]example, error) {
		return p.examples(dir, chance, cuts, shape.Outputs == columns.Covers)
	})
	if err != nil {
		return err
	}
	return follow(c, ofStrips(shape, taught, held), chance)
}

// scenes teaches the network that tells where bodies lie.
func (c course) scenes(chance *rand.Rand) error {
	taught, held, err := gathered(c, func(p photo, dir string) ([]outlook, error) {
		o, err := p.outlook(dir)
		return []outlook{o}, err
	})
	if err != nil {
		return err
	}
	return follow(c, ofScenes(taught, held), chance)
}

// gathered makes examples of all photos, those of every hold-th kept apart.
func gathered[E any](c course, examples func(p photo, dir string) ([]E, error)) (taught, held []E, err error) {
	n := 0
	for _, dir := range c.dirs {
		photos, err := readTruth(filepath.Join(dir, "truth.json"))
		if err != nil {
			return nil, nil, err
		}
		for _, p := range photos {
			n++
			more, err := examples(p, dir)
			if err != nil {
				return nil, nil, err
			}
			if n%c.hold == 0 {
				held = append(held, more...)
			} else {
				taught = append(taught, more...)
			}
		}
	}
	fmt.Printf("%d examples to learn from, %d held back, of %d photos\n", len(taught), len(held), n)
	return taught, held, nil
}

// follow runs a course.
func follow[N network](c course, l lesson[N], chance *rand.Rand) error {
	t := newTeacher(l, chance, c.rate, c.steps)
	if c.from != "" {
		if err := t.resume(strings.Split(c.from, ",")); err != nil {
			return err
		}
	}
	return t.teach(func(n N) error {
		f, err := os.Create(c.out)
		if err != nil {
			return err
		}
		if err := n.Write(f); err != nil {
			return errors.Join(err, f.Close())
		}
		return f.Close()
	})
}
