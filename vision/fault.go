package vision

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// notRingCoded is the answer to a body that shows no row of rings.
const notRingCoded = "not ring-coded, or its rings cannot be seen: enter it by hand"

// What a fit without a row of rings must come to for it to be told of: a body
// with a lead at either end and an outline beyond doubt, such as a resistor with
// a printed code or a diode. What else lies about is not worth a person's time.
// Set by hand on generated scenes with other things in them.
const (
	bareFill    = 0.85
	bareWave    = 0.05
	bareGlance  = 100 // what the network must see in it
	bareSolid   = 0.85
	bareOpen    = 0.3
	bareDiscord = 8
	fewestRings = 3 // of any code but that of a link
)

// unringed adds to the bodies with rings those that are bodies for sure though no
// row of rings is seen, and finds out which of those with rings wear print or the
// like instead. bare are the places where a network sees resistors without rings.
func unringed(photo picture, v view, mask plane, g ground, fits, bare []fit, looks []look) []look {
	for i := range looks {
		l := &looks[i]
		l.marked = l.isMarked(photo, v, fits)
		if slices.ContainsFunc(bare, func(f fit) bool { return f.chance > max(rather, l.chance) && l.overlaps(f.box) }) {
			l.bare = kindWithoutRings
		}
	}
	looks = append(looks, bareBodies(photo, v, mask, g, fits, looks)...)
	for _, f := range bare {
		if f.chance < barely || slices.ContainsFunc(looks, func(l look) bool { return l.box.overlaps(f.box) }) {
			continue
		}
		if s, ok := straighten(photo, f.scaled(1/v.scale)); ok {
			l := lookOnce(s, []tint{g.tint(v, f.x, f.y)}, f, nil)
			l.box, l.bare = f.box, kindWithoutRings
			looks = append(looks, l)
		}
	}
	return looks
}

// barely is the chance from which on a place is taken for a resistor without rings
// where no rings are seen, rather that where some are, and kindWithoutRings is what
// is said of it.
const (
	barely           = 0.35
	rather           = 0.5
	kindWithoutRings = "it looks like a resistor of a kind without rings"
)

// bareBodies returns the fits that are bodies for sure though no row of rings was
// seen in them. looks are the bodies that were.
func bareBodies(photo picture, v view, mask plane, g ground, fits []fit, looks []look) []look {
	var out []look
	for _, f := range fits {
		same := func(l look) bool { return l.box.overlaps(f.box) }
		if f.leads < 2 || f.fill < bareFill || f.wave > bareWave || 2*f.half/v.scale < smallBody ||
			slices.ContainsFunc(looks, same) || slices.ContainsFunc(out, same) {
			continue
		}
		s, ok := straighten(photo, f.scaled(1/v.scale))
		if !ok {
			continue
		}
		seen := s.glimpse().glance()
		if seen.gain < bareGlance || seen.rings >= fewestRings {
			continue
		}
		strip, ground, lit, ok := lit(photo, v, mask, g, f, s)
		if !ok {
			continue
		}
		var told *told
		if seen.rings == 1 {
			told = strip.consult() // it may be a link
		}
		l := lookOnce(strip, ground, lit, told)
		if l.solid < bareSolid || l.open > bareOpen || l.discord > bareDiscord {
			continue
		}
		l.box = f.box
		switch {
		case l.isLink():
		case seen.rings == 0:
			l.bare = "no ring is seen"
		default:
			l.bare = tooFew(seen.rings)
		}
		out = append(out, l)
	}
	return out
}

func tooFew(rings int) string {
	if rings == 1 {
		return "only one ring is seen, as on a diode"
	}
	return fmt.Sprintf("only %d rings are seen", rings)
}

// fault says why a body is not one to read rings on; it is empty for all others.
func (l look) fault() string {
	why := l.bare
	if why == "" && !l.isLink() {
		if l.rings < fewestRings {
			why = tooFew(l.rings)
		} else if l.marked {
			why = "its marks do not run across the body, as print and dots do not"
		}
	}
	if why == "" {
		return ""
	}
	return notRingCoded + " (" + why + ")"
}

// likeliest is the best cutting with as many rings as a code has.
func (l look) likeliest() (cutting, bool) {
	var codes []cutting
	for _, c := range l.cuts {
		if len(c.rings) >= fewestRings {
			codes = append(codes, c)
		}
	}
	if len(codes) == 0 {
		return cutting{}, false
	}
	return slices.MinFunc(codes, func(a, b cutting) int { return cmp.Compare(a.cost, b.cost) }), true
}

// isMarked tells whether what the best cutting takes for rings is print, a dot or
// glint: too few of them run across the body to be a code.
func (l look) isMarked(photo picture, v view, fits []fit) bool {
	// Of the parts read right on development photos and generated scenes, all
	// but one ring at the most reached 0.7.
	const crosses = 0.65
	c, ok := l.likeliest()
	if !ok {
		return false
	}
	s, body := l.whole(photo, v, fits)
	whole := 0
	for _, r := range c.rings {
		if l.crossing(s, body, c, r) >= crosses {
			whole++
		}
	}
	return whole < fewestRings && len(c.rings)-whole >= 2 // one ring may be chipped
}

