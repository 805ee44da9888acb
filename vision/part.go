// Package vision finds the bodies of resistors in a photo, straightens each
// into a strip, cuts the strip into rings and says how likely each ring is to
// have each paint. It knows no ohms.
package vision

import "ringwise/decode"

// Point is a place in the photo as displayed, in pixels rightwards and downwards.
// Whole numbers are the middles of pixels.
type Point struct{ X, Y float64 }

// A Part is one body found in a photo.
type Part struct {
	// Outline holds the corners of the body in the photo as displayed:
	// left end top, right end top, right end bottom, left end bottom, where
	// left and right are the ends of the straightened strip.
	Outline [4]Point

	// Seen is what the rings look like, for decode.Rank.
	Seen decode.Sighting

	trace *trace // what Seen was made from, nil if the part was not found in a photo
}

// At returns the place in the photo that lies along the body by the given
// fraction of its length from the left end, and across it by the given
// fraction of its width from the top edge.
func (p Part) At(along, across float64) Point {
	lerp := func(a, b Point, t float64) Point {
		return Point{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t}
	}
	top := lerp(p.Outline[0], p.Outline[1], along)
	bottom := lerp(p.Outline[3], p.Outline[2], along)
	return lerp(top, bottom, across)
}
