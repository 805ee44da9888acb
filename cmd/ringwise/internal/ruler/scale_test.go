package ruler_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ringwise/cmd/ringwise/internal/ruler"
	"ringwise/vision"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text  string
		want  float64
		ofOne bool
	}{
		// 400 pixels in 10.16 mm, four tenths of an inch of 25.4 mm.
		{"10.16 mm 812,400 1212,400", 400 / 10.16, true},
		{"10,16 812,400 1212,400", 400 / 10.16, true},
		{"0.4 in between 812,400 and 1212,400", 400 / 10.16, true},
		{"1.016cm 812,400 812,800", 400 / 10.16, true},
		{"25 mm 100,100 400,500", 500.0 / 25, true}, // 3, 4, 5
		{"17.5 px/mm", 17.5, false},
		{"17,5PX/MM", 17.5, false},
	} {
		s, points, err := ruler.Parse(c.text)
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.want, float64(s), 1e-9, c.text)
		assert.Equal(t, c.ofOne, points != nil, c.text)
	}
	for text, want := range map[string]string{
		"":                           "a length and two points",
		"10 mm":                      "a length and two points",
		"10 mm 1,2":                  "a length and two points",
		"lots 1,2 300,4":             "is no length",
		"ten mm 1,2 300,4":           "is no length",
		"10 mm 5,5 5,5":              "0 pixels apart",
		"10 mm 5,5 15,5":             "10 pixels apart",
		"10 mm -5,5 400,5":           "no place in a photo",
		"10 mm 1.2.3,5 400,5":        "no place in a photo",
		"0 mm 5,5 400,5":             "out of range",
		"9000 mm 5,5 400,5":          "out of range",
		"0.5 mm 5,5 400000,5":        "cannot be",
		"0 px/mm":                    "cannot be",
		"-3 px/mm":                   "a length and two points",
		"90000 px/mm":                "cannot be",
		"NaN mm 5,5 400,5":           "is no length",
		"1e3 mm 5,5 400,5":           "is no length",
		"10 mm 5,5 400,5 and 600,70": "a length and two points",
	} {
		_, _, err := ruler.Parse(text)
		assert.ErrorContains(t, err, want, text)
	}
}

func TestWithin(t *testing.T) {
	_, points, err := ruler.Parse("25 mm 0,180 240,20")
	require.NoError(t, err)
	assert.NoError(t, ruler.Within(points, 240, 180), "its very edges")
	assert.NoError(t, ruler.Within(nil, 240, 180))
	assert.EqualError(t, ruler.Within(points, 200, 180), "the scale's point 240,20 lies outside the photo, which is 200 × 180 pixels: count pixels from its left and its top")
	assert.ErrorContains(t, ruler.Within(points, 240, 100), "0,180 lies outside the photo, which is 240 × 100 pixels")
}

// A length of a photo measured by a scale is that length again, at any turn.
func TestBetweenMeasures(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		mm, pixels := rapid.Float64Range(2.1, 200).Draw(rt, "mm"), rapid.Float64Range(50, 4000).Draw(rt, "pixels")
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(rt, "turn")
		a := vision.Point{X: 5000, Y: 5000}
		b := vision.Point{X: a.X + pixels*math.Cos(turn), Y: a.Y + pixels*math.Sin(turn)}
		s, err := ruler.Between(a, b, mm)
		require.NoError(rt, err)
		again, err := ruler.Between(b, a, mm)
		require.NoError(rt, err)
		assert.InEpsilon(rt, float64(s), float64(again), 1e-9)
		wide := rapid.Float64Range(0.2, 0.5).Draw(rt, "diameter over length")
		across := vision.Point{X: -(b.Y - a.Y) * wide, Y: (b.X - a.X) * wide}
		body := s.Of(vision.Part{Outline: [4]vision.Point{a, b, {X: b.X + across.X, Y: b.Y + across.Y}, {X: a.X + across.X, Y: a.Y + across.Y}}})
		assert.InDelta(rt, mm, body.LengthMM, 0.0501, "to a tenth of a millimetre")
		assert.InDelta(rt, mm*wide, body.DiameterMM, 0.0501)
	})
}

// Sizes of bodies, from memory of the type sizes: diameter and length in their
// names.
func TestRating(t *testing.T) {
	for _, c := range []struct {
		body ruler.Body
		want string
	}{
		{ruler.Body{LengthMM: 3.6, DiameterMM: 1.8}, "such bodies (size 0204) are sold at 0.125 W to 0.4 W: count on 0.125 W"},
		{ruler.Body{LengthMM: 6.3, DiameterMM: 2.3}, "such bodies (size 0207) are sold at 0.25 W to 0.6 W: count on 0.25 W"},
		{ruler.Body{LengthMM: 6.3, DiameterMM: 1.8}, "such bodies (size 0204) are sold at 0.125 W to 0.4 W: count on 0.125 W"},
		{ruler.Body{LengthMM: 2, DiameterMM: 1}, "a body of 2 mm × 1 mm is smaller than the type sizes known here: do not count on more than 1/8 W"},
		{ruler.Body{LengthMM: 40, DiameterMM: 9}, "a body of 40 mm × 9 mm is larger than the type sizes known here: look for its rating on the part"},
	} {
		assert.Equal(t, c.want, c.body.RatingText())
	}
	assert.False(t, ruler.Scale(0).Of(vision.Part{}).Known())
	assert.Empty(t, ruler.Body{}.Size())
	assert.EqualValues(t, "6.3 × 2 mm", ruler.Body{LengthMM: 6.3, DiameterMM: 2}.Size())
	assert.Equal(t, "6.3 × 2 mm", ruler.Body{LengthMM: 6.3, DiameterMM: 2}.String())
}
