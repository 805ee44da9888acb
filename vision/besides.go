package vision

import (
	"image"
	"image/color"
	"slices"

	"gocv.io/x/gocv"
)

// Once a body is found, what touched it stands alone.
const (
	cutLonger = 1.04 // how much longer than the body the cut-out is
	cutWider  = 1.08 // and how much wider
	mostPeels = 3    // how often what is left is looked through
)

// besides returns places of bodies in what stands out from the ground once the
// bodies found so far are cut out of it. fits are those that were glanced at
// before.
func besides(photo picture, v view, stand gocv.Mat, g ground, fresh []place, fits []fit) []place {
	left := stand.Clone()
	defer left.Close()
	var found, more []place
	for range mostPeels {
		if len(fresh) == 0 {
			break
		}
		for _, p := range fresh {
			cutOut(&left, p.body)
		}
		found = append(slices.Clip(found), fresh...)
		mask := plane{v.width, v.height, left.ToBytes()}
		if fresh = nil; !slices.ContainsFunc(found, thick(left)) {
			break
		}
		for _, b := range boxesBridged(left, 3) {
			if !v.mayHoldBody(b) {
				continue
			}
			f, ok := refine(mask, b)
			near := func(o place) bool { return o.body.grown().meets(f.box) }
			known := func(o fit) bool { return o.like(f.box) }
			if !ok || !v.varied(f.box) || !slices.ContainsFunc(found, near) || slices.ContainsFunc(fits, known) {
				continue
			}
			fits = append(fits, f)
			p, ok := glanceAt(photo, v, mask, g, f)
			taken := func(o place) bool { return o.body.overlaps(p.body) }
			if ok && p.rings >= 3 && p.gain >= packGlance && !slices.ContainsFunc(found, taken) {
				fresh = append(fresh, p)
			}
		}
		fresh = onePerBody(fresh)
		more = append(more, fresh...)
	}
	return more
}

// thick tells of a place whether something about as thick as a body is left at
// its body's sides.
func thick(left gocv.Mat) func(place) bool {
	core := gocv.NewMat()
	defer core.Close()
	size := int(2*leastRise) + 1
	kernel := gocv.GetStructuringElement(gocv.MorphRect, image.Pt(size, size))
	defer kernel.Close()
	gocv.Threshold(left, &core, standThreshold, 255, gocv.ThresholdBinary)
	gocv.Erode(core, &core, kernel)
	mask := plane{core.Cols(), core.Rows(), core.ToBytes()}
	return func(p place) bool {
		b := p.body.grown()
		for along := -b.half; along <= b.half; along++ {
			for across := -b.rise; across <= b.rise; across++ {
				if value, _ := mask.at(b.at(along, across)); value > 0 {
					return true
				}
			}
		}
		return false
	}
}

// grown is a box with its neighbourhood.
func (b box) grown() box {
	b.half += 0.4 * b.rise
	b.rise *= 1.4
	return b
}

// cutOut clears what a body covers.
func cutOut(stand *gocv.Mat, b box) {
	b.half *= cutLonger
	b.rise *= cutWider
	corners := make([]image.Point, 0, 4)
	for _, p := range b.outline() {
		corners = append(corners, image.Pt(int(p.X+0.5), int(p.Y+0.5)))
	}
	points := gocv.NewPointsVectorFromPoints([][]image.Point{corners})
	defer points.Close()
	gocv.FillPoly(stand, points, color.RGBA{})
}
