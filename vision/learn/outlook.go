package main

import (
	"context"
	"image"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"ringwise/vision"
	"ringwise/vision/bodies"
	"ringwise/vision/columns"

	"gocv.io/x/gocv"
)

// An outlook is a photo with the bodies in it, at two sizes, the second half the
// first.
type outlook struct {
	sizes  [2]raster
	bodies []body // in pixels of the first, with rings and without
}

// A raster is sRGB pixels, three bytes each.
type raster struct {
	width, height int
	pixels        []uint8
}

// keptSide is the longest side of what is kept of a photo.
const keptSide = 800

// outlook opens a photo to be learnt from as a whole.
func (p photo) outlook(dir string) (outlook, error) {
	data, err := os.ReadFile(filepath.Join(dir, p.File))
	if err != nil {
		return outlook{}, err
	}
	picture, err := vision.Open(context.Background(), data)
	if err != nil {
		return outlook{}, err
	}
	defer picture.Close()
	scale := math.Min(1, keptSide/math.Max(p.Width, p.Height))
	var o outlook
	for i := range o.sizes {
		o.sizes[i] = shrunk(picture.Pixels, scale/float64(int(1)<<i))
	}
	for _, r := range p.Resistors {
		o.bodies = append(o.bodies, bodyOf(r.Body.Polygon))
	}
	o.bodies = append(o.bodies, p.bare()...)
	for i := range o.bodies {
		b := &o.bodies[i]
		b.x, b.y, b.half, b.rise = b.x*scale, b.y*scale, b.half*scale, b.rise*scale
	}
	return o, nil
}

// unringed are the kinds of resistors that wear no rings.
var unringed = []string{"photoresistor", "thermistor", "trimmer", "dotted resistor", "printed resistor", "blank body", "cement block"}

// bare are the resistors without rings. What is no axial part is as long as wide.
func (p photo) bare() (out []body) {
	for _, d := range p.Distractors {
		if !slices.Contains(unringed, d.Kind) || d.Length == 0 {
			continue
		}
		b := body{x: d.Center[0], y: d.Center[1], ux: 1, half: d.Length / 2, rise: d.Length / 2, round: true}
		if d.Body != nil {
			b = bodyOf(d.Body.Polygon)
		}
		b.bare = true
		out = append(out, b)
	}
	return out
}

func shrunk(pixels gocv.Mat, scale float64) raster {
	small := gocv.NewMat()
	defer small.Close()
	gocv.Resize(pixels, &small, image.Point{}, scale, scale, gocv.InterpolationArea)
	gocv.CvtColor(small, &small, gocv.ColorBGRToRGB)
	return raster{small.Cols(), small.Rows(), small.ToBytes()}
}

// at returns a colour between pixels, and whether it lies within.
func (r *raster) at(x, y float64) (rgb [3]float32, inside bool) {
	if x < 0 || y < 0 || x > float64(r.width-1) || y > float64(r.height-1) {
		return rgb, false
	}
	u, t := min(int(x), r.width-2), min(int(y), r.height-2)
	fx, fy := float32(x-float64(u)), float32(y-float64(t))
	upper, lower := r.pixels[3*(t*r.width+u):], r.pixels[3*((t+1)*r.width+u):]
	for k := range rgb {
		rgb[k] = (1-fy)*((1-fx)*float32(upper[k])+fx*float32(upper[k+3])) + fy*((1-fx)*float32(lower[k])+fx*float32(lower[k+3]))
	}
	return rgb, true
}

// window is the side of the piece of a photo that is shown at a time, in pixels.
const window = 256

// A scene is such a piece, as the network sees it.
type scene struct {
	lab    []float32
	bodies []body
}

// vary is a piece of the photo, turned, mirrored, nearer or farther, under another
// light, and now and then with a row of bodies in it.
func (o *outlook) vary(chance *rand.Rand) *scene {
	kept := &o.sizes[0]
	c := shot{zoom: math.Min(1, bodies.Side/float64(max(kept.width, kept.height))) * math.Exp(0.95*chance.Float64()-0.5), flip: 1}
	c.sin, c.cos = math.Sincos(2 * math.Pi * chance.Float64())
	if chance.Float64() < 0.5 {
		c.flip = -1
	}
	c.x, c.y = chance.Float64()*float64(kept.width), chance.Float64()*float64(kept.height)
	if len(o.bodies) > 0 && chance.Float64() < 0.8 {
		b := &o.bodies[chance.IntN(len(o.bodies))]
		c.x, c.y = b.x, b.y
	}
	var side *row
	all := o.bodies
	if ringed := o.ringed(); len(ringed) > 0 && chance.Float64() < 0.25 {
		side = newRow(ringed, chance)
		all = side.bodies(all)
		c.x, c.y = side.of.x, side.of.y
	}
	c.atX, c.atY = (0.1+0.8*chance.Float64())*window, (0.1+0.8*chance.Float64())*window

	from, shrink := kept, 1.0
	if c.zoom < 0.6 {
		from, shrink = &o.sizes[1], 0.5
	}
	curves := lightCurves(chance)
	noise := float32(3 * math.Max(0, chance.NormFloat64()))
	s := &scene{lab: make([]float32, 3*window*window)}
	for y := range window {
		for x := range window {
			u, t := c.from(float64(x), float64(y))
			if side != nil {
				u, t = side.from(u, t)
			}
			rgb, inside := from.at((u+0.5)*shrink-0.5, (t+0.5)*shrink-0.5)
			if !inside {
				continue
			}
			for k, v := range rgb {
				i := min(int(v), 254)
				f := v - float32(i)
				rgb[k] = min(max(curves[k][i]*(1-f)+curves[k][i+1]*f+noise*float32(chance.NormFloat64()), 0), 255)
			}
			lab := columns.ScaledLab(rgb)
			copy(s.lab[3*(y*window+x):], lab[:])
		}
	}
	for _, b := range all {
		s.bodies = append(s.bodies, c.shown(b))
	}
	return s
}

func (o *outlook) ringed() (out []body) {
	for _, b := range o.bodies {
		if !b.bare {
			out = append(out, b)
		}
	}
	return out
}

// A shot is how a piece of a photo comes to lie in the window.
type shot struct {
	x, y     float64 // a place of the photo, in pixels
	atX, atY float64 // where it is in the window
	sin, cos float64 // of the turn
	flip     float64 // -1 for a mirrored one, else 1
	zoom     float64
}

// from is which place of the photo a place of the window shows.
func (c *shot) from(x, y float64) (float64, float64) {
	dx, dy := (x-c.atX)/c.zoom, (y-c.atY)/c.zoom*c.flip
	return c.x + dx*c.cos - dy*c.sin, c.y + dx*c.sin + dy*c.cos
}

// shown is where a body of the photo is in the window.
func (c *shot) shown(b body) body {
	dx, dy := b.x-c.x, b.y-c.y
	b.x, b.y = c.atX+c.zoom*(dx*c.cos+dy*c.sin), c.atY+c.zoom*c.flip*(dy*c.cos-dx*c.sin)
	b.ux, b.uy = b.ux*c.cos+b.uy*c.sin, c.flip*(b.uy*c.cos-b.ux*c.sin)
	b.half *= c.zoom
	b.rise *= c.zoom
	return b
}
