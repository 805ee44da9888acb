package vision

import (
	"image"
	"math"
	"slices"

	"gocv.io/x/gocv"
)

// findSide is the long side, in pixels, at which bodies are looked for.
const findSide = 1000

// A view is the photo at the size at which bodies are looked for, in 8-bit
// Lab as OpenCV scales it: L 0 to 255, a and b offset by 128.
type view struct {
	width, height int
	scale         float64 // pixels of the view per pixel of the photo
	lab           []uint8 // three bytes a pixel
}

// newView shrinks the photo to the finding size and turns it to Lab.
func newView(photo picture) view {
	scale := math.Min(1, findSide/float64(max(photo[0].Cols(), photo[0].Rows())))
	pixels, shrunk := photo.level(scale)
	small := gocv.NewMat()
	defer small.Close()
	if scale < shrunk {
		shrink(pixels, &small, scale/shrunk)
	} else {
		pixels.CopyTo(&small)
	}
	lab := gocv.NewMat()
	defer lab.Close()
	gocv.CvtColor(small, &lab, gocv.ColorBGRToLab)
	return view{lab.Cols(), lab.Rows(), scale, lab.ToBytes()}
}

// grey tells whether the photo has no colours at all, as one taken in black and
// white: what is left of them is rounding.
func (v view) grey() bool {
	const neutral, rounding = 128, 2 // of 8-bit Lab
	for i := 0; i < len(v.lab); i += 3 {
		for _, channel := range v.lab[i+1 : i+3] {
			if channel < neutral-rounding || channel > neutral+rounding {
				return false
			}
		}
	}
	return true
}

// tint returns a pixel of the view in CIELAB.
func (v view) tint(x, y int) tint {
	p := v.lab[3*(y*v.width+x):]
	return tint{float64(p[0]) * 100 / 255, float64(p[1]) - 128, float64(p[2]) - 128}
}

// groundSide is the long side of the thumbnail on which the ground is
// estimated.
const groundSide = 128

// A ground is the colour of what the parts lie on, everywhere in the view,
// and how much it varies by itself.
type ground struct {
	width, height int       // of the thumbnail
	lab           []float32 // smoothed ground, three floats a pixel
	spreadL       float64   // robust spread of lightness about it
	spreadAB      float64   // the same for a and b
}

// seeGround estimates the ground. Where the whole photo has one smooth ground
// (paper, a white sweep), a surface of the second order is fitted to it, so
// that bodies may fill most of the frame. Otherwise the ground is the local
// median, which follows shadows and grain.
func seeGround(v view) ground {
	thumb := thumbnail(v)
	defer thumb.Close()
	w, h := thumb.Cols(), thumb.Rows()
	seen := floats(thumb)

	surface, inside := fitSurface(seen, w, h)
	g := ground{width: w, height: h, lab: surface}
	if inside < 0.6 {
		size := max(w, h)*2/5 | 1
		local := gocv.NewMat()
		defer local.Close()
		gocv.MedianBlur(thumb, &local, size)
		gocv.Blur(local, &local, image.Pt(9, 9))
		g.lab = floats(local)
	}
	g.spreadL, g.spreadAB = spread(v, g)
	return g
}

func thumbnail(v view) gocv.Mat {
	lab, err := gocv.NewMatFromBytes(v.height, v.width, gocv.MatTypeCV8UC3, v.lab)
	if err != nil {
		panic(err) // the view's sizes are its own
	}
	defer lab.Close()
	thumb := gocv.NewMat()
	s := math.Min(1, groundSide/float64(max(v.width, v.height)))
	w, h := max(1, int(float64(v.width)*s)), max(1, int(float64(v.height)*s))
	gocv.Resize(lab, &thumb, image.Pt(w, h), 0, 0, gocv.InterpolationArea)
	return thumb
}

func floats(m gocv.Mat) []float32 {
	raw := m.ToBytes()
	out := make([]float32, len(raw))
	for i, b := range raw {
		out[i] = float32(b)
	}
	return out
}

// surfaceReach is how far, in 8-bit Lab units, a pixel may lie from the
// surface and still count as ground.
const surfaceReach = 14

