package vision

import (
	"image"
	"math"

	"gocv.io/x/gocv"
)

// A picture is a photo and, after it, its copies half as large each time, so
// that no place has to be shrunk from far more pixels than are wanted of it.
type picture []gocv.Mat

// shrink scales a picture down, to one pixel either way at least: of none OpenCV makes
// no picture.
func shrink(from gocv.Mat, to *gocv.Mat, scale float64) {
	width, height := math.RoundToEven(scale*float64(from.Cols())), math.RoundToEven(scale*float64(from.Rows()))
	var size image.Point
	if width < 1 || height < 1 {
		size = image.Pt(int(max(1, width)), int(max(1, height)))
	}
	gocv.Resize(from, to, size, scale, scale, gocv.InterpolationArea)
}

// smallestCopy is the least short side of a copy, in pixels.
const smallestCopy = 300

// pictureOf makes the copies of a photo. Close them once done; the photo itself
// stays open.
func pictureOf(photo gocv.Mat) picture {
	p := picture{photo}
	for last := photo; min(last.Cols(), last.Rows()) >= 2*smallestCopy; last = p[len(p)-1] {
		half := gocv.NewMat()
		gocv.Resize(last, &half, image.Pt(last.Cols()/2, last.Rows()/2), 0, 0, gocv.InterpolationArea)
		p = append(p, half)
	}
	return p
}

func (p picture) close() {
	for _, m := range p[1:] {
		m.Close()
	}
}

// level returns the smallest copy that is at least as large as the photo scaled
// so, and what the photo is scaled by in it.
func (p picture) level(scale float64) (gocv.Mat, float64) {
	i, shrunk := 0, 1.0
	for i+1 < len(p) && shrunk/2 >= scale {
		i, shrunk = i+1, shrunk/2
	}
	return p[i], shrunk
}

// levelFor returns the copy to sample the strip of a box from, and the box in
// it.
func (p picture) levelFor(b box) (gocv.Mat, box) {
	m, shrunk := p.level(pixelsPerColumn / columnsApart(b))
	in := b.scaled(shrunk)
	in.x, in.y = (b.x+0.5)*shrunk-0.5, (b.y+0.5)*shrunk-0.5
	return m, in
}
