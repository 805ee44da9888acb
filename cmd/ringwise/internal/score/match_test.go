package score

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

// reported is a reported part about (x, y), 100 px long and 40 px wide.
func reported(x, y float64) photoread.Part {
	return photoread.Part{Part: vision.Part{Outline: [4]vision.Point{
		{X: x - 50, Y: y - 20}, {X: x + 50, Y: y - 20}, {X: x + 50, Y: y + 20}, {X: x - 50, Y: y + 20},
	}}}
}

// labelled is a labelled part about (x, y), 100 px long, without a polygon.
func labelled(x, y float64) Resistor {
	return Resistor{Bands: Bands{decode.Brown, decode.Black, decode.Red, decode.Gold},
		Body: Body{Centre: &[2]float64{x, y}, Length: 100}}
}

func TestMatch(t *testing.T) {
	withPolygon := func(r Resistor, width float64) Resistor {
		c := *r.Body.Centre
		r.Body.Polygon = box(c[0]-50, c[1]-width/2, 100, width)
		return r
	}
	for _, c := range []struct {
		name     string
		labelled []Resistor
		reported []photoread.Part
		partner  []int
		left     []int
	}{
		{"nothing", nil, nil, []int{}, nil},
		{"missed", []Resistor{labelled(100, 100)}, nil, []int{-1}, nil},
		{"a quarter length away", []Resistor{labelled(100, 100)}, []photoread.Part{reported(125, 100)}, []int{0}, nil},
		{"further away", []Resistor{labelled(100, 100)}, []photoread.Part{reported(125.1, 100)}, []int{-1}, []int{0}},
		{"two for one", []Resistor{labelled(100, 100)}, []photoread.Part{reported(110, 100), reported(101, 100)}, []int{1}, []int{0}},
		{"one for two", []Resistor{labelled(100, 100), labelled(130, 100)}, []photoread.Part{reported(118, 100)}, []int{-1, 0}, nil},
		{"crossed order", []Resistor{labelled(100, 100), labelled(300, 100)}, []photoread.Part{reported(300, 100), reported(100, 100)}, []int{1, 0}, nil},
		{"the nearest pair first", []Resistor{labelled(100, 100), labelled(110, 100)}, []photoread.Part{reported(108, 100), reported(122, 100)}, []int{1, 0}, nil},
		{"polygon fits", []Resistor{withPolygon(labelled(100, 100), 40)}, []photoread.Part{reported(105, 100)}, []int{0}, nil},
		{"polygon half as wide", []Resistor{withPolygon(labelled(100, 100), 20)}, []photoread.Part{reported(100, 100)}, []int{0}, nil},
		{"polygon a third as wide", []Resistor{withPolygon(labelled(100, 100), 13)}, []photoread.Part{reported(100, 100)}, []int{-1}, []int{0}},
	} {
		partner, left := match(c.labelled, c.reported)
		assert.Equal(t, c.partner, partner, c.name)
		assert.Equal(t, c.left, left, c.name)
	}
}

func TestFalseBodies(t *testing.T) {
	small := reported(300, 100)
	for i := range small.Outline {
		small.Outline[i].X = 300 + (small.Outline[i].X-300)/2
	}
	two := 2
	diode := Distractor{Kind: "diode", Centre: &[2]float64{300, 100}, Length: 50}
	nowhere := Distractor{Kind: "screw"}
	for _, c := range []struct {
		name  string
		photo Photo
		want  []int
	}{
		{"all labelled", Photo{Resistors: []Resistor{labelled(0, 0)}}, []int{0, 1}},
		{"one visible more: the smaller is it", Photo{Resistors: []Resistor{labelled(0, 0)}, Visible: &two}, []int{0}},
		{"a cut resistor counts as visible", Photo{Resistors: []Resistor{labelled(0, 0)}, Visible: &two,
			Distractors: []Distractor{{Kind: cutResistor, Centre: &[2]float64{300, 100}}}}, []int{0}},
		{"so does a covered one", Photo{Resistors: []Resistor{labelled(0, 0)}, Visible: &two,
			Distractors: []Distractor{{Kind: coveredResistor, Centre: &[2]float64{300, 100}}}}, []int{0}},
		{"but not on a distractor", Photo{Resistors: []Resistor{labelled(0, 0)}, Visible: &two, Distractors: []Distractor{nowhere, diode}}, []int{1}},
	} {
		got := falseBodies(c.photo, []photoread.Part{reported(600, 100), small}, []int{0, 1})
		assert.Equal(t, c.want, got, c.name)
	}
}

func TestDistractorUnder(t *testing.T) {
	photo := Photo{Distractors: []Distractor{
		{Kind: "screw"},
		{Kind: "diode", Polygon: box(80, 80, 40, 40)},
		{Body: &Body{Centre: &[2]float64{400, 100}, Length: 120}},
	}}
	assert.Same(t, &photo.Distractors[1], distractorUnder(photo, reported(100, 100).Part))
	assert.Same(t, &photo.Distractors[2], distractorUnder(photo, reported(450, 100).Part))
	assert.Nil(t, distractorUnder(photo, reported(250, 100).Part))
}

// Of things that lie on each other a part stands for the one whose middle is nearest,
// whichever is listed first and however its place is given.
func TestNearestDistractorUnder(t *testing.T) {
	photo := Photo{Distractors: []Distractor{
		{Kind: coveredResistor, Body: &Body{Centre: &[2]float64{110, 100}, Length: 100, Polygon: box(60, 80, 100, 40)}},
		{Kind: "diode", Polygon: box(70, 80, 40, 40)},
	}}
	assert.Same(t, &photo.Distractors[0], distractorUnder(photo, reported(105, 100).Part))
	assert.Same(t, &photo.Distractors[1], distractorUnder(photo, reported(92, 100).Part))
}

// Whoever is sure of a resistor cut by the edge must have its rings right.
func TestCutResistorBelied(t *testing.T) {
	two := 2
	rings := code(t, "BN", "BK", "RD", "GD")
	photo := Photo{Resistors: []Resistor{labelled(0, 0)}, Visible: &two,
		Distractors: []Distractor{{Kind: cutResistor, Centre: &[2]float64{300, 100}, Bands: rings}}}
	for _, c := range []struct {
		name string
		part photoread.Part
		want []int
	}{
		{"sure and right", saying(reported(300, 100), decode.Sure, 0.9, rings), nil},
		{"sure and wrong", saying(reported(300, 100), decode.Sure, 0.9, rings[:3]), []int{0}},
		{"not sure", saying(reported(300, 100), decode.Check, 0.9, rings[:3]), nil},
	} {
		assert.Equal(t, c.want, falseBodies(photo, []photoread.Part{c.part}, []int{0}), c.name)
	}
}