// whole is a look's strip over the whole width of its body, and which of its rows
// show the body. The look's own may have been narrowed to the height of letters where
// it is print; a fit to the outline is not, but may take in shadow.
func (l look) whole(photo picture, v view, fits []fit) (*strip, func(beside tint) bool) {
	const narrowed = 1.45 // letters are two thirds as high as their body, or less
	for _, f := range fits {
		along := math.Abs((f.x-l.fitted.x)*math.Cos(l.fitted.angle) + (f.y-l.fitted.y)*math.Sin(l.fitted.angle))
		if f.rise < narrowed*l.rise || f.rise > 4*l.rise || math.Abs(math.Sin(f.angle-l.fitted.angle)) > 0.2 ||
			along > 0.3*l.fitted.half || f.half > 1.5*l.half || !f.overlaps(l.box) {
			continue
		}
		b := l.fitted
		across := (f.y-b.y)*math.Cos(b.angle) - (f.x-b.x)*math.Sin(b.angle)
		b.x, b.y = b.at(0, across)
		b.rise = f.rise
		if s, ok := straighten(photo, b.scaled(1/v.scale)); ok {
			return s, func(beside tint) bool { return bodily(beside.minus(l.body)) < alikeBody }
		}
	}
	return l.strip, func(tint) bool { return true }
}

// alikeBody is how unlike the body a row beside a ring may be and still show it.
const alikeBody = 12

// crossing is the share of the rows of a strip that show the body on which a ring
// of a cutting differs from the body beside it as it does on the whole: a painted
// ring runs across all of the body. Rows on which it is burnt out tell nothing.
func (l look) crossing(s *strip, isBody func(beside tint) bool, c cutting, r ring) float64 {
	const (
		follows = 0.4 // of the whole difference, on a row that shows the ring
		reach   = 5   // columns of body compared with, to either side
	)
	trim := min(l.soft(), (r.end-r.start-1)/2)
	var ring, body []int // columns
	for i := r.start + trim; i < r.end-trim; i++ {
		ring = append(ring, i)
	}
	for i := 1; i <= reach+trim; i++ {
		for _, at := range [2]int{r.start - 1 - i, r.end + i} {
			if at >= c.left && at < c.right && !c.hasRingAt(at) {
				body = append(body, at)
			}
		}
	}
	if len(body) == 0 {
		return 1
	}
	var rows [][3]float64
	var whole [3]float64
	for row := range stripRows {
		shift := int(math.Round(l.strip.bend.shift(row)))
		inside, burnt := s.rowMean(row, shift, ring)
		beside, _ := s.rowMean(row, shift, body)
		if 2*burnt > len(ring) || !isBody(toTint(toLinear(beside))) {
			continue
		}
		var d [3]float64
		for k := range d {
			d[k] = float64(inside[k] - beside[k])
			whole[k] += d[k]
		}
		rows = append(rows, d)
	}
	if len(rows) < stripRows/4 {
		return 1
	}
	strength := 0.0
	for k := range whole {
		whole[k] /= float64(len(rows))
		strength += whole[k] * whole[k]
	}
	crossed := 0
	for _, d := range rows {
		if d[0]*whole[0]+d[1]*whole[1]+d[2]*whole[2] > follows*strength {
			crossed++
		}
	}
	return float64(crossed) / float64(len(rows))
}

// hasRingAt tells whether a column lies in a ring or at its edge.
func (c cutting) hasRingAt(column int) bool {
	return slices.ContainsFunc(c.rings, func(r ring) bool { return column >= r.start-1 && column <= r.end })
}

// lightless is the 8-bit value up to which all channels are where nothing of a
// colour is left.
const lightless = 12

// rowMean is the mean of some columns of a row that is shifted, in 8-bit sRGB, and
// how many of them are burnt out.
func (s *strip) rowMean(row, shift int, columns []int) (mean [3]float32, burnt int) {
	for _, c := range columns {
		p := s.pixels[row][min(max(c+shift, 0), stripColumns-1)]
		for k := range mean {
			mean[k] += p[k] / float32(len(columns))
		}
		if min(p[0], p[1], p[2]) >= burntOut {
			burnt++
		}
	}
	return mean, burnt
}

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
	burnt, wide, faint := 0.0, 0.0, math.Inf(1)
	for _, r := range c.rings {
		burnt = max(burnt, l.share(r.start, r.end, func(p [3]float32) bool { return min(p[0], p[1], p[2]) >= burntOut }))
		wide += float64(r.end-r.start) / float64(len(c.rings))
		faint = min(faint, r.seen.tint.from(c.near[(r.start+r.end)/2].tint))
	}
	dark := l.share(c.left, c.right, func(p [3]float32) bool { return max(p[0], p[1], p[2]) <= lightless })
	length := l.detail * float64(c.right-c.left)
	switch {
	case burnt > mostBurnt:
		return "a ring is burnt out by glare: use softer light from the side, or turn the part"
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
