package main

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"flag"
	"fmt"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"time"

	"golang.org/x/term"

	"ringwise/cmd/ringwise/internal/confirm"
	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/report"
	"ringwise/cmd/ringwise/internal/speech"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/vision"
)

// grace is how long the terminal must have asked before Enter confirms, as on the
// bench's page: longer than a key bounces, shorter than it takes to look and press.
const grace = 400 * time.Millisecond

// confirmOptions are those of read --confirm.
type confirmOptions struct {
	asked bool
	path  string // of the stock
	speak bool
}

func (o *confirmOptions) define(set *flag.FlagSet) {
	set.BoolVar(&o.asked, "confirm", false, "")
	set.StringVar(&o.path, "stock", "", "")
	set.BoolVar(&o.speak, "speak", false, "")
}

// check refuses options that make no sense together. written says that the
// readings are to be written for another program.
func (o *confirmOptions) check(written bool, names []string) error {
	switch {
	case !o.asked && (o.path != "" || o.speak):
		return usage("--stock and --speak go with --confirm")
	case o.asked && written:
		return usage("--confirm asks a person: leave out --json and --csv")
	case o.asked && slices.Contains(names, "-"):
		return usage("--confirm reads answers from standard input: name photo files")
	}
	return nil
}

// run has a person confirm the parts of the photos, one photo after another.
func (o *confirmOptions) run(ctx context.Context, std streams, sources []photoread.Source, looks []photoread.Look) (int, error) {
	session := confirm.Session{In: std.in, Out: std.out}
	if f, ok := std.in.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		session.Grace = grace
	}
	if o.speak {
		voice, err := speech.Find()
		if err != nil {
			return 0, err
		}
		if err := voice.Try(ctx, "Speaking is on."); err != nil {
			return 0, err
		}
		defer voice.Wait()
		session.Say = voice.Say
	}
	path := o.path
	if path == "" {
		var err error
		if path, err = stock.DefaultPath(); err != nil {
			return 0, err
		}
	}
	store, err := stock.Open(ctx, path)
	if err != nil {
		return 0, err
	}
	defer store.Close()
	session.Store = store

	code := allWell
	at := 0
	_, err = session.Run(ctx, func() (confirm.Photo, bool) {
		for ; at < len(sources) && ctx.Err() == nil; at++ {
			photo, err := readToConfirm(ctx, sources[at], looks[at])
			if err != nil {
				fmt.Fprintf(std.err, "%s: %v\n", report.Name(sources[at].Name), err)
				code = failed
				continue
			}
			if len(photo.Parts) == 0 && code == allWell {
				code = nothingIn
			}
			at++
			return photo, true
		}
		return confirm.Photo{}, false
	})
	return code, cmp.Or(ctx.Err(), err)
}

// readToConfirm reads a photo and makes ready what is needed to confirm its
// parts. look may be nil.
func readToConfirm(ctx context.Context, source photoread.Source, look photoread.Look) (confirm.Photo, error) {
	var sum [sha256.Size]byte
	load := source.Load
	source.Load = func() ([]byte, error) {
		data, err := load()
		sum = sha256.Sum256(data)
		return data, err
	}
	photo := confirm.Photo{Name: report.Name(source.Name)}
	result := photoread.Read(ctx, source, func(opened *vision.Photo, parts []photoread.Part) error {
		for i, p := range parts {
			crop, err := cropOf(opened, p.Part)
			if err != nil {
				return err
			}
			photo.Parts = append(photo.Parts, confirm.Part{
				// The same part of the same file is never kept twice.
				Key:   fmt.Sprintf("%x part %d", sum[:16], i+1),
				Photo: report.Name(filepath.Base(source.Name)), Number: i + 1, Of: len(parts),
				Seen: p.Seen, Ranking: p.Ranking, Crop: crop, Size: p.Body.Size(), SizeText: p.Body.RatingText(),
			})
		}
		if look != nil {
			return look(opened, parts)
		}
		return nil
	})
	return photo, result.Err
}

// The width of the pictures that the stock keeps, in pixels.
const (
	leastCrop = 160
	mostCrop  = 640
)

// cropOf is the part cut out of the photo, as PNG.
func cropOf(photo *vision.Photo, part vision.Part) ([]byte, error) {
	a, b := part.At(-vision.CropMargin, 0.5), part.At(1+vision.CropMargin, 0.5)
	width := int(math.Max(leastCrop, math.Min(mostCrop, math.Hypot(a.X-b.X, a.Y-b.Y))))
	height := int(math.Max(8, math.Min(mostCrop, math.Round(float64(width)/part.CropAspect()))))
	picture, err := part.Crop(photo, width, height)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = png.Encode(&out, picture)
	return out.Bytes(), err
}
