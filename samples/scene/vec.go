package main

import "math"

// vec is a place or direction in the scene in millimetres: x to the right, y
// up from the ground, z away from the viewer, as POV-Ray has it.
type vec struct{ x, y, z float64 }

func (a vec) plus(b vec) vec         { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) minus(b vec) vec        { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) times(k float64) vec    { return vec{a.x * k, a.y * k, a.z * k} }
func (a vec) dot(b vec) float64      { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vec) length() float64        { return math.Sqrt(a.dot(a)) }
func (a vec) unit() vec              { return a.times(1 / a.length()) }
func (a vec) flat() vec              { return vec{a.x, 0, a.z} }
func (a vec) distance(b vec) float64 { return a.minus(b).length() }
func (a vec) cross(b vec) vec {
	return vec{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}

// heading is the unit direction along the ground at an angle in radians from
// x towards z.
func heading(angle float64) vec { return vec{math.Cos(angle), 0, math.Sin(angle)} }

// gapBetween is the shortest distance on the ground between the stretches
// a0–a1 and b0–b1, zero where they cross.
func gapBetween(a0, a1, b0, b1 vec) float64 {
	if crossing(a0, a1, b0, b1) {
		return 0
	}
	return min(toStretch(a0, b0, b1), toStretch(a1, b0, b1), toStretch(b0, a0, a1), toStretch(b1, a0, a1))
}

// toStretch is the distance on the ground of p from the stretch a–b.
func toStretch(p, a, b vec) float64 {
	return fromStretch(p.flat(), a.flat(), b.flat())
}

// crossing says whether the stretches a0–a1 and b0–b1 cross on the ground.
func crossing(a0, a1, b0, b1 vec) bool {
	side := func(p, q, r vec) float64 { return (q.x-p.x)*(r.z-p.z) - (q.z-p.z)*(r.x-p.x) }
	return side(a0, a1, b0)*side(a0, a1, b1) < 0 && side(b0, b1, a0)*side(b0, b1, a1) < 0
}

// apart is the shortest distance in space between the stretches a0–a1 and b0–b1. On
// endless lines the nearest places follow from the stretches' directions; at an end
// of one, the nearest place on the other is that end's foot.
func apart(a0, a1, b0, b1 vec) float64 {
	a, b, gap := a1.minus(a0), b1.minus(b0), a0.minus(b0)
	aa, ab, bb := a.dot(a), a.dot(b), b.dot(b)
	least := min(fromStretch(a0, b0, b1), fromStretch(a1, b0, b1), fromStretch(b0, a0, a1), fromStretch(b1, a0, a1))
	across := aa*bb - ab*ab
	if across < 1e-12*aa*bb {
		return least // side by side
	}
	t := (ab*b.dot(gap) - bb*a.dot(gap)) / across
	u := (aa*b.dot(gap) - ab*a.dot(gap)) / across
	if t < 0 || t > 1 || u < 0 || u > 1 {
		return least
	}
	return gap.plus(a.times(t)).minus(b.times(u)).length()
}

// fromStretch is the distance of p from the stretch a–b.
func fromStretch(p, a, b vec) float64 {
	ab := b.minus(a)
	t := 0.0
	if l := ab.dot(ab); l > 0 {
		t = max(0, min(1, p.minus(a).dot(ab)/l))
	}
	return p.distance(a.plus(ab.times(t)))
}
