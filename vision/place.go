package vision

import (
	"cmp"
	"math"
	"slices"

	"ringwise/vision/columns"
)

// A place is where a body may be, after a first glance.
type place struct {
	fit // as it was glanced at
	glance
	strip *strip // of the fit, where the network that reads was asked
	body  box    // where the body was seen
	alone *look  // what was seen without the network, if it saw hardly a ring
}

// What a glance must come to.
const (
	leastGlance = 40  // for a place to be worth more
	plainGlance = 200 // for one where no two rings were seen
	longBody    = 4.0 // the length over the width from which a lead must be seen
	wellFilled  = 0.8 // the fill of an outline that needs no word of the network
)

// glanceAt glances at the strip of a fit and moves the fit to the body seen in
// it; what was hinted at is shown to the network that reads at once. Where the body
// runs on beyond the strip it is glanced at once more. What the network does not
// take for a body may still be one without its word.
func glanceAt(photo picture, v view, mask plane, g ground, f fit) (place, bool) {
	if f.leads == 0 && f.half > longBody*f.rise || f.wave > mostWave {
		return place{}, false
	}
	p := place{fit: f}
	for range 2 {
		s, ok := straighten(photo, p.scaled(1/v.scale))
		if !ok {
			return place{}, false
		}
		if f.chance > 0 { // most likely a body: it would be asked of it next
			p.strip, p.glance = s, s.consult().glance()
		} else {
			p.glance = s.glimpse().glance()
		}
		if p.rings < 2 {
			return p.unaided(photo, v, mask, g, f)
		}
		p.body = p.between(p.left-marginColumns, p.right-marginColumns)
		if p.left >= 3 && p.right <= columns.Columns-3 && p.body.half > 0.7*p.half {
			p.body, _ = s.sized(p.fit, p.left-marginColumns, p.right-marginColumns)
			break
		}
		p.box, p.strip = p.body, nil
	}
	return p, p.gain >= leastGlance && p.half/p.rise < mostAspect
}

// unaided looks at a fit in which the network saw hardly a ring: with its word at
// what may be a link, else without.
func (p place) unaided(photo picture, v view, mask plane, g ground, f fit) (place, bool) {
	if l, ok := p.link(photo, v, mask, g); ok {
		p.body, p.alone = l.box, &l
		return p, true
	}
	if p.gain < plainGlance && (f.leads == 0 || f.fill < wellFilled) {
		return place{}, false
	}
	l, ok := lookAt(photo, v, mask, g, f)
	if !ok || !l.isBody() || p.gain < plainGlance && l.gain < plainlyRinged {
		return place{}, false
	}
	p.fit, p.strip = f, nil
	p.body, p.alone = l.box, &l
	return p, true
}

// link looks closer at a place where one ring was plainly seen, and tells whether it
// is a zero-ohm link.
func (p place) link(photo picture, v view, mask plane, g ground) (look, bool) {
	if p.rings != 1 || p.gain < plainGlance {
		return look{}, false
	}
	strip, ground, f, ok := lit(photo, v, mask, g, p.fit, p.strip)
	if !ok {
		return look{}, false
	}
	l := look{fit: f, fitted: f.box, strip: strip, ground: ground}.again(photo, v)
	return l, l.isBody() && l.isLink()
}

// settles tells whether another box tells nothing new beside this place.
func (p place) settles(b box) bool {
	return p.rings >= 3 && p.gain > 300 && p.left > 3 && p.right < columns.Columns-3 &&
		math.Hypot(b.x-p.body.x, b.y-p.body.y) < 0.25*p.rise && math.Abs(math.Sin(b.angle-p.angle)) < 0.1 &&
		math.Abs(math.Log(b.half/p.body.half)) < 0.15 && math.Abs(math.Log(b.rise/p.rise)) < 0.2
}

// weight ranks places that share a body. A hint at a row of rings, which comes of a
// view of the whole photo, speaks for a place as much again as it is likely.
func (p place) weight() float64 {
	w := p.gain * math.Pow(p.body.half, 0.75)
	if p.rings >= fewestRings {
		w *= 1 + p.chance
	}
	return w
}

// onePerBody keeps the best of the places that share a body. One that takes several
// bodies for one gives way to them, as far as they are not those of a better place.
func onePerBody(places []place) []place {
	slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(b.weight(), a.weight()) })
	var kept []place
	for len(places) > 0 {
		p := places[0]
		if places = places[1:]; p.isSeveral(places) {
			continue
		}
		kept = append(kept, p)
		places = slices.DeleteFunc(places, func(o place) bool { return o.body.overlaps(p.body) })
	}
	return kept
}

// isSeveral tells whether others that are hinted at, with a row of rings each, share
// a place, none with another, and weigh more together.
func (p place) isSeveral(others []place) bool {
	var apart []place
	together := 0.0
	for _, o := range others {
		if o.chance > 0 && o.rings >= fewestRings && o.body.overlaps(p.body) &&
			!slices.ContainsFunc(apart, func(a place) bool { return a.body.overlaps(o.body) }) {
			apart = append(apart, o)
			together += o.weight()
		}
	}
	return len(apart) > 1 && together > p.weight()
}

// closer takes a closer look at a place, with the network's word for each
// column unless it saw nothing there.
func (p place) closer(photo picture, v view, mask plane, g ground) (look, bool) {
	if p.alone != nil && p.gain < plainGlance {
		return *p.alone, true
	}
	strip, ground, f, ok := lit(photo, v, mask, g, p.fit, p.strip)
	if !ok {
		return look{}, false
	}
	l := look{fit: f, fitted: f.box, strip: strip, ground: ground}.again(photo, v)
	switch {
	case l.told != nil && (l.isBody() || p.rings >= 3 && l.rings >= 3):
		return l, true
	case p.alone != nil:
		return *p.alone, true
	}
	l, ok = lookAt(photo, v, mask, g, f)
	return l, ok && l.isBody()
}
