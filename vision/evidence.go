package vision

import "math"

// What a look must come to for its place to be taken for a body with rings. A
// lead with the end of a body beside it, or a crossing of lines, looks like one
// or two rings at most.
const (
	leastGain     = 9
	foundPrice    = 5 // taken off the gain for each ring beyond the second
	leastSolid    = 0.5
	faintGain     = 4  // the gain that does for a body whose outline is beyond doubt
	plainlyRinged = 40 // the gain that makes up for a body of the ground's colour
	mostWave      = 0.17
	mostOpen      = 0.8 // more, and it is a piece of something longer
	leastWorth    = 8
	leastLength   = 35 // photo pixels
)

// isBody tells whether a place holds a body with rings or a zero-ohm link.
func (l look) isBody() bool {
	if l.wave > mostWave || l.open > mostOpen || l.detail*float64(l.right-l.left) < leastLength {
		return false
	}
	if l.isLink() {
		return true
	}
	if l.worth() < leastWorth {
		return false
	}
	if l.rings >= 3 && (l.gain >= leastGain && l.solid >= leastSolid || l.gain >= plainlyRinged && l.discord < 8 && l.open < 0.25 && l.solid > 0.33) {
		return true
	}
	return l.rings >= 2 && l.gain >= faintGain && l.solid > 0.9 && l.open < 0.1 && l.wave < 0.03 && l.leads == 2 && l.discord < 5
}

// isLink tells whether a place looks like a zero-ohm link: a plain body with one
// ring in its middle, which is black if the network was asked.
func (l look) isLink() bool {
	if l.gain >= leastGain || l.open > 0.3 || l.discord > 8 {
		return false
	}
	one, ok := l.cheapest(1)
	if !ok {
		return false
	}
	r := one.rings[0]
	if middle := float64(r.start+r.end-2*l.left) / 2 / float64(l.right-l.left); math.Abs(middle-0.5) >= 0.12 {
		return false
	}
	if l.told != nil {
		return l.leads > 0 && l.solid >= surelySolid && r.seen.l < one.body.l && l.told.black(r) > 0.5 && l.told.glance().rings == 1
	}
	return l.plainlyLink(one)
}

// plainlyLink tells whether a place is a link even without the network's word: its one
// ring is dark, a second does not explain it much better, and it has a lead at either
// end unless it is hinted at plainly.
func (l look) plainlyLink(one cutting) bool {
	if l.leads < 2 && l.chance < surelyHinted || l.solid < 0.85 {
		return false
	}
	if two, ok := l.cheapest(2); ok && one.cost-one.prices > two.cost-two.prices+leastGain {
		return false
	}
	seen := one.rings[0].seen
	return seen.l < 38 && seen.chroma() < 10 && one.body.l-seen.l > 18
}

// cheapest is the best cutting with so many rings.
func (l look) cheapest(rings int) (best cutting, ok bool) {
	for _, c := range l.cuts {
		if len(c.rings) == rings && (!ok || c.cost < best.cost) {
			best, ok = c, true
		}
	}
	return best, ok
}

// worth ranks looks at the same place.
func (l look) worth() float64 {
	return math.Min(l.gain, 120) * l.fill * l.solid * l.solid * l.solid * math.Max(0.1, 1-4*l.wave) * (1.6 - l.open) / (1 + l.discord/20) * math.Pow(l.half, 0.3)
}