// fitSurface fits a quadratic surface to each channel, leaving out what lies
// far from it, and returns it with the share of pixels that lie near.
func fitSurface(seen []float32, w, h int) ([]float32, float64) {
	n := w * h
	keep := make([]bool, n)
	start := borderMedian(seen, w, h)
	for i := range keep {
		keep[i] = distance(seen[3*i:3*i+3], start[:]) < 3*surfaceReach
	}
	fitted := make([]float32, 3*n)
	inside := 0.0
	for round := range 5 {
		var terms [6]float64
		normal := make([][]float64, 6)
		for r := range normal {
			normal[r] = make([]float64, 6)
		}
		var right [3][6]float64
		for i := range n {
			if !keep[i] {
				continue
			}
			quadratic(i%w, i/w, w, h, &terms)
			for r := range 6 {
				for c := range 6 {
					normal[r][c] += terms[r] * terms[c]
				}
				for k := range 3 {
					right[k][r] += terms[r] * float64(seen[3*i+k])
				}
			}
		}
		for r := range 6 {
			normal[r][r] += 1 + float64(n)*1e-4*b2f(r > 0)
		}
		var coefficient [3][]float64
		for k := range 3 {
			coefficient[k] = solve(normal, right[k][:])
		}
		near := 0
		reach := float64(surfaceReach) * (3 - 0.5*float64(round))
		for i := range n {
			quadratic(i%w, i/w, w, h, &terms)
			for k := range 3 {
				sum := 0.0
				for r := range 6 {
					sum += terms[r] * coefficient[k][r]
				}
				fitted[3*i+k] = float32(sum)
			}
			d := distance(seen[3*i:3*i+3], fitted[3*i:3*i+3])
			keep[i] = d < reach
			if d < surfaceReach {
				near++
			}
		}
		inside = float64(near) / float64(n)
	}
	return fitted, inside
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// quadratic fills in the terms of a surface of the second order, with x and y
// from -1 to 1.
func quadratic(x, y, w, h int, terms *[6]float64) {
	u := 2*(float64(x)+0.5)/float64(w) - 1
	t := 2*(float64(y)+0.5)/float64(h) - 1
	*terms = [6]float64{1, u, t, u * u, u * t, t * t}
}

// borderMedian is the median colour of the thumbnail's rim.
func borderMedian(seen []float32, w, h int) [3]float32 {
	var rim [3][]float32
	for i := range w * h {
		x, y := i%w, i/w
		if min(x, y, w-1-x, h-1-y) < 3 {
			for k := range 3 {
				rim[k] = append(rim[k], seen[3*i+k])
			}
		}
	}
	var out [3]float32
	for k := range 3 {
		slices.Sort(rim[k])
		out[k] = rim[k][len(rim[k])/2]
	}
	return out
}

func distance(p, q []float32) float64 {
	a, b, c := float64(p[0]-q[0]), float64(p[1]-q[1]), float64(p[2]-q[2])
	return math.Sqrt(a*a + b*b + c*c)
}

// at returns the ground's colour at a pixel of the view.
func (g ground) at(v view, x, y int) []float32 {
	gx := min(g.width-1, x*g.width/v.width)
	gy := min(g.height-1, y*g.height/v.height)
	i := 3 * (gy*g.width + gx)
	return g.lab[i : i+3]
}

// tint returns the ground's colour at a place of the view in CIELAB.
func (g ground) tint(v view, x, y float64) tint {
	at := g.at(v, min(max(int(x), 0), v.width-1), min(max(int(y), 0), v.height-1))
	return tint{float64(at[0]) * 100 / 255, float64(at[1]) - 128, float64(at[2]) - 128}
}

// spread measures how far pixels of the view lie from the ground: the median
// distance in lightness and in a and b, scaled to a standard deviation.
func spread(v view, g ground) (l, ab float64) {
	const step = 11
	var dl, dab []float64
	for y := min(step, v.height) / 2; y < v.height; y += step {
		for x := min(step, v.width) / 2; x < v.width; x += step {
			at := g.at(v, x, y)
			p := v.lab[3*(y*v.width+x):]
			dl = append(dl, math.Abs(float64(p[0])-float64(at[0])))
			dab = append(dab, math.Hypot(float64(p[1])-float64(at[1]), float64(p[2])-float64(at[2])))
		}
	}
	slices.Sort(dl)
	slices.Sort(dab)
	return 1.48 * dl[len(dl)/2], 0.85 * dab[len(dab)/2]
}

// stand returns, for each pixel of the view, how clearly it stands out from
// the ground: 0 not at all, 100 at the threshold, at most 255. Darkening
// without a change of hue may be a shadow and counts for less.
func (g ground) stand(v view) gocv.Mat {
	out := gocv.NewMatWithSize(v.height, v.width, gocv.MatTypeCV8U)
	pixels, err := out.DataPtrUint8()
	if err != nil {
		panic(err) // the Mat was just made
	}
	scaleL := 100 / (11 + 2.6*g.spreadL)
	scaleAB := 100 / (7 + 2.8*g.spreadAB)
	for y := range v.height {
		gy := min(g.height-1, y*g.height/v.height) * g.width
		for x := range v.width {
			i := y*v.width + x
			at := g.lab[3*(gy+min(g.width-1, x*g.width/v.width)):]
			p := v.lab[3*i : 3*i+3]
			l := (float64(p[0]) - float64(at[0])) * scaleL
			a := (float64(p[1]) - float64(at[1])) * scaleAB
			b := (float64(p[2]) - float64(at[2])) * scaleAB
			if l < 0 {
				l = shadowWeight*max(l, -deepShadow*scaleL) + 0.8*min(0, l+deepShadow*scaleL)
			}
			pixels[i] = uint8(math.Min(255, math.Sqrt(l*l+a*a+b*b)))
		}
	}
	return out
}

// What is darker than the ground without a change of hue may lie in shadow, so
// the first deepShadow of L (8-bit) counts for shadowWeight only.
const (
	deepShadow   = 60.0
	shadowWeight = 0.18
)
