package main

import (
	"context"
	"math"
	"path/filepath"
)

// demoPhoto asks for one demo photo: a scene of known conditions in which
// chance draws the parts.
type demoPhoto struct {
	name        string
	seed        uint64
	product     bool // a picture as shops show them; only seed and quality hold
	frame       [2]int
	bodyPx      float64 // length of a quarter-watt body
	tilt        float64 // degrees
	ground      func(dice) ground
	lamp        string
	kelvin      float64
	balance     float64 // what the camera takes for white, K
	parts       int
	things      int
	link        bool // the first part is a zero-ohm link
	arrangement string
	age         float64
	noise       float64
	quality     int // JPEG
}

// demoSource says what the demo photos are.
const demoSource = "Invented: rendered scenes of a village radio-repair club's spring clean-out. No real parts, places or people. " +
	"Made by: go run ./samples/scene -out samples -demo"

// demoPhotos are the finds of the clean-out, each from another corner of the
// club room.
var demoPhotos = []demoPhoto{
	{name: "cleanout-01-biscuit-tin", seed: 11, frame: [2]int{1200, 900}, bodyPx: 150, tilt: 6, ground: whitePaper,
		lamp: "window", kelvin: 5400, balance: 5500, parts: 6, arrangement: "scattered", age: 0.05, noise: 0.003, quality: 86},
	{name: "cleanout-02-window-sill", seed: 12, frame: [2]int{1280, 960}, bodyPx: 130, tilt: 10, ground: lightWood,
		lamp: "window", kelvin: 6200, balance: 6000, parts: 7, arrangement: "scattered", age: 0.1, noise: 0.003, quality: 84},
	{name: "cleanout-03-cutting-mat", seed: 25, frame: [2]int{1280, 960}, bodyPx: 190, tilt: 4, ground: cuttingMat,
		lamp: "overcast", kelvin: 5200, balance: 5100, parts: 5, arrangement: "scattered", noise: 0.004, quality: 84},
	{name: "cleanout-04-evening-lamp", seed: 14, frame: [2]int{1200, 900}, bodyPx: 140, tilt: 12, ground: linedPaper,
		lamp: "lamp", kelvin: 2900, balance: 3300, parts: 6, arrangement: "scattered", age: 0.2, noise: 0.008, quality: 80},
	{name: "cleanout-05-across-the-bench", seed: 15, frame: [2]int{1200, 900}, bodyPx: 210, tilt: 48, ground: darkWood,
		lamp: "window", kelvin: 5000, balance: 4900, parts: 4, arrangement: "scattered", age: 0.1, noise: 0.004, quality: 84},
	{name: "cleanout-06-supplier-card", seed: 304, product: true, quality: 82},
	{name: "cleanout-07-thumbnail", seed: 27, frame: [2]int{240, 180}, bodyPx: 90, tilt: 3, ground: cardboard,
		lamp: "overcast", kelvin: 5600, balance: 5600, parts: 1, arrangement: "scattered", noise: 0.003, quality: 62},
	{name: "cleanout-08-forwarded-photo", seed: 24, frame: [2]int{900, 675}, bodyPx: 120, tilt: 8, ground: griddedPaper,
		lamp: "two lamps", kelvin: 4200, balance: 4500, parts: 5, arrangement: "scattered", age: 0.1, noise: 0.007, quality: 24},
	{name: "cleanout-09-odds-and-ends", seed: 36, frame: [2]int{1280, 960}, bodyPx: 110, tilt: 7, ground: cloth,
		lamp: "overcast", kelvin: 5300, balance: 5300, parts: 5, things: 9, arrangement: "scattered", age: 0.1, noise: 0.004, quality: 80},
	{name: "cleanout-10-taped-with-link", seed: 20, frame: [2]int{1200, 900}, bodyPx: 120, tilt: 5, ground: worktop,
		lamp: "window", kelvin: 5800, balance: 5700, parts: 6, link: true, arrangement: "taped", noise: 0.003, quality: 84},
}

// compose draws the scene that the photo asks for.
func (p demoPhoto) compose() *scene {
	d := newDice(p.seed, 1)
	s := &scene{seed: p.seed, style: "demo", size: 1, lens: lens{enlarged: 1, saturation: 1, focus: 0.5}}
	if p.product {
		product(d, s, 1)
		s.lens.quality, s.lens.earlier = p.quality, 0
		return s
	}
	s.frame(d, p.frame, 1, p.bodyPx, p.tilt*math.Pi/180)
	s.ground = p.ground(d)
	s.light = drawLighting(d, [2]float64{p.kelvin, p.kelvin}, []weighted[string]{{p.lamp, 1}})
	s.phone(d)
	s.lens.balance, s.lens.balanceKelvin = "auto", p.balance
	s.lens.defocus, s.lens.motion, s.lens.earlier = 0, 0, 0
	s.lens.depth = min(s.lens.depth, 2)
	s.lens.ev, s.lens.noise, s.lens.quality = d.near(0.15, 0.1), p.noise, p.quality
	l := look{age: p.age}
	var parts []*part
	for i := range p.parts {
		part := newResistor(d, l)
		if i == 0 && p.link {
			part = resistorOf(d, l, drawMeaning(d, 1))
		}
		parts = append(parts, dressed(d, part, l))
	}
	s.arrange(d, parts, d.between(10, 18), p.arrangement)
	if p.things > 0 {
		s.strew(d, p.things, l)
	}
	return s
}

// makeDemo makes the demo photos and their truth.json.
func makeDemo(ctx context.Context, out string) error {
	set := truth{Source: demoSource, Photos: []photoTruth{}}
	for _, p := range demoPhotos {
		photo, err := p.compose().take(ctx, out, p.name+".jpg", false)
		if err != nil {
			return err
		}
		set.Photos = append(set.Photos, photo)
	}
	return set.write(filepath.Join(out, "truth.json"))
}
