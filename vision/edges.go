package vision

import (
	"math"
	"slices"

	"ringwise/vision/columns"
)

// How far a box may lie beside a body's edges, in half widths or by ratio, and be
// turned against its axis, before its strip is made anew.
const (
	mostOff     = 0.2
	mostThicker = 1.3
	mostThinner = 0.65
	mostTurned  = 0.06
)

// sized is the part of a fitted box that lies between two columns of its strip,
// moved, turned and sized across to where a network sees the body's
// edges, and whether it lay far beside these.
func (s *strip) sized(f fit, left, right int) (b box, beside bool) {
	if s.edges == nil {
		s.edges = s.seer().Edges()
	}
	edges := s.edges
	unit := columns.Rows * stripAcross / stripRows * f.rise
	var along, middles, rises []float64
	for c := left + marginColumns; c < right+marginColumns; c++ {
		upper, lower := float64(edges[c][0])*unit, float64(edges[c][1])*unit
		along = append(along, columns.Along(float64(c)+0.5)*f.half)
		middles = append(middles, (upper+lower)/2)
		rises = append(rises, (lower-upper)/2)
	}
	slices.Sort(rises)
	rise := rises[len(rises)/2]
	b = f.between(left, right)
	if rise < 0.2*f.rise {
		return b, false
	}
	off, slope := lineThrough(along, middles)
	centre := (float64(left+right)/stripColumns - 1) * stripAlong * f.half
	off += slope * centre
	beside = math.Abs(off) > mostOff*f.rise || rise > mostThicker*f.rise || rise < mostThinner*f.rise || math.Abs(slope) > mostTurned
	b.x, b.y = f.at(centre, off)
	b.angle += math.Atan(slope)
	b.rise = rise * math.Cos(math.Atan(slope))
	return b, beside
}
