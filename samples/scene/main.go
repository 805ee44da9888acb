package main

import (
	"context"
	"flag"
	"fmt"
	"image/jpeg"
	"os"
	"os/signal"
	"path/filepath"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "scene:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) error {
	flags := flag.NewFlagSet("scene", flag.ContinueOnError)
	out := flags.String("out", "", "directory for the photos and truth.json")
	seed := flags.Uint64("seed", 1, "seed of the first photo; the next photos count up from it")
	count := flags.Int("count", 1, "number of photos")
	style := flags.String("style", "mixed", "mixed, hobby, clean, product, negatives, uncoded, batch or heap")
	size := flags.Float64("size", 1, "scale of the photos' sides, 0.1 to 3")
	objects := flags.Int("objects", 0, "stop once that many parts and things are shown, 0 for no limit")
	demo := flags.Bool("demo", false, "make the demo photos of the project instead, as -out samples -demo")
	keep := flags.Bool("keep", false, "write the scene text beside each photo")
	resume := flags.Bool("resume", false, "do not make photos anew that are there already, only their truth")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if *out == "" {
		return fmt.Errorf("no directory given: say where the photos go with -out")
	}
	if *size < 0.1 || *size > 3 {
		return fmt.Errorf("size %g is out of range: use 0.1 to 3", *size)
	}
	if _, known := styles[*style]; !known && *style != "mixed" {
		return fmt.Errorf("%q is no style: use mixed, hobby, clean, product, negatives, uncoded, batch or heap", *style)
	}
	if err := os.MkdirAll(*out, 0o755); err != nil {
		return err
	}
	if *demo {
		return makeDemo(ctx, *out)
	}
	set := truth{Source: "invented: rendered scenes, no real parts", Photos: []photoTruth{}}
	shown := 0
	for i := range *count {
		s := compose(*seed+uint64(i), *style, *size)
		file := fmt.Sprintf("%s-%05d.jpg", s.style, s.seed)
		photo, err := s.made(*out, file)
		if !*resume || err != nil {
			photo, err = s.take(ctx, *out, file, *keep)
		}
		if err != nil {
			return err
		}
		set.Photos = append(set.Photos, photo)
		if err := set.write(filepath.Join(*out, "truth.json")); err != nil {
			return err
		}
		shown += len(photo.Resistors) + len(photo.Distractors)
		if *objects > 0 && shown >= *objects {
			break
		}
	}
	return nil
}

// made gives the truth of a photo that was made earlier.
func (s *scene) made(dir, file string) (photoTruth, error) {
	f, err := os.Open(filepath.Join(dir, file))
	if err != nil {
		return photoTruth{}, err
	}
	defer f.Close()
	photo, err := jpeg.Decode(f)
	if err != nil {
		return photoTruth{}, err
	}
	return s.describe(file, asPicture(photo)), nil
}

// take renders, develops and saves one photo and gives its truth.
func (s *scene) take(ctx context.Context, dir, file string, keep bool) (photoTruth, error) {
	start := time.Now()
	light, err := s.render(ctx, false)
	if err != nil {
		return photoTruth{}, err
	}
	rendered := time.Since(start)
	data, photo, err := s.develop(newDice(s.seed, 2), light)
	if err != nil {
		return photoTruth{}, err
	}
	if err := os.WriteFile(filepath.Join(dir, file), data, 0o644); err != nil {
		return photoTruth{}, err
	}
	if keep {
		text, pictures := s.pov(false)
		for name, data := range pictures {
			if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
				return photoTruth{}, err
			}
		}
		if err := os.WriteFile(filepath.Join(dir, file+".pov"), []byte(text), 0o644); err != nil {
			return photoTruth{}, err
		}
	}
	fmt.Printf("%s  %dx%d  %d parts  %d things  render %.1f s  all %.1f s\n", file, photo.width, photo.height,
		len(s.parts), len(s.things), rendered.Seconds(), time.Since(start).Seconds())
	return s.describe(file, photo), nil
}
