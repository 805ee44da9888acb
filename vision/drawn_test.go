package vision

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/vector"

	"ringwise/decode"
)

// The sRGB paints of drawn scenes: plain colours of the names, chosen by eye.
var (
	drawnPaper = color.RGBA{238, 236, 230, 255}
	drawnTan   = color.RGBA{208, 178, 132, 255}
	drawnLead  = color.RGBA{150, 150, 152, 255}
	drawnPaint = map[decode.Colour]color.RGBA{
		decode.Black: {30, 28, 28, 255}, decode.Brown: {104, 60, 36, 255}, decode.Red: {190, 40, 40, 255},
		decode.Orange: {226, 110, 40, 255}, decode.Yellow: {232, 200, 50, 255}, decode.Green: {40, 122, 62, 255},
		decode.Blue: {38, 74, 160, 255}, decode.Violet: {112, 60, 140, 255}, decode.Grey: {126, 126, 128, 255},
		decode.Gold: {160, 124, 52, 255},
	}
)

// Where four rings are drawn, as fractions of the body's length, and how wide:
// evenly, nearer to the first end, with a wider gap before the last. Common
// practice, no source.
var drawnPlaces = [4]float64{0.17, 0.33, 0.49, 0.76}

const drawnRing = 0.075

// A drawn body is a flat tan body with rings and two leads. The rings run from
// its left end to its right end, when the angle is zero.
type drawn struct {
	x, y   float64 // the centre, in pixels
	length float64 // of the body without its leads, in pixels
	angle  float64 // clockwise, in degrees
	rings  []decode.Colour
}

// width is how wide the body is, in pixels.
func (d drawn) width() float64 { return 0.34 * d.length }

// at is the place along and across the body, in pixels from its centre.
func (d drawn) at(along, across float64) (x, y float64) {
	s, c := math.Sincos(d.angle * math.Pi / 180)
	return d.x + along*c - across*s, d.y + along*s + across*c
}

// onto draws the body with smooth edges.
func (d drawn) onto(picture *image.RGBA) {
	half, rise := d.length/2, d.width()/2
	d.fill(picture, drawnLead, [][2]float64{{-1.9 * half, -0.08 * rise}, {1.9 * half, -0.08 * rise}, {1.9 * half, 0.08 * rise}, {-1.9 * half, 0.08 * rise}})
	var outline [][2]float64
	const corner = 0.6 // of half the width
	for i, c := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		for step := range 9 {
			s, k := math.Sincos((float64(i) + float64(step)/8) * math.Pi / 2)
			outline = append(outline, [2]float64{c[0]*(half-corner*rise) + corner*rise*k, c[1]*rise*(1-corner) + corner*rise*s})
		}
	}
	d.fill(picture, drawnTan, outline)
	for i, ring := range d.rings {
		left := (drawnPlaces[i] - drawnRing/2 - 0.5) * d.length
		right := left + drawnRing*d.length
		d.fill(picture, drawnPaint[ring], [][2]float64{{left, -rise}, {right, -rise}, {right, rise}, {left, rise}})
	}
}

// shade darkens the body towards its rims, as a cylinder is dark where it turns
// away from the light (Lambert's law).
func (d drawn) shade(picture *image.RGBA) {
	const stripes = 24
	half, rise := d.length/2, d.width()/2
	for i := range stripes {
		upper, lower := 2*float64(i)/stripes-1, 2*float64(i+1)/stripes-1
		middle := (upper + lower) / 2
		dark := 0.7 * (1 - math.Sqrt(1-middle*middle))
		d.fill(picture, color.RGBA{A: uint8(255 * dark)}, [][2]float64{{-half, upper * rise}, {half, upper * rise}, {half, lower * rise}, {-half, lower * rise}})
	}
}

// fill fills an outline given along and across the body.
func (d drawn) fill(picture *image.RGBA, paint color.RGBA, outline [][2]float64) {
	fillOutline(picture, paint, outline, d.at)
}

func fillOutline(picture *image.RGBA, paint color.RGBA, outline [][2]float64, at func(x, y float64) (float64, float64)) {
	box := image.Rectangle{Min: image.Pt(math.MaxInt32, math.MaxInt32)}
	places := make([][2]float32, len(outline))
	for i, p := range outline {
		x, y := at(p[0], p[1])
		places[i] = [2]float32{float32(x), float32(y)}
		box.Min = image.Pt(min(box.Min.X, int(x)-1), min(box.Min.Y, int(y)-1))
		box.Max = image.Pt(max(box.Max.X, int(x)+2), max(box.Max.Y, int(y)+2))
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	for i, p := range places {
		x, y := p[0]-float32(box.Min.X), p[1]-float32(box.Min.Y)
		if i == 0 {
			r.MoveTo(x, y)
		} else {
			r.LineTo(x, y)
		}
	}
	r.ClosePath()
	cover := image.NewAlpha(r.Bounds())
	r.Draw(cover, r.Bounds(), image.Opaque, image.Point{})
	draw.DrawMask(picture, box, image.NewUniform(paint), image.Point{}, cover, image.Point{}, draw.Over)
}

// paper is a bare sheet.
func paper(width, height int) *image.RGBA {
	p := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(p, p.Bounds(), image.NewUniform(drawnPaper), image.Point{}, draw.Src)
	return p
}

// scene is a sheet with bodies on it.
func scene(width, height int, bodies ...drawn) *image.RGBA {
	p := paper(width, height)
	for _, b := range bodies {
		b.onto(p)
	}
	return p
}

// grain adds slight noise, the same each time.
func grain(p *image.RGBA) {
	random := rand.New(rand.NewPCG(1, 2))
	for i := range p.Pix {
		if i%4 != 3 {
			p.Pix[i] = uint8(max(0, min(255, int(p.Pix[i])+random.IntN(7)-3)))
		}
	}
}

// photographed gives the picture grain and opens it as a JPEG.
func photographed(t testing.TB, p *image.RGBA) *Photo {
	t.Helper()
	grain(p)
	photo, err := Open(t.Context(), asJPEG(t, p))
	require.NoError(t, err)
	t.Cleanup(func() { photo.Close() })
	return photo
}
