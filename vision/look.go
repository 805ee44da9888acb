package vision

import (
	"math"
	"slices"

	"gocv.io/x/gocv"
)

// A look is a closer look at one place where a body may be.
type look struct {
	fit
	detail float64 // photo pixels per column of the strip
	spots  *[stripColumns]spot
	cuts   []cutting
	left   int // the columns between which the body lies
	right  int
	solid  float64 // share of the body that stands out from the ground
	fitBox box     // ZZ
	gain   float64 // how much better three rings or more explain the strip than two
}

// What a look must come to for its place to be taken for a body with rings. A
// lead with the end of a body beside it, or a crossing of lines, looks like one
// or two rings at most.
const (
	leastGain  = 12
	foundPrice = 5 // of each ring beyond the second
	leastSolid = 0.5
	mostWave   = 0.17
)

func (l look) isBody() bool {
	return l.gain >= leastGain && l.solid >= leastSolid && l.wave < mostWave
}

// lookAt straightens the place in the photo and cuts it into rings.
func lookAt(photo gocv.Mat, stand plane, f fit, full box) (look, bool) {
	strip, ok := straighten(photo, full)
	if !ok {
		return look{}, false
	}
	l := look{fit: f, detail: strip.detail, spots: strip.profile(strip.straightenRings())}
	solid := solidity(stand, f.box)
	l.cuts = cutStrip(l.spots, solid, l.soft(), l.detail)
	best := slices.MinFunc(l.cuts, func(a, b cutting) int { return compare(a.cost, b.cost) })
	l.left, l.right = best.left, best.right
	few, many := math.Inf(1), math.Inf(1)
	for _, c := range l.cuts {
		if len(c.rings) < 3 {
			few = min(few, c.cost-c.prices)
		} else {
			many = min(many, c.cost-c.prices+foundPrice*float64(len(c.rings)-2))
		}
	}
	l.gain = few - many
	for _, share := range solid[l.left:l.right] {
		l.solid += share / float64(l.right-l.left)
	}
	l.box = l.between(l.left, l.right)
	return l, true
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
	return math.Min(l.gain, 120) * math.Sqrt(l.half) * l.fill * l.solid * (1 + 0.3*float64(l.leads)) * math.Max(0.1, 1-4*l.wave)
}

// once keeps the best of the looks at each place.
func once(looks []look) []look {
	slices.SortStableFunc(looks, func(a, b look) int {
		switch {
		case a.worth() > b.worth():
			return -1
		case a.worth() < b.worth():
			return 1
		}
		return 0
	})
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
	for i := range steps {
		for j := range steps {
			if o.holds(b.at((2*(float64(i)+0.5)/steps-1)*b.half, (2*(float64(j)+0.5)/steps-1)*b.rise)) {
				shared++
			}
		}
	}
	return shared*4 > steps*steps
}

func (b box) holds(x, y float64) bool {
	s, c := math.Sincos(b.angle)
	dx, dy := x-b.x, y-b.y
	return math.Abs(dx*c+dy*s) < b.half && math.Abs(dy*c-dx*s) < b.rise
}

// like tells whether two boxes are nearly the same.
func (b box) like(o box) bool {
	turn := math.Abs(math.Sin(b.angle - o.angle))
	return math.Hypot(b.x-o.x, b.y-o.y) < 0.12*b.rise && turn < 0.05 &&
		math.Abs(b.half-o.half) < 0.06*b.half && math.Abs(b.rise-o.rise) < 0.08*b.rise
}

// solidity is, for each column of a box's strip, the share of rows that stand
// out from the ground.
func solidity(stand plane, b box) *[stripColumns]float64 {
	const rows = 16
	out := new([stripColumns]float64)
	for c := range out {
		along := (2*(float64(c)+0.5)/stripColumns - 1) * stripAlong * b.half
		for r := range rows {
			across := (2*(float64(r)+0.5)/rows - 1) * b.rise
			if value, in := stand.at(b.at(along, across)); in && value >= standThreshold {
				out[c] += 1.0 / rows
			}
		}
	}
	return out
}
