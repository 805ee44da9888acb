package vision

import (
	"image"
	"math"

	"gocv.io/x/gocv"
)

// A box is a body's place: its centre, the direction of its axis and its half
// sizes along and across the axis.
type box struct {
	x, y       float64
	angle      float64 // radians, of the axis from left to right
	half, rise float64 // half length and half width in pixels
}

// at turns a place relative to the box into a place in the picture.
func (b box) at(along, across float64) (x, y float64) {
	s, c := math.Sincos(b.angle)
	return b.x + along*c - across*s, b.y + along*s + across*c
}

// An extent is a box made ready to be asked what it holds.
type extent struct {
	box
	sin, cos float64
}

func (b box) extent() extent {
	sin, cos := math.Sincos(b.angle)
	return extent{b, sin, cos}
}

func (r extent) holds(x, y float64) bool {
	dx, dy := x-r.x, y-r.y
	return math.Abs(dx*r.cos+dy*r.sin) < r.half && math.Abs(dy*r.cos-dx*r.sin) < r.rise
}

// scaled returns the box in a picture k times as large.
func (b box) scaled(k float64) box {
	return box{b.x * k, b.y * k, b.angle, b.half * k, b.rise * k}
}

func (b box) outline() [4]Point {
	var out [4]Point
	for i, corner := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		out[i].X, out[i].Y = b.at(corner[0]*b.half, corner[1]*b.rise)
	}
	return out
}

const (
	standThreshold = 95  // of stand: what is no ground
	leastRise      = 3.5 // half width of the thinnest body looked for, in view pixels
	coreShare      = 0.5 // a lead is thinner than this share of its body
)

// findBoxes returns boxes around what is thick enough to be a body once thin
// things such as leads and grid lines are set aside. The boxes are rough and
// may repeat one another.
func findBoxes(stand gocv.Mat) []box {
	boxes := boxesBridged(stand, 3)
	half := gocv.NewMat() // wide gaps are bridged in a picture half as large
	defer half.Close()
	shrink(stand, &half, 0.5)
	for _, b := range boxesBridged(half, 9) {
		boxes = append(boxes, b.scaled(2))
	}
	return boxes
}

// boxesBridged looks for boxes after closing gaps of the given size, so that a
// body whose paint looks like the ground is held together by its rings.
func boxesBridged(stand gocv.Mat, bridge int) []box {
	mask, depth, nearest := gocv.NewMat(), gocv.NewMat(), gocv.NewMat()
	defer mask.Close()
	defer depth.Close()
	defer nearest.Close()
	kernel := gocv.GetStructuringElement(gocv.MorphRect, image.Pt(bridge, bridge))
	defer kernel.Close()
	gocv.Threshold(stand, &mask, standThreshold, 255, gocv.ThresholdBinary)
	if bridge > 3 {
		// Grid lines must not be bridged to blobs.
		thin := gocv.GetStructuringElement(gocv.MorphRect, image.Pt(3, 3))
		gocv.MorphologyEx(mask, &mask, gocv.MorphOpen, thin)
		thin.Close()
	}
	gocv.MorphologyEx(mask, &mask, gocv.MorphClose, kernel)
	gocv.DistanceTransform(mask, &depth, &nearest, gocv.DistL2, gocv.DistanceMask3, gocv.DistanceLabelCComp)

	thickness, err := depth.DataPtrFloat32()
	if err != nil {
		panic(err) // a distance transform is float32
	}
	s := shapes{width: mask.Cols(), height: mask.Rows(), depth: thickness, owner: make([]int32, len(thickness))}
	for i := range thickness {
		if thickness[i] >= leastRise && s.owner[i] == 0 {
			s.split(s.flood(i, 0, 0.5))
		}
	}
	return s.boxes
}

// shapes takes the thick parts out of a mask.
type shapes struct {
	width, height int
	depth         []float32 // distance of each pixel to the mask's edge
	owner         []int32   // the last flood that took the pixel
	floods        int32
	boxes         []box
}

// flood collects the pixels connected to a start that the given flood owns and
// that are deeper than the given depth.
func (s *shapes) flood(start int, within int32, deeper float32) (pixels []int, id int32) {
	s.floods++
	id = s.floods
	s.owner[start] = id
	pixels = append(pixels, start)
	for next := 0; next < len(pixels); next++ {
		x, y := pixels[next]%s.width, pixels[next]/s.width
		for _, step := range [4]image.Point{{X: -1}, {X: 1}, {Y: -1}, {Y: 1}} {
			u, t := x+step.X, y+step.Y
			if u < 0 || t < 0 || u >= s.width || t >= s.height {
				continue
			}
			if j := t*s.width + u; s.owner[j] == within && s.depth[j] > deeper {
				s.owner[j] = id
				pixels = append(pixels, j)
			}
		}
	}
	return pixels, id
}

// split boxes the thick parts of one connected shape, thickest first: whatever
// is at least coreShare as thick as the thickest part is a body of its own; it
// is then taken out and the rest looked at again, since leads may tie several
// bodies of different sizes together.
func (s *shapes) split(shape []int, id int32) {
	left := shape
	for range 4 {
		thickest := float32(0)
		for _, i := range left {
			thickest = max(thickest, s.depth[i])
		}
		if thickest < leastRise {
			return
		}
		margin := thickest * coreShare
		var found []box
		for _, i := range left {
			if s.owner[i] == id && s.depth[i] > margin {
				core, _ := s.flood(i, id, margin)
				found = append(found, s.boxAround(core, float64(margin)))
			}
		}
		s.boxes = append(s.boxes, found...)
		for _, b := range found {
			b.half *= 1.15
			b.rise *= 1.3
			s.take(b, id)
		}
		var rest []int
		for _, i := range left {
			if s.owner[i] == id {
				rest = append(rest, i)
			}
		}
		left = rest
	}
}

// take removes what a box holds from a shape.
func (s *shapes) take(b box, id int32) {
	const taken = -1
	within := b.extent()
	right := math.Abs(b.half*within.cos) + math.Abs(b.rise*within.sin)
	down := math.Abs(b.half*within.sin) + math.Abs(b.rise*within.cos)
	for y := max(0, int(b.y-down)); y <= min(s.height-1, int(b.y+down)+1); y++ {
		for x := max(0, int(b.x-right)); x <= min(s.width-1, int(b.x+right)+1); x++ {
			if i := y*s.width + x; s.owner[i] == id && within.holds(float64(x), float64(y)) {
				s.owner[i] = taken
			}
		}
	}
}

// boxAround fits a box to pixels by their moments and widens it by the margin.
func (s *shapes) boxAround(pixels []int, margin float64) box {
	var n, sx, sy, sxx, sxy, syy float64
	for _, i := range pixels {
		x, y := float64(i%s.width), float64(i/s.width)
		n++
		sx += x
		sy += y
		sxx += x * x
		sxy += x * y
		syy += y * y
	}
	cx, cy := sx/n, sy/n
	angle := 0.5 * math.Atan2(2*(sxy/n-cx*cy), sxx/n-cx*cx-(syy/n-cy*cy))
	sin, cos := math.Sincos(angle)
	left, right, top, bottom := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, i := range pixels {
		dx, dy := float64(i%s.width)-cx, float64(i/s.width)-cy
		along, across := dx*cos+dy*sin, dy*cos-dx*sin
		left, right = min(left, along), max(right, along)
		top, bottom = min(top, across), max(bottom, across)
	}
	b := box{cx, cy, angle, (right-left)/2 + margin, (bottom-top)/2 + margin}
	b.x, b.y = b.at((left+right)/2, (top+bottom)/2)
	return b
}
