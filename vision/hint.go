package vision

import (
	"math"
	"slices"

	"ringwise/vision/bodies"

	"gocv.io/x/gocv"
)

// hints proposes boxes where a network sees bodies lie, likeliest first. They need
// not stand out from the ground as one, nor alone; where they do, the boxes are
// fitted to their outline. bare are such of resistors without rings. Bodies that all
// but fill the photo are larger than any that the network was taught: for them it
// looks again, from farther off, and names them last.
func hints(v view, mask plane) (ringed, bare []fit) {
	lab, err := gocv.NewMatFromBytes(v.height, v.width, gocv.MatTypeCV8UC3, v.lab)
	if err != nil {
		panic(err) // the view's sizes are its own
	}
	defer lab.Close()
	long := float64(max(v.width, v.height))
	scale := math.Min(1, bodies.Side/long)
	near, bare := hintsAt(lab, scale)
	far, _ := hintsAt(lab, scale/farther)
	for _, f := range far {
		if f.half > fillsHalf*long && !slices.ContainsFunc(near, func(n fit) bool { return n.half > f.half/2 && n.overlaps(f.box) }) {
			near = append(near, f)
		}
	}
	for _, f := range near {
		if aspect := f.half / f.rise; aspect >= leastAspect && aspect <= mostAspect {
			ringed = append(ringed, outlined(mask, f))
		}
	}
	return ringed, bare
}

const (
	farther   = 3.0  // how much smaller the photo is made for the look from farther off
	fillsHalf = 0.25 // the half length, as a share of the photo's long side, looked for in it
)

// hintsAt are the boxes where the network sees bodies in a view made smaller.
func hintsAt(lab gocv.Mat, scale float64) (ringed, bare []fit) {
	small := gocv.NewMat()
	defer small.Close()
	shrink(lab, &small, scale)
	for _, h := range bodies.Hints(small.ToBytes(), small.Cols(), small.Rows()) {
		b := box{h.X, h.Y, h.Angle, h.Half, h.Rise}.scaled(1 / scale)
		// How full the place is and whether leads leave it is not known: the chance
		// stands for it.
		f := fit{box: b, fill: h.Chance, leads: 1, chance: h.Chance}
		switch {
		case b.rise < leastRise:
		case h.Bare:
			bare = append(bare, f)
		default:
			ringed = append(ringed, f)
		}
	}
	return ringed, bare
}

// outlined is the outline nearest to a place that is hinted at, or that place where
// no outline is near.
func outlined(mask plane, hint fit) fit {
	f, ok := refine(mask, hint.box)
	const apart, turned, other = 0.35, 0.12, 0.25
	if !ok || math.Hypot(f.x-hint.x, f.y-hint.y) > apart*hint.rise || math.Abs(math.Sin(f.angle-hint.angle)) > turned ||
		math.Abs(math.Log(f.half/hint.half)) > other || math.Abs(math.Log(f.rise/hint.rise)) > other {
		return hint
	}
	f.chance, f.leads = hint.chance, max(f.leads, hint.leads)
	return f
}

// chanceIn is how likely a network that hinted at places takes a box for a body.
func (b box) chanceIn(hints []fit) float64 {
	most := 0.0
	for _, h := range hints {
		if math.Hypot(h.x-b.x, h.y-b.y) < 0.5*b.rise && math.Abs(math.Sin(h.angle-b.angle)) < 0.2 &&
			math.Abs(math.Log(h.half/b.half)) < 0.3 && math.Abs(math.Log(h.rise/b.rise)) < 0.4 {
			most = max(most, h.chance)
		}
	}
	return most
}
