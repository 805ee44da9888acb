package vision

import (
	"image"
	"math"

	"ringwise/vision/columns"

	"gocv.io/x/gocv"
)

// The straightened strip has a fixed size, whatever the body's size in the
// photo: columns along the body, rows across it.
const (
	stripColumns = 128
	stripRows    = 24
	stripAlong   = columns.ReachAlong * stripColumns / columns.Columns // its half length over the body's
	stripAcross  = columns.ReachAcross * stripRows / columns.Rows      // its half width over the body's

	// Where the photo is finer than this it is averaged before it is sampled.
	pixelsPerColumn = 1.4
)

// A strip is a body straightened along its axis, in 8-bit sRGB, blue first.
type strip struct {
	pixels [stripRows][stripColumns][3]float32
	detail float64 // photo pixels per column of the strip, before any shrinking
	bend   bend    // how its rings run
	wide   *columns.Strip

	// What the networks say of it, once they were asked.
	shown *columns.Seer
	told  *told
	edges *columns.Edges
}

// straighten samples the strip of a box from the photo, with its surroundings. The
// box is in photo pixels. Where the photo is finer than the strip it is averaged
// first.
func straighten(photo picture, b box) (*strip, bool) {
	s := &strip{detail: columnsApart(b), wide: new(columns.Strip)}
	s.wide.Detail = s.detail
	if !sample(photo, b, s.wide) {
		return nil, false
	}
	for r := range s.pixels {
		copy(s.pixels[r][:], s.wide.Pixels[marginRows+r][marginColumns:])
	}
	s.bend = s.straightenRings()
	s.standUpright()
	return s, true
}

// columnsApart is the distance of two columns of a box's strip in the photo.
func columnsApart(b box) float64 { return 2 * b.half * stripAlong / stripColumns }

// sample straightens the surroundings of a box at the strip's scale.
func sample(photo picture, b box, to *columns.Strip) bool {
	level, b := photo.levelFor(b)
	sin, cos := math.Sincos(b.angle)
	const rim = 3 // pixels beside the outermost that are asked for
	reachX := math.Abs(cos)*b.half*columns.ReachAlong + math.Abs(sin)*b.rise*columns.ReachAcross + rim
	reachY := math.Abs(sin)*b.half*columns.ReachAlong + math.Abs(cos)*b.rise*columns.ReachAcross + rim
	frame := image.Rect(0, 0, level.Cols(), level.Rows())
	window := image.Rect(int(b.x-reachX), int(b.y-reachY), int(b.x+reachX)+2, int(b.y+reachY)+2).Intersect(frame)
	if window.Dx() < 4 || window.Dy() < 4 {
		return false
	}
	region := level.Region(window)
	defer region.Close()
	scale := math.Min(1, pixelsPerColumn/columnsApart(b))
	near := gocv.NewMat()
	defer near.Close()
	if scale < 0.8 {
		shrink(region, &near, scale)
	} else {
		region.CopyTo(&near)
	}
	pixels := near.ToBytes()
	width, height := near.Cols(), near.Rows()
	scaleX, scaleY := float64(width)/float64(window.Dx()), float64(height)/float64(window.Dy())
	for r := range to.Pixels {
		across := columns.Aside(float64(r)+0.5) * b.rise
		for c := range to.Pixels[r] {
			along := (2*(float64(c)+0.5)/columns.Columns - 1) * columns.ReachAlong * b.half
			x, y := b.x+along*cos-across*sin, b.y+along*sin+across*cos
			x = (x-float64(window.Min.X)+0.5)*scaleX - 0.5
			y = (y-float64(window.Min.Y)+0.5)*scaleY - 0.5
			bilinear(pixels, width, height, x, y, &to.Pixels[r][c])
		}
	}
	return true
}

// bilinear interpolates a three-channel picture; beyond the frame it repeats
// the rim.
func bilinear(pixels []byte, width, height int, x, y float64, out *[3]float32) {
	x = max(0, min(float64(width-1), x))
	y = max(0, min(float64(height-1), y))
	x0, y0 := int(x), int(y)
	x1, y1 := min(x0+1, width-1), min(y0+1, height-1)
	fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
	pixel := func(x, y int) []byte { return pixels[3*(y*width+x):][:3] }
	nw, ne, sw, se := pixel(x0, y0), pixel(x1, y0), pixel(x0, y1), pixel(x1, y1)
	for k := range 3 {
		top := float32(nw[k])*(1-fx) + float32(ne[k])*fx
		bottom := float32(sw[k])*(1-fx) + float32(se[k])*fx
		out[k] = top*(1-fy) + bottom*fy
	}
}

// A bend is how the rings run across the strip: straight rings seen at a slant
// lean, rings seen from the end bow. Both are in columns at the strip's edge.
type bend struct{ lean, bow float64 }

// shift is how far, in columns, a ring at a row lies from where it crosses the
// axis.
func (b bend) shift(row int) float64 {
	v := (2*(float64(row)+0.5)/stripRows - 1) * stripAcross
	return b.lean*v + b.bow*(1-math.Sqrt(1-v*v))
}

// straightenRings finds the bend under which columns are most alike from row
// to row, which is when changes along the strip are sharpest.
func (s *strip) straightenRings() bend {
	perWidth := stripColumns / (2 * stripAlong) // columns per half length
	best, sharpest := bend{}, -1.0
	for _, bow := range [...]float64{0, -0.12, 0.12, -0.24, 0.24, -0.4, 0.4} {
		for _, lean := range [...]float64{0, -0.06, 0.06, -0.12, 0.12, -0.2, 0.2} {
			b := bend{lean * perWidth * 0.5, bow * perWidth * 0.5}
			sharp := s.sharpness(b)
			// A bend must earn its place: noise makes some bend a little
			// sharper than none.
			sharp *= 1 - 0.10*math.Abs(bow) - 0.25*math.Abs(lean)
			if sharp > sharpest {
				best, sharpest = b, sharp
			}
		}
	}
	return best
}

func (s *strip) sharpness(b bend) float64 {
	var sums [stripColumns][3]float32
	for r := 2; r < stripRows-2; r += 2 {
		offset := int(math.Round(b.shift(r)))
		for c := range stripColumns {
			p := &s.pixels[r][min(max(c+offset, 0), stripColumns-1)]
			for k := range 3 {
				sums[c][k] += p[k]
			}
		}
	}
	total := 0.0
	for c := 2; c < stripColumns; c++ {
		for k := range 3 {
			d := float64(sums[c][k] - sums[c-2][k])
			total += d * d
		}
	}
	return total
}
