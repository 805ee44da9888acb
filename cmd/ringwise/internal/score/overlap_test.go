package score

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gocv.io/x/gocv"
)

func box(x, y, w, h float64) [][2]float64 {
	return [][2]float64{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

// turned is a box about (x, y), turned by some degrees.
func turned(x, y, w, h, degrees float64) [][2]float64 {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	var p [][2]float64
	for _, q := range box(-w/2, -h/2, w, h) {
		p = append(p, [2]float64{x + q[0]*cos - q[1]*sin, y + q[0]*sin + q[1]*cos})
	}
	return p
}

func TestOverlapByHand(t *testing.T) {
	a := box(0, 0, 4, 2)
	backwards := [][2]float64{a[3], a[2], a[1], a[0]}
	for _, c := range []struct {
		name string
		b    [][2]float64
		want float64
	}{
		{"itself", a, 1},
		{"itself the other way round", backwards, 1},
		{"half", box(2, 0, 4, 2), 4.0 / 12},
		{"inside", box(1, 0.5, 2, 1), 2.0 / 8},
		{"apart", box(10, 10, 4, 2), 0},
		{"touching", box(4, 0, 4, 2), 0},
		{"no area", box(1, 1, 0, 0), 0},
	} {
		assert.InDelta(t, c.want, overlap(a, c.b), 1e-12, c.name)
	}
}

// The same shapes filled and counted by OpenCV, on a grid so fine that the
// edges hardly matter.
func TestOverlapAgainstPixels(t *testing.T) {
	for _, c := range []struct{ a, b [][2]float64 }{
		{turned(500, 500, 600, 200, 20), turned(520, 480, 580, 220, 27)},
		{turned(500, 500, 600, 200, 20), turned(500, 500, 600, 200, 110)},
		{turned(400, 500, 500, 160, -70), turned(430, 560, 480, 200, 100)},
		{[][2]float64{{100, 100}, {900, 200}, {500, 400}, {800, 900}, {200, 800}}, turned(500, 500, 500, 400, 30)},
	} {
		common, union := filled(c.a), filled(c.b)
		both := gocv.NewMat()
		gocv.BitwiseAnd(common, union, &both)
		gocv.BitwiseOr(common, union, &union)
		want := float64(gocv.CountNonZero(both)) / float64(gocv.CountNonZero(union))
		both.Close()
		common.Close()
		union.Close()
		assert.InDelta(t, want, overlap(c.a, c.b), 0.01)
	}
}

func filled(p [][2]float64) gocv.Mat {
	mat := gocv.Zeros(1000, 1000, gocv.MatTypeCV8U)
	var points []image.Point
	for _, q := range p {
		points = append(points, image.Pt(int(math.Round(q[0])), int(math.Round(q[1]))))
	}
	polygon := gocv.NewPointsVectorFromPoints([][]image.Point{points})
	defer polygon.Close()
	gocv.FillPoly(&mat, polygon, color.RGBA{255, 255, 255, 255})
	return mat
}
