// Package ruler turns pixels of a photo into millimetres where the photo shows
// something whose length a person knows: a ruler, a coin of known diameter,
// leads of known spacing. From a body's size follows at which power ratings such
// bodies are sold, as an estimate only.
package ruler

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"ringwise/vision"
)

// A Scale is how many pixels of a photo a millimetre is; 0 if unknown. It holds
// for what lies in the plane of the thing measured, in a photo taken from nearly
// straight above: one tilted by 15° shortens lengths along the tilt by 3 %
// (cos 15°), and the far side of it more.
type Scale float64

// Caveat is what to tell wherever sizes are shown.
const Caveat = "Sizes are estimates: they hold for parts that lie in one plane with what was measured, in a photo taken from nearly straight above."

// Bounds of what is measured.
const (
	leastMM     = 0.5
	mostMM      = 2000
	leastPixels = 20 // between two points, so that to miss one by a pixel or two matters little
	leastScale  = 0.2
	mostScale   = 2000 // pixels in a millimetre
)

// Between is the scale of a photo in which two points are so many millimetres
// apart. It returns an error if they are too near to each other, or the length
// cannot be that of anything in a photo of parts.
func Between(a, b vision.Point, mm float64) (Scale, error) {
	if !(mm >= leastMM && mm <= mostMM) {
		return 0, fmt.Errorf("a length of %g mm is out of range: measure something of %g to %d mm", mm, leastMM, mostMM)
	}
	pixels := math.Hypot(a.X-b.X, a.Y-b.Y)
	if !(pixels >= leastPixels) {
		return 0, fmt.Errorf("the two points are %.0f pixels apart, too few to measure by: point at two that are at least %d apart", pixels, leastPixels)
	}
	return check(Scale(pixels / mm))
}

func check(s Scale) (Scale, error) {
	if !(s >= leastScale && s <= mostScale) {
		return 0, fmt.Errorf("%.3g pixels in a millimetre cannot be: check the length and its unit", float64(s))
	}
	return s, nil
}

var (
	lengthText = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+) ?(mm|cm|in|inch|")?$`)
	// acrossText is a length and two points: "10.16 mm 812,400 990,402".
	acrossText = regexp.MustCompile(`^(\S+?(?: ?(?:mm|cm|in))?) (?:between )?(-?[0-9.]+),(-?[0-9.]+) (?:and )?(-?[0-9.]+),(-?[0-9.]+)$`)
	perMMText  = regexp.MustCompile(`^([0-9]+(?:[.,][0-9]+)?) ?px/mm$`)
)

// ParseLength reads a length in mm, cm or in (25.4 mm), in mm without a unit:
// "10.16", "10,16 mm", "2.5 cm", "0.4 in". It returns millimetres.
func ParseLength(text string) (float64, error) {
	part := lengthText.FindStringSubmatch(strings.Join(strings.Fields(strings.ToLower(text)), " "))
	if part == nil || len(text) > 20 {
		return 0, fmt.Errorf("%.20q is no length: write one in mm such as 10.16", text)
	}
	length, err := strconv.ParseFloat(strings.Replace(part[1], ",", ".", 1), 64)
	if err != nil {
		return 0, fmt.Errorf("%.20q is no length: write one in mm such as 10.16", text)
	}
	switch part[2] {
	case "cm":
		length *= 10
	case "in", "inch", `"`:
		length *= 25.4
	}
	return length, nil
}

// Parse reads a scale as it is given on the command line: a length and the two
// points of the photo between which it lies, in pixels from the left and the top,
// such as "10.16 mm 812,400 990,402", or pixels in a millimetre, such as
// "17.5 px/mm". points are the two points; nil if the scale holds for any photo.
func Parse(text string) (s Scale, points []vision.Point, err error) {
	plain := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	if part := perMMText.FindStringSubmatch(plain); part != nil && len(plain) < 40 {
		n, err := strconv.ParseFloat(strings.Replace(part[1], ",", ".", 1), 64)
		if err != nil {
			return 0, nil, err
		}
		s, err = check(Scale(n))
		return s, nil, err
	}
	part := acrossText.FindStringSubmatch(plain)
	if part == nil || len(plain) > 80 {
		return 0, nil, errors.New(`it must be a length and two points in pixels, such as "10.16 mm 812,400 990,402", or such as "17.5 px/mm"`)
	}
	mm, err := ParseLength(part[1])
	if err != nil {
		return 0, nil, err
	}
	var at [4]float64
	for i, word := range part[2:6] {
		if at[i], err = strconv.ParseFloat(word, 64); err != nil || at[i] < 0 {
			return 0, nil, fmt.Errorf("%.20q is no place in a photo: count pixels from its left and its top", word)
		}
	}
	points = []vision.Point{{X: at[0], Y: at[1]}, {X: at[2], Y: at[3]}}
	s, err = Between(points[0], points[1], mm)
	return s, points, err
}

// Within returns an error that names the photo's size, in pixels, if one of the
// points lies outside it. Its far edges count as inside: who counts from the
// edges of pixels, not from their middles, measures the same length.
func Within(points []vision.Point, width, height int) error {
	for _, p := range points {
		if !(p.X >= 0 && p.X <= float64(width) && p.Y >= 0 && p.Y <= float64(height)) {
			return fmt.Errorf("the scale's point %g,%g lies outside the photo, which is %d × %d pixels: count pixels from its left and its top", p.X, p.Y, width, height)
		}
	}
	return nil
}
