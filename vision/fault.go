package vision

import (
	"fmt"
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
