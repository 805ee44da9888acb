package vision

import (
	"cmp"
	"math"
	"slices"
)

// likeliest is the best cutting with as many rings as a code has.
func (l look) likeliest() (cutting, bool) {
	var codes []cutting
	for _, c := range l.cuts {
		if len(c.rings) >= fewestRings {
			codes = append(codes, c)
		}
	}
	if len(codes) == 0 {
		return cutting{}, false
	}
	return slices.MinFunc(codes, func(a, b cutting) int { return cmp.Compare(a.cost, b.cost) }), true
}

// isMarked tells whether what the best cutting takes for rings is print, a dot or
// glint: too few of them run across the body to be a code.
func (l look) isMarked(photo picture, v view, fits []fit) bool {
	// Of the parts read right on development photos and generated scenes, all
	// but one ring at the most reached 0.7.
	const crosses = 0.65
	c, ok := l.likeliest()
	if !ok {
		return false
	}
	s, body := l.whole(photo, v, fits)
	whole := 0
	crossing := make([]float64, len(c.rings))
	for i, r := range c.rings {
		crossing[i] = l.crossing(s, body, c, r)
		if crossing[i] >= crosses {
			whole++
		}
	}
	return whole < fewestRings && len(c.rings)-whole >= 2 || // one ring may be chipped
		c.hasPaintedEnds() && slices.Max(crossing[1:len(crossing)-1]) < dotCrosses
}

// dotCrosses is the share of rows that a dot of paint reaches at most: no more than a
// chipped ring does. With both ends painted it is the code of old composition
// resistors. Of the parts with rings on development photos and on the scenes of the
// tune split none has both.
const dotCrosses = 0.75

// hasPaintedEnds tells whether the outermost rings lie at the body's very ends, where
// no row of rings reaches both.
func (c cutting) hasPaintedEnds() bool {
	const nothing = 0.06 // of the body's length
	most := nothing * float64(c.right-c.left)
	return float64(c.rings[0].start-c.left) <= most && float64(c.right-c.rings[len(c.rings)-1].end) <= most
}

// whole is a look's strip over the whole width of its body, and which of its rows
// show the body. The look's own may have been narrowed to the height of letters where
// it is print; a fit to the outline is not, but may take in shadow.
func (l look) whole(photo picture, v view, fits []fit) (*strip, func(beside tint) bool) {
	const narrowed = 1.45 // letters are two thirds as high as their body, or less
	for _, f := range fits {
		along := math.Abs((f.x-l.fitted.x)*math.Cos(l.fitted.angle) + (f.y-l.fitted.y)*math.Sin(l.fitted.angle))
		if f.rise < narrowed*l.rise || f.rise > 4*l.rise || math.Abs(math.Sin(f.angle-l.fitted.angle)) > 0.2 ||
			along > 0.3*l.fitted.half || f.half > 1.5*l.half || !f.overlaps(l.box) {
			continue
		}
		b := l.fitted
		across := (f.y-b.y)*math.Cos(b.angle) - (f.x-b.x)*math.Sin(b.angle)
		b.x, b.y = b.at(0, across)
		b.rise = f.rise
		if s, ok := straighten(photo, b.scaled(1/v.scale)); ok {
			return s, func(beside tint) bool { return bodily(beside.minus(l.body)) < alikeBody }
		}
	}
	return l.strip, func(tint) bool { return true }
}

// alikeBody is how unlike the body a row beside a ring may be and still show it.
const alikeBody = 12

// crossing is the share of the rows of a strip that show the body on which a ring
// of a cutting differs from the body beside it as it does on the whole: a painted
// ring runs across all of the body. Rows on which it is burnt out tell nothing.
func (l look) crossing(s *strip, isBody func(beside tint) bool, c cutting, r ring) float64 {
	const (
		follows = 0.4 // of the whole difference, on a row that shows the ring
		reach   = 5   // columns of body compared with, to either side
	)
	trim := min(l.soft(), (r.end-r.start-1)/2)
	var ring, body []int // columns
	for i := r.start + trim; i < r.end-trim; i++ {
		ring = append(ring, i)
	}
	for i := 1; i <= reach+trim; i++ {
		for _, at := range [2]int{r.start - 1 - i, r.end + i} {
			if at >= c.left && at < c.right && !c.hasRingAt(at) {
				body = append(body, at)
			}
		}
	}
	if len(body) == 0 {
		return 1
	}
	var rows [][3]float64
	var whole [3]float64
	for row := range stripRows {
		shift := int(math.Round(l.strip.bend.shift(row)))
		inside, burnt := s.rowMean(row, shift, ring)
		beside, _ := s.rowMean(row, shift, body)
		if 2*burnt > len(ring) || !isBody(toTint(toLinear(beside))) {
			continue
		}
		var d [3]float64
		for k := range d {
			d[k] = float64(inside[k] - beside[k])
			whole[k] += d[k]
		}
		rows = append(rows, d)
	}
	if len(rows) < stripRows/4 {
		return 1
	}
	strength := 0.0
	for k := range whole {
		whole[k] /= float64(len(rows))
		strength += whole[k] * whole[k]
	}
	crossed := 0
	for _, d := range rows {
		if d[0]*whole[0]+d[1]*whole[1]+d[2]*whole[2] > follows*strength {
			crossed++
		}
	}
	return float64(crossed) / float64(len(rows))
}

// hasRingAt tells whether a column lies in a ring or at its edge.
func (c cutting) hasRingAt(column int) bool {
	return slices.ContainsFunc(c.rings, func(r ring) bool { return column >= r.start-1 && column <= r.end })
}

// rowMean is the mean of some columns of a row that is shifted, in 8-bit sRGB, and
// how many of them are burnt out.
func (s *strip) rowMean(row, shift int, columns []int) (mean [3]float32, burnt int) {
	for _, c := range columns {
		p := s.pixels[row][min(max(c+shift, 0), stripColumns-1)]
		for k := range mean {
			mean[k] += p[k] / float32(len(columns))
		}
		if min(p[0], p[1], p[2]) >= burntOut {
			burnt++
		}
	}
	return mean, burnt
}
