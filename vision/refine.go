package vision

import (
	"math"
	"slices"
)

// Bounds on a body's shape, as length over width. A stubby body seen from
// three quarters is the shortest, a slim one across the frame the longest.
const (
	leastAspect = 1.15
	mostAspect  = 4.6
)

// A plane is one byte a pixel, such as how clearly each pixel stands out.
type plane struct {
	width, height int
	pixels        []uint8
}

// at returns the pixel nearest to a place and whether it lies in the picture.
func (p plane) at(x, y float64) (value uint8, inside bool) {
	u, t := int(math.Floor(x+0.5)), int(math.Floor(y+0.5))
	if u < 0 || t < 0 || u >= p.width || t >= p.height {
		return 0, false
	}
	return p.pixels[t*p.width+u], true
}

// A fit is a box fitted to the outline of a body and how well it fits.
type fit struct {
	box
	fill  float64 // share of the body's columns that are as wide as the body
	leads int     // ends out of which something thin runs along the axis, or that meet the frame
	wave  float64 // how far the outline strays from the box, over the width

	chance float64 // that a body lies there, where the network hinted at it
}

const (
	fitColumns = 96
	fitRows    = 40
)

// refine moves, turns and sizes a rough box to the outline of the body in it.
func refine(stand plane, b box) (fit, bool) {
	var f fit
	for range 4 {
		var ok bool
		if f, ok = refineOnce(stand, b); !ok {
			return f, false
		}
		b = f.box
	}
	aspect := f.half / f.rise
	return f, aspect > leastAspect && aspect < mostAspect
}

// A column of the outline: how far what stands out reaches from the axis.
type reach struct {
	top, bottom float64 // pixels from the axis, negative above it
	width       float64
	outside     bool // beyond the frame
}

func refineOnce(stand plane, b box) (fit, bool) {
	reachAlong := max(b.half*1.5, b.rise*3)
	step := 2 * reachAlong / fitColumns
	var columns [fitColumns]reach
	for i := range columns {
		columns[i] = seeReach(stand, b, -reachAlong+(float64(i)+0.5)*step)
	}

	var widths []float64
	for i, c := range columns {
		if along := -reachAlong + (float64(i)+0.5)*step; math.Abs(along) < b.half && c.width > 0 {
			widths = append(widths, c.width)
		}
	}
	if len(widths) < 4 {
		return fit{}, false
	}
	slices.Sort(widths)
	full := widths[len(widths)*4/5]
	wide := func(i int) bool { return columns[i].width > 0.6*full }

	// The body runs from the middle outwards over wide columns; a short
	// stretch that is not wide (paint like the ground) is bridged if a wide
	// one follows.
	bridge := int(0.55*full/step + 0.5)
	run := func(direction int) int {
		last := fitColumns / 2
		for i, gap := last, 0; i >= 0 && i < fitColumns && gap <= bridge; i += direction {
			if wide(i) {
				last, gap = i, 0
			} else {
				gap++
			}
		}
		return last
	}
	left, right := run(-1), run(+1)
	if right-left < 3 {
		return fit{}, false
	}

	// The axis is a line through the middles of the wide columns.
	var along, middle, tops, bottoms []float64
	filled := 0
	for i := left; i <= right; i++ {
		if wide(i) {
			filled++
			along = append(along, -reachAlong+(float64(i)+0.5)*step)
			middle = append(middle, (columns[i].top+columns[i].bottom)/2)
			tops = append(tops, columns[i].top)
			bottoms = append(bottoms, columns[i].bottom)
		}
	}
	offset, slope := lineThrough(along, middle)
	slope = math.Max(-0.35, math.Min(0.35, slope))

	var out fit
	centre := -reachAlong + (float64(left+right)/2+0.5)*step
	out.x, out.y = b.at(centre, offset+slope*centre)
	out.angle = b.angle + math.Atan(slope)
	out.half = float64(right-left+1) / 2 * step * math.Sqrt(1+slope*slope)
	var heights []float64
	for i := range tops {
		heights = append(heights, bottoms[i]-tops[i])
		out.wave += math.Abs(middle[i]-offset-slope*along[i]) / float64(len(tops)) / full
	}
	slices.Sort(heights)
	out.rise = heights[len(heights)*7/10] / 2
	out.fill = float64(filled) / float64(right-left+1)
	for _, end := range [2][2]int{{left, -1}, {right, +1}} {
		if leadAt(columns[:], end[0], end[1], full, step) {
			out.leads++
		}
	}
	return out, true
}

// seeReach looks across the body at one place along its axis: outwards from
// the axis, over small breaks, to where nothing more stands out.
func seeReach(stand plane, b box, along float64) reach {
	const (
		span  = 1.9 // of the half width, to look out to
		steps = fitRows / 2
		gap   = 3 // steps that a break may take
	)
	step := span * b.rise / steps
	sin, cos := math.Sincos(b.angle)
	x0, y0 := b.x+along*cos, b.y+along*sin
	var c reach
	_, in := stand.at(x0, y0)
	c.outside = !in
	hits := 0
	for _, side := range [2]float64{-1, 1} {
		last := 0
		for i := 1; i <= steps && i-last <= gap; i++ {
			across := side * (float64(i) - 0.5) * step
			value, _ := stand.at(x0-across*sin, y0+across*cos)
			if value >= standThreshold {
				last = i
				hits++
			}
		}
		if side < 0 {
			c.top = -float64(last) * step
		} else {
			c.bottom = float64(last) * step
		}
	}
	if hits > 0 {
		c.width = min(c.bottom-c.top, float64(hits)*step*1.35)
	}
	return c
}

// leadAt tells whether something thin runs on beyond the end of a body, or the
// frame cuts it off there.
func leadAt(columns []reach, end, direction int, full, step float64) bool {
	thin, seen := 0, 0
	far := end + direction*int(1.2*full/step)
	for i := end + direction*int(0.25*full/step+1); i != far; i += direction {
		if i < 0 || i >= len(columns) {
			break
		}
		if columns[i].outside {
			return true
		}
		seen++
		if w := columns[i].width; w > 0.04*full && w < 0.55*full {
			thin++
		}
	}
	return seen > 0 && thin*2 > seen
}

// lineThrough fits a line by medians of slopes, so that a third of the points
// may be wrong.
func lineThrough(x, y []float64) (offset, slope float64) {
	var slopes []float64
	gap := max(1, len(x)/3)
	for i := 0; i+gap < len(x); i++ {
		slopes = append(slopes, (y[i+gap]-y[i])/(x[i+gap]-x[i]))
	}
	if len(slopes) > 0 {
		slices.Sort(slopes)
		slope = slopes[len(slopes)/2]
	}
	offsets := make([]float64, len(x))
	for i := range x {
		offsets[i] = y[i] - slope*x[i]
	}
	slices.Sort(offsets)
	return offsets[len(offsets)/2], slope
}
