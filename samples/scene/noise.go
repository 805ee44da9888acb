package main

import "math"

// noise is smooth value noise over a grid of whole numbers, from 0 to 1. It
// repeats in y after period cells, so that it closes round a body.
type noise struct {
	seed   uint64
	period int
}

func (n noise) at(x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	tx, ty := x-fx, y-fy
	tx, ty = tx*tx*(3-2*tx), ty*ty*(3-2*ty)
	ix, iy := int(fx), int(fy)
	a, b := n.corner(ix, iy), n.corner(ix+1, iy)
	c, e := n.corner(ix, iy+1), n.corner(ix+1, iy+1)
	return (a+(b-a)*tx)*(1-ty) + (c+(e-c)*tx)*ty
}

// rough sums three octaves of the noise.
func (n noise) rough(x, y float64) float64 {
	n2, n4 := noise{n.seed + 1, n.period * 2}, noise{n.seed + 2, n.period * 4}
	return (4*n.at(x, y) + 2*n2.at(2*x, 2*y) + n4.at(4*x, 4*y)) / 7
}

func (n noise) corner(x, y int) float64 {
	if n.period > 0 {
		y = ((y % n.period) + n.period) % n.period
	}
	h := n.seed ^ uint64(int64(x))*0x9e3779b97f4a7c15 ^ uint64(int64(y))*0xc2b2ae3d27d4eb4f
	h ^= h >> 29
	h *= 0xbf58476d1ce4e5b9
	h ^= h >> 32
	h *= 0x94d049bb133111eb
	h ^= h >> 31
	return float64(h>>11) / (1 << 53)
}
