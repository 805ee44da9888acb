package vision

import (
	"fmt"
	"math"
	"slices"
)

// lightless is the 8-bit value up to which all channels are where nothing of a
// colour is left.
const lightless = 12

// hindrance says what made the rings hard to see and what would help; it is empty
// where nothing did.
func (l look) hindrance() string {
	const (
		fewPixels = 60   // of the body's length
		mostBurnt = 0.1  // of a ring
		mostDark  = 0.3  // of the body
		mostSmear = 0.25 // of a ring's width, as a standard deviation
		mostFaint = 10   // Lab units between a ring and the body
	)
	c, ok := l.likeliest()
	if !ok {
		return ""
	}
	wide, faint := 0.0, math.Inf(1)
	for _, r := range c.rings {
		wide += float64(r.end-r.start) / float64(len(c.rings))
		faint = min(faint, r.seen.tint.from(c.near[(r.start+r.end)/2].tint))
	}
	dark := l.share(c.left, c.right, func(p [3]float32) bool { return max(p[0], p[1], p[2]) <= lightless })
	length := l.detail * float64(c.right-c.left)
	switch {
	case l.burnt(c) > mostBurnt:
		return burntRing
	case dark > mostDark:
		return "the body is too dark: use more light"
	case length < fewPixels:
		return fmt.Sprintf("the body is only %.0f pixels long: take the photo closer", length)
	case l.smear(c) > mostSmear*wide:
		return "the rings are blurred: hold the camera still, and not too close for it to focus"
	case faint < mostFaint:
		return "a ring is hardly to be told from the body: use brighter light, or a magnifier and the keys"
	}
	return ""
}

// burntRing is what is said of a ring that glare has burnt out.
const burntRing = "a ring is burnt out by glare: use softer light from the side, or turn the part"

// burnt is the share of the ring with the most glare that is burnt out.
func (l look) burnt(c cutting) float64 {
	most := 0.0
	for _, r := range c.rings {
		most = max(most, l.share(r.start, r.end, func(p [3]float32) bool { return min(p[0], p[1], p[2]) >= burntOut }))
	}
	return most
}

// share is the share of the strip's pixels between two columns for which is
// holds.
func (l look) share(from, to int, is func(p [3]float32) bool) float64 {
	hits := 0
	for row := range stripRows {
		for _, p := range l.strip.pixels[row][max(0, from):min(stripColumns, to)] {
			if is(p) {
				hits++
			}
		}
	}
	return float64(hits) / float64(stripRows*max(1, to-from))
}

// smear is how far the edges of a cutting's rings are blurred, in columns: the
// standard deviation of the Gaussian that makes an edge's steepest slope what it
// is (a smeared step is √2π of them high for that slope), in the median of the
// edges that are plain enough to tell.
func (l look) smear(c cutting) float64 {
	const (
		plain = 15 // Lab units
		past  = 6  // columns beyond the edge
	)
	var seen []float64
	for _, r := range c.rings {
		middle := l.spots[(r.start+r.end)/2].tint
		for _, edge := range [2]struct{ at, step int }{{r.start, -1}, {r.end - 1, 1}} {
			steepest, height := 0.0, 0.0
			for i := -(r.end - r.start) / 2; i <= past; i++ {
				p, q := edge.at+edge.step*i, edge.at+edge.step*(i+1)
				if min(p, q) < 0 || max(p, q) >= stripColumns {
					break
				}
				steepest = max(steepest, l.spots[p].tint.from(l.spots[q].tint))
				height = max(height, l.spots[q].tint.from(middle))
			}
			if height > plain {
				seen = append(seen, height/steepest/math.Sqrt(2*math.Pi))
			}
		}
	}
	if len(seen) == 0 {
		return 0
	}
	slices.Sort(seen)
	return seen[len(seen)/2]
}

// from is the distance between two tints.
func (t tint) from(o tint) float64 {
	d := t.minus(o)
	return math.Sqrt(d.l*d.l + d.a*d.a + d.b*d.b)
}
