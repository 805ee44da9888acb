package vision

import (
	"cmp"
	"math"
	"slices"
)

// ladders proposes boxes for bodies whose paint looks like the ground, so that
// only their rings stand out: three or more bars side by side, as long as one
// another, make a body that lies across them.
func ladders(bars []box) []fit {
	bars = slices.DeleteFunc(slices.Clone(bars), func(b box) bool { return b.half < 1.5*b.rise || b.half < 2*leastRise })
	var once []box
	for _, b := range bars {
		if !slices.ContainsFunc(once, func(o box) bool { return math.Hypot(b.x-o.x, b.y-o.y) < 0.5*b.rise+2 }) {
			once = append(once, b)
		}
	}
	var out []fit
	for _, b := range once {
		rungs := rungsOf(b, once)
		if len(rungs) < 3 {
			continue
		}
		first, last := rungs[0], rungs[len(rungs)-1]
		length := 0.0
		for _, r := range rungs {
			length += r.half / float64(len(rungs))
		}
		dx, dy := last.x-first.x, last.y-first.y
		f := fit{fill: 0.9, leads: 1, box: box{
			x: (first.x + last.x) / 2, y: (first.y + last.y) / 2, angle: math.Atan2(dy, dx),
			half: math.Hypot(dx, dy)/2 + 0.8*length, rise: length,
		}}
		if aspect := f.half / f.rise; aspect > leastAspect && aspect < mostAspect &&
			!slices.ContainsFunc(out, func(o fit) bool { return o.like(f.box) }) {
			out = append(out, f)
		}
	}
	return out
}

// rungsOf returns the bars that make a ladder with a bar, itself among them, in
// their order across it.
func rungsOf(b box, bars []box) []box {
	sin, cos := math.Sincos(b.angle)
	place := func(o box) float64 { return (o.y-b.y)*cos - (o.x-b.x)*sin }
	var rungs []box
	for _, o := range bars {
		along := (o.x-b.x)*cos + (o.y-b.y)*sin
		if math.Abs(math.Sin(o.angle-b.angle)) < 0.2 && math.Abs(along) < 0.35*b.half+0.12*math.Abs(place(o)) &&
			o.half > 0.75*b.half && o.half < 1.33*b.half && math.Abs(place(o)) < 5*b.half {
			rungs = append(rungs, o)
		}
	}
	slices.SortFunc(rungs, func(p, q box) int { return cmp.Compare(place(p), place(q)) })
	return rungs
}
