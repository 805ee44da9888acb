package vision

import (
	"cmp"
	"math"
	"slices"

	"gocv.io/x/gocv"
)

// A look is a closer look at one place where a body may be.
type look struct {
	fit
	detail  float64 // photo pixels per column of the strip
	spots   *[stripColumns]spot
	cuts    []cutting
	left    int // the columns between which the body lies
	right   int
	body    tint    // its colour
	rings   int     // how many the best cutting has
	fitted  box     // the box of the strip, in which left and right are columns
	solid   float64 // share of the body that stands out from the ground
	open    float64 // share of what lies just beyond its ends that does so too
	discord float64 // how much the two sides of the axis differ in hue
	gain    float64 // how much better three rings or more explain the strip than two
}

// What a look must come to for its place to be taken for a body with rings. A
// lead with the end of a body beside it, or a crossing of lines, looks like one
// or two rings at most.
const (
	leastGain     = 9
	foundPrice    = 5 // of each ring beyond the second
	leastSolid    = 0.5
	faintGain     = 4  // the gain that does for a body whose outline is beyond doubt
	plainlyRinged = 40 // the gain that makes up for a body of the ground's colour
	mostWave      = 0.17
	mostOpen      = 0.8
	leastWorth    = 8
	leastLength   = 26 // photo pixels
)

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
// a lead at either end.
func (l look) isLink() bool {
	if l.gain >= leastGain || l.leads < 2 || l.solid < 0.85 || l.open > 0.3 || l.discord > 8 {
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

// lookAt straightens the place in the photo and cuts it into rings. Where the
// body seems to run on beyond the strip, or has so few rings that some may lie
// beyond it, the box is moved along and looked at again.
func lookAt(photo gocv.Mat, v view, g ground, f fit) (look, bool) {
	see := func(f fit) (look, bool) {
		strip, ok := straighten(photo, f.scaled(1/v.scale))
		if !ok {
			return look{}, false
		}
		ground := append(groundBeside(v, f.box), g.tint(v, f.x, f.y))
		if b, narrower := strip.withoutShadow(f.box, ground); narrower {
			f.box = b
			if strip, ok = straighten(photo, b.scaled(1/v.scale)); !ok {
				return look{}, false
			}
		}
		l := lookOnce(strip, ground, f)
		l.fitted = f.box
		l.box = f.between(l.left, l.right)
		return l, true
	}
	const further = stripColumns / 6
	best, ok := see(f)
	if !ok {
		return look{}, false
	}
	for range 2 {
		if best.open < 0.6 || best.left > 1 && best.right < stripColumns-1 {
			break
		}
		left, right := best.left, best.right
		if left <= 1 {
			left = -further
		}
		if right >= stripColumns-1 {
			right = stripColumns + further
		}
		wider := best.fit
		wider.box = fit{box: best.fitted}.between(left, right)
		if wider.half/wider.rise > mostAspect {
			break
		}
		l, ok := see(wider)
		if !ok || l.worth() <= best.worth() {
			break
		}
		best = l
	}
	if best.rings < 4 && best.gain >= leastGain {
		for _, ends := range [2][2]int{{best.left - further, best.right}, {best.left, best.right + further}} {
			wider := best.fit
			wider.box = fit{box: best.fitted}.between(ends[0], ends[1])
			if l, ok := see(wider); ok && l.rings == best.rings+1 && l.isBody() {
				return l, true
			}
		}
	}
	return best, true
}

func lookOnce(strip *strip, ground []tint, f fit) look {
	bend := strip.straightenRings()
	l := look{fit: f, detail: strip.detail, spots: strip.profile(bend)}
	sides := strip.sides(bend)
	var solids []*[stripColumns]float64
	for _, guess := range bodyGuesses(l.spots) {
		body := new([stripColumns]spot)
		for i := range body {
			body[i] = guess
		}
		solid := sides.solid(guess.tint, ground)
		for _, c := range cutStrip(l.spots, body, solid, l.soft()) {
			l.cuts = append(l.cuts, c)
			solids = append(solids, solid)
		}
	}
	best := 0
	few, many := math.Inf(1), math.Inf(1)
	for i, c := range l.cuts {
		if c.cost < l.cuts[best].cost {
			best = i
		}
		if len(c.rings) < 3 {
			few = min(few, c.cost-c.prices)
		} else {
			many = min(many, c.cost-c.prices+foundPrice*float64(len(c.rings)-2))
		}
	}
	l.gain = few - many
	l.rings = len(l.cuts[best].rings)
	l.left, l.right, l.body = l.cuts[best].left, l.cuts[best].right, l.cuts[best].body.tint
	solid := solids[best]
	l.solid = mean(solid[l.left:l.right])
	l.open = (mean(solid[max(0, l.left-8):max(1, l.left-2)]) + mean(solid[min(stripColumns-1, l.right+2):min(stripColumns, l.right+8)])) / 2
	l.discord = sides.discord(l.left, l.right)
	return l
}

// between is the part of the box that lies between two columns of its strip.
func (f fit) between(left, right int) box {
	b := f.box
	b.x, b.y = f.at((float64(left+right)/stripColumns-1)*stripAlong*f.half, 0)
	b.half *= float64(right-left) / stripColumns * stripAlong
	return b
}

// soft is the number of columns over which an edge is smeared.
func (l look) soft() int {
	return int(math.Round(math.Min(5, math.Max(1, 1.1/l.detail))))
}

// worth ranks looks at the same place.
func (l look) worth() float64 {
	return math.Min(l.gain, 120) * l.fill * l.solid * l.solid * l.solid * math.Max(0.1, 1-4*l.wave) * (1.6 - l.open) / (1 + l.discord/20) * math.Pow(l.half, 0.3)
}

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

// once keeps the best of the looks at each place.
func once(looks []look) []look {
	slices.SortStableFunc(looks, func(a, b look) int { return cmp.Compare(b.worth(), a.worth()) })
	var kept []look
next:
	for _, l := range looks {
		for _, k := range kept {
			if k.overlaps(l.box) {
				continue next
			}
		}
		kept = append(kept, l)
	}
	return kept
}

// overlaps tells whether two boxes share more than a quarter of the smaller.
func (b box) overlaps(o box) bool {
	if b.half*b.rise > o.half*o.rise {
		b, o = o, b
	}
	const steps = 8
	shared := 0
	other := o.extent()
	for i := range steps {
		for j := range steps {
			if other.holds(b.at((2*(float64(i)+0.5)/steps-1)*b.half, (2*(float64(j)+0.5)/steps-1)*b.rise)) {
				shared++
			}
		}
	}
	return shared*4 > steps*steps
}

// like tells whether two boxes are nearly the same.
func (b box) like(o box) bool {
	turn := math.Abs(math.Sin(b.angle - o.angle))
	return math.Hypot(b.x-o.x, b.y-o.y) < 0.15*b.rise && turn < 0.06 &&
		math.Abs(b.half-o.half) < 0.06*b.half && math.Abs(b.rise-o.rise) < 0.08*b.rise
}
