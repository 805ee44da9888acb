package marked

import (
	"image"
	"math"
)

// A vector is a place or a way on the sheet, in pixels.
type vector struct{ x, y float64 }

func (v vector) plus(o vector) vector   { return vector{v.x + o.x, v.y + o.y} }
func (v vector) minus(o vector) vector  { return vector{v.x - o.x, v.y - o.y} }
func (v vector) times(f float64) vector { return vector{v.x * f, v.y * f} }
func (v vector) length() float64        { return math.Hypot(v.x, v.y) }
func (v vector) point() image.Point     { return image.Pt(int(math.Round(v.x)), int(math.Round(v.y))) }

// unit is the vector of length 1 in the same direction, (1, 0) if there is
// none.
func (v vector) unit() vector {
	if l := v.length(); l > 0 {
		return v.times(1 / l)
	}
	return vector{1, 0}
}
