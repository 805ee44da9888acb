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
// dark ring in its middle, which a second ring does not explain much better, and
// a lead at either end, unless it is hinted at plainly.
func (l look) isLink() bool {
	if l.gain >= leastGain || l.leads < 2 && l.chance < surelyHinted || l.solid < 0.85 || l.open > 0.3 || l.discord > 8 {
		return false
	}
	var one, two *cutting
	for i := range l.cuts {
		c := &l.cuts[i]
		switch len(c.rings) {
		case 1:
			if one == nil || c.cost < one.cost {
				one = c
			}
		case 2:
			if two == nil || c.cost < two.cost {
				two = c
			}
		}
	}
	if one == nil || two != nil && one.cost-one.prices > two.cost-two.prices+leastGain {
		return false
	}
	r := one.rings[0]
	middle := float64(r.start+r.end-2*l.left) / 2 / float64(l.right-l.left)
	return r.seen.l < 38 && r.seen.chroma() < 10 && one.body.l-r.seen.l > 18 && math.Abs(middle-0.5) < 0.12
}

// worth ranks looks at the same place.
func (l look) worth() float64 {
	return math.Min(l.gain, 120) * l.fill * l.solid * l.solid * l.solid * math.Max(0.1, 1-4*l.wave) * (1.6 - l.open) / (1 + l.discord/20) * math.Pow(l.half, 0.3)
}
