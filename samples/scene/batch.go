package main

import (
	"math"
	"strconv"
)

// aBatch is how many photos a batch has. Those whose seeds give the same number
// when divided by it, the rest left out, belong together.
const aBatch = 4

// batchLamps are the lamps of the batches in turn: what shines, and what the
// camera takes for white, in kelvins. It is misled each time, as a camera is
// that was set for another lamp.
var batchLamps = [...]struct {
	kind            string
	kelvin, balance float64
	tint            float64 // error towards green, fraction
}{
	{"lamp", 2800, 4300, 0.05},
	{"overcast", 7500, 5000, -0.04},
}

// batch is one of several photos of many parts by one lamp that the camera takes
// for whiter than it is. Only the exposure differs from photo to photo.
func batch(d dice, s *scene, size float64) {
	number := s.seed / aBatch
	lamp := batchLamps[number%uint64(len(batchLamps))]
	s.batch = "batch " + strconv.FormatUint(number, 10)

	// What all photos of a batch have in common is drawn from its own number.
	common := newDice(number, 3)
	s.frame(common, [2]int{1280, 960}, size, 105, 6*math.Pi/180)
	s.ground = whitePaper(common)
	s.light = drawLighting(common, [2]float64{lamp.kelvin, lamp.kelvin}, []weighted[string]{{lamp.kind, 1}})
	s.light.fillKelvin = s.light.kelvin
	s.phone(common)
	s.lens.balance, s.lens.balanceKelvin, s.lens.tint = "preset", lamp.balance, lamp.tint
	s.lens.defocus, s.lens.depth, s.lens.motion, s.lens.earlier = 0, 0, 0, 0
	s.lens.noise, s.lens.quality = 0.005, 85
	s.lens.ev = common.near(0.05, 0.2) + d.near(0, 0.1)

	l := look{age: math.Max(0, common.near(0.1, 0.1))}
	var parts []*part
	for range 14 {
		parts = append(parts, dressed(d, newResistor(d, l), l))
	}
	s.arrange(d, parts, d.between(9, 14), "scattered")
}
