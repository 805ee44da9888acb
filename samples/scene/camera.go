package main

import (
	"fmt"
	"math"
)

// camera is a pinhole camera. The photo's left upper corner is pixel (0, 0),
// so the middle of the first pixel lies at (0.5, 0.5).
type camera struct {
	at                 vec
	forward, right, up vec     // unit vectors
	halfWidth          float64 // tangent of half the angle of view across
	width, height      int     // pixels
	tilt               float64 // radians from looking straight down
}

// lookDown sets a camera up over the middle of the ground, leaning back by
// tilt radians, so far away that a millimetre at the middle of the photo
// spans pxPerMM pixels.
func lookDown(width, height int, tilt, halfWidth, pxPerMM float64) camera {
	away := float64(width) / (2 * halfWidth * pxPerMM)
	sin, cos := math.Sincos(tilt)
	return camera{
		at:      vec{0, away * cos, -away * sin},
		forward: vec{0, -cos, sin}, right: vec{1, 0, 0}, up: vec{0, sin, cos},
		halfWidth: halfWidth, width: width, height: height, tilt: tilt,
	}
}

// halfHeight is the tangent of half the angle of view from top to bottom.
func (c camera) halfHeight() float64 {
	return c.halfWidth * float64(c.height) / float64(c.width)
}

// project gives the pixel at which a place in the scene shows.
func (c camera) project(p vec) (x, y float64) {
	d := p.minus(c.at)
	deep := d.dot(c.forward)
	u := d.dot(c.right) / deep / c.halfWidth
	v := d.dot(c.up) / deep / c.halfHeight()
	return float64(c.width) * (1 + u) / 2, float64(c.height) * (1 - v) / 2
}

// ground gives the place on the plane at the given height that shows at a
// pixel. The second result is false above the horizon.
func (c camera) ground(x, y, height float64) (vec, bool) {
	u := (2*x/float64(c.width) - 1) * c.halfWidth
	v := (1 - 2*y/float64(c.height)) * c.halfHeight()
	ray := c.forward.plus(c.right.times(u)).plus(c.up.times(v))
	if ray.y >= -1e-6 {
		return vec{}, false
	}
	return c.at.plus(ray.times((height - c.at.y) / ray.y)), true
}

// pov is the camera as POV-Ray text.
func (c camera) pov() string {
	return fmt.Sprintf("camera { location %s direction %s right %s up %s }\n",
		povVec(c.at), povVec(c.forward),
		povVec(c.right.times(2*c.halfWidth)), povVec(c.up.times(2*c.halfHeight())))
}

func povVec(v vec) string { return fmt.Sprintf("<%.5f,%.5f,%.5f>", v.x, v.y, v.z) }
