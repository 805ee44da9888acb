package marked

import (
	"math"

	"ringwise/vision"
)

// A plate is an upright rectangle on the sheet.
type plate struct{ corner, size vector }

// plateAt is the plate of a label about c, moved into the sheet if it would
// leave it.
func (s *sheet) plateAt(l label, c vector) plate {
	size := l.plateSize()
	corner := c.minus(size.times(0.5))
	corner.x = math.Max(0, math.Min(corner.x, float64(s.mat.Cols())-size.x))
	corner.y = math.Max(0, math.Min(corner.y, float64(s.mat.Rows())-size.y))
	return plate{corner, size}
}

// common is the area that two plates share.
func (p plate) common(q plate) float64 {
	wide := math.Min(p.corner.x+p.size.x, q.corner.x+q.size.x) - math.Max(p.corner.x, q.corner.x)
	high := math.Min(p.corner.y+p.size.y, q.corner.y+q.size.y) - math.Max(p.corner.y, q.corner.y)
	return math.Max(0, wide) * math.Max(0, high)
}

// pieces is the number of plates by which a body is covered, so that a slanted
// one takes little more room than it needs.
const pieces = 10

// occupy notes where a body lies, so that labels keep off it.
func (s *sheet) occupy(part vision.Part) {
	ahead, aside := axes(part)
	long := s.at(part, 1, 0.5, vector{}).minus(s.at(part, 0, 0.5, vector{})).length() / pieces
	wide := s.at(part, 0.5, 1, vector{}).minus(s.at(part, 0.5, 0, vector{})).length()
	size := vector{
		math.Abs(ahead.x)*long + math.Abs(aside.x)*wide,
		math.Abs(ahead.y)*long + math.Abs(aside.y)*wide,
	}
	for i := range pieces {
		middle := s.at(part, (float64(i)+0.5)/pieces, 0.5, vector{})
		s.taken = append(s.taken, plate{middle.minus(size.times(0.5)), size})
	}
}

// clash is how much of what is taken the plates would cover.
func (s *sheet) clash(plates []plate) float64 {
	sum := 0.0
	for _, p := range plates {
		for _, q := range s.taken {
			sum += p.common(q)
		}
	}
	return sum
}
