package vision

import (
	"math"
)

// A look is a closer look at one place where a body may be.
type look struct {
	fit
	strip   *strip
	sides   *sides // of the strip
	ground  []tint
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
	masked  bool    // one of its ends cannot be told from what lies beyond it
	discord float64 // how much the two sides of the axis differ in hue
	told    *told   // what the network says of its columns, once asked
	gain    float64 // how much better three rings or more explain the strip than two
	bare    string  // of a body without a row of rings, what is seen instead
	marked  bool    // its rings are print or the like
	cutOff  bool    // the photo may not show all of it
	grey    bool    // the photo has no colours
}

// lookAt straightens the place in the photo and cuts it into rings. Where the
// body seems to run on beyond the strip, or has so few rings that some may lie
// beyond it, the box is moved along and looked at again.
func lookAt(photo picture, v view, stand plane, g ground, f fit) (look, bool) {
	see := func(f fit) (look, bool) {
		strip, ground, f, ok := lit(photo, v, stand, g, f, nil)
		if !ok {
			return look{}, false
		}
		return lookOnce(strip, ground, f, nil), true
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

// lit straightens a fit, less the shadow that its box takes in, and gathers the
// tints of the ground beside it. The fit's strip is given where there is one.
func lit(photo picture, v view, stand plane, g ground, f fit, strip *strip) (*strip, []tint, fit, bool) {
	ok := true
	if strip == nil {
		if strip, ok = straighten(photo, f.scaled(1/v.scale)); !ok {
			return nil, nil, f, false
		}
	}
	ground := append(groundBeside(v, stand, f.box), g.tint(v, f.x, f.y))
	if b, narrower := strip.withoutShadow(f.box, ground); narrower {
		f.box = b
		strip, ok = straighten(photo, b.scaled(1/v.scale))
	}
	return strip, ground, f, ok
}

// lookOnce cuts one strip, with each guess at the body's colour, and measures how
// much of a body it shows.
func lookOnce(strip *strip, ground []tint, f fit, told *told) look {
	sides := strip.sides(strip.bend)
	l := look{fit: f, fitted: f.box, strip: strip, sides: sides, ground: ground, told: told, detail: strip.detail, spots: strip.profile(strip.bend)}
	var solids []*[stripColumns]float64
	stretches := newStretches(l.spots, l.soft(), told)
	for _, guess := range bodyGuesses(l.spots) {
		body := new([stripColumns]spot)
		for i := range body {
			body[i] = guess
		}
		solid := sides.solid(guess.tint, ground)
		for _, c := range stretches.cuts(body, solid) {
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
	before, behind := l.beyond()
	l.open = (mean(solid[before.from:before.to]) + mean(solid[behind.from:behind.to])) / 2
	l.discord = sides.discord(l.left, l.right)
	l.box = f.between(l.left, l.right)
	return l
}

// A run is some columns of a strip, from one up to another.
type run struct{ from, to int }

// beyond are the columns just beyond either end of the body.
func (l look) beyond() (before, behind run) {
	return run{max(0, l.left-8), max(1, l.left-2)},
		run{min(stripColumns-1, l.right+2), min(stripColumns, l.right+8)}
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

// mean is the mean of values, of which there is at least one.
func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

// again cuts the strip anew with what the network says of it. Where the body
// then turns out to lie otherwise than the strip was made for, the strip is made
// anew too.
func (l look) again(photo picture, v view) look {
	f := l.fit
	f.box = l.fitted
	strip := l.strip
	for range 2 {
		l = lookOnce(strip, l.ground, f, strip.consult())
		const slack = stripColumns / 16
		usual := int(math.Round(usualOutside))
		var beside bool
		l.box, beside = strip.sized(f, l.left, l.right)
		if !beside && max(l.left-usual, usual-l.left) <= slack && max(stripColumns-l.right-usual, usual-stripColumns+l.right) <= slack {
			break
		}
		f.box = l.box
		var ok bool
		if strip, ok = straighten(photo, f.scaled(1/v.scale)); !ok {
			break
		}
	}
	return l
}
