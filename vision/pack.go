package vision

import (
	"math"
	"slices"
)

// Bodies that touch side by side stand out from the ground as one. What is known
// of bodies' shape tells how many may lie in it.
const (
	stubbiest   = 1.7 // the least length over width of a body in a pack
	slimmest    = 3.7 // and the most
	mostInPack  = 10
	soundGlance = 450 // the gain from which a place needs no second thought
	packGlance  = 150 // the gain that a slice must reach to be a body
)

// packs are the ways to slice a box into bodies side by side: lying along its
// axis or across it, in whatever number gives each the shape of a body.
func packs(b box) [][]fit {
	var out [][]fit
	for _, lying := range []box{b, b.crosswise()} {
		for n := 2; n <= mostInPack; n++ {
			thick := lying.rise / float64(n)
			if aspect := lying.half / thick; aspect < stubbiest || aspect > slimmest {
				continue
			}
			var pack []fit
			for i := range n {
				s := lying
				s.x, s.y = lying.at(0, (2*float64(i)+1)*thick-lying.rise)
				s.rise = thick
				pack = append(pack, fit{box: s, fill: 1, leads: 1})
			}
			out = append(out, pack)
		}
	}
	return out
}

// crosswise is the same box with its axis across.
func (b box) crosswise() box {
	return box{b.x, b.y, b.angle + math.Pi/2, b.rise, b.half}
}

// unpacked returns the places in a box as the best of the ways to slice it
// shows them, with their weights summed up.
func unpacked(photo picture, v view, mask plane, g ground, b box) (best []place, weight float64) {
	for _, pack := range packs(b) {
		// The middle one tells whether the rest is worth a glance.
		middle, ok := glanceAt(photo, v, mask, g, pack[len(pack)/2])
		if !ok || middle.rings < 2 || middle.gain < packGlance {
			continue
		}
		found, sum := []place{}, 0.0
		for i, f := range pack {
			p := middle
			if i != len(pack)/2 {
				p, ok = glanceAt(photo, v, mask, g, f)
			}
			if ok && p.rings >= 2 && p.gain > packGlance && !slices.ContainsFunc(found, func(o place) bool { return o.body.overlaps(p.body) }) {
				found, sum = append(found, p), sum+p.weight()
			}
		}
		if sum > weight {
			best, weight = found, sum
		}
	}
	return best, weight
}

// unpack replaces places that may be several bodies, and adds those that are
// left in what stands out from the ground beside them.
func unpack(photo picture, v view, mask plane, g ground, places []place, rough []box) []place {
	var out []place
	for _, p := range places {
		if p.gain < soundGlance || p.alone != nil {
			if bodies, weight := unpacked(photo, v, mask, g, p.fit.box); len(bodies) > 1 && weight > p.weight() {
				out = append(out, bodies...)
				continue
			}
		}
		out = append(out, p)
	}
	const mostBlobs = 4
	slices.SortStableFunc(rough, func(a, b box) int { return int(b.half*b.rise - a.half*a.rise) })
	tried := []box{}
	for _, b := range rough {
		taken := func(o box) bool { return o.overlaps(b) }
		if len(tried) == mostBlobs || b.half > 3*b.rise || b.rise < 12 || slices.ContainsFunc(tried, taken) ||
			slices.ContainsFunc(out, func(p place) bool { return taken(p.body) }) {
			continue
		}
		tried = append(tried, b)
		if bodies, _ := unpacked(photo, v, mask, g, b); len(bodies) > 1 {
			out = append(out, bodies...)
		}
	}
	return out
}
