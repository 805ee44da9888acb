package main

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"slices"
)

// lens is how the camera takes and saves the picture. Lengths are in pixels
// of the picture before it is enlarged.
type lens struct {
	balance       string  // auto, preset or none
	balanceKelvin float64 // the light the camera takes for white
	tint          float64 // error towards green, fraction
	ev            float64 // error of exposure, stops
	softness      float64 // blur everywhere, sigma
	defocus       float64 // blur by wrong focus, sigma
	depth         float64 // more of it per photo height away from the focus
	focus         float64 // row in focus, fraction of the height
	motion        float64 // length of the smear
	motionAngle   float64
	noise         float64 // standard deviation at mid grey
	smear         float64 // noise reduction, sigma
	vignette      float64 // loss in the corners, fraction
	contrast      float64 // 0 none to 1 strong curve
	saturation    float64 // 1 true
	sharpen       float64
	whiten        bool // the ground is pulled to pure white
	quality       int  // JPEG
	earlier       int  // quality of an earlier JPEG, 0 without
	enlarged      float64
	blocky        bool // enlarged without smoothing
}

// blurAt is the standard deviation of the blur at a row, without the smear
// of motion.
func (l lens) blurAt(row float64) float64 {
	out := l.defocus + l.depth*math.Abs(row-l.focus)
	return math.Hypot(l.softness, out)
}

// develop turns light on the sensor into a JPEG, and gives the developed
// picture too.
func (s *scene) develop(d dice, p *picture) ([]byte, *picture, error) {
	l := s.lens
	p.blurRows(l)
	if l.motion > 1 {
		p.smear(l.motion, l.motionAngle)
	}
	p.balance(lampColour(l.balanceKelvin), l.tint)
	p.vignette(l.vignette)
	p.expose(l)
	p.addNoise(d, l)
	p.grade(l)
	if l.sharpen > 0 {
		p.sharpen(l.sharpen)
	}
	shown := p.shown()
	if l.earlier > 0 {
		again, err := recompressed(shown, l.earlier)
		if err != nil {
			return nil, nil, err
		}
		shown = again
	}
	if l.enlarged != 1 {
		shown = enlarge(shown, l.enlarged, l.blocky)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, shown, &jpeg.Options{Quality: l.quality}); err != nil {
		return nil, nil, err
	}
	final, err := jpeg.Decode(bytes.NewReader(b.Bytes()))
	if err != nil {
		return nil, nil, err
	}
	return b.Bytes(), asPicture(final), nil
}

// balance divides by the colour the camera takes for white.
func (p *picture) balance(white rgb, tint float64) {
	gains := rgb{1 / white[0], (1 + tint) / white[1], 1 / white[2]}
	gains = gains.times(1 / gains.luminance())
	for c := range 3 {
		for i := range p.planes[c] {
			p.planes[c][i] *= float32(gains[c])
		}
	}
}

func (p *picture) vignette(loss float64) {
	if loss == 0 {
		return
	}
	w, h := float64(p.width)/2, float64(p.height)/2
	for y := range p.height {
		for x := range p.width {
			r := (math.Pow((float64(x)-w)/w, 2) + math.Pow((float64(y)-h)/h, 2)) / 2
			k := float32(1 - loss*r)
			for c := range 3 {
				p.planes[c][y*p.width+x] *= k
			}
		}
	}
}

// expose meters as a camera does: pale scenes come out pale and dark ones
// dark, but less so than they are, and white on dark burns out a little. A whitened picture takes its ground for
// white.
func (p *picture) expose(l lens) {
	lights := make([]float64, 0, len(p.planes[0])/7)
	sum := 0.0
	for i := 0; i < len(p.planes[0]); i += 7 {
		v := rgb{float64(p.planes[0][i]), float64(p.planes[1][i]), float64(p.planes[2][i])}.luminance()
		lights = append(lights, v)
		sum += min(v, 1.2)
	}
	mean := max(0.01, sum/float64(len(lights)))
	slices.Sort(lights)
	gain := math.Pow(0.34, 0.6) * math.Pow(mean, 0.4) / mean
	gain = min(gain, 1.5, 1.15/lights[len(lights)*97/100]) // spare the highlights
	if l.whiten {
		gain = 1.02 / max(0.05, lights[len(lights)*6/10])
	}
	gain *= math.Exp2(l.ev)
	for c := range 3 {
		for i := range p.planes[c] {
			p.planes[c][i] *= float32(gain)
		}
	}
}

// addNoise adds shot and read noise, coarser in colour than in light, as
// phones leave it.
func (p *picture) addNoise(d dice, l lens) {
	if l.noise == 0 {
		return
	}
	coarse := newPicture(p.width, p.height)
	for c := range 3 {
		for i := range coarse.planes[c] {
			coarse.planes[c][i] = float32(d.NormFloat64())
		}
	}
	if l.smear > 0 {
		coarse = coarse.blurred(l.smear)
		for c := range 3 {
			k := float32(2 * math.Sqrt(math.Pi) * l.smear * 0.7)
			for i := range coarse.planes[c] {
				coarse.planes[c][i] *= max(1, k)
			}
		}
	}
	for i := range p.planes[0] {
		grain := float32(d.NormFloat64())
		for c := range 3 {
			v := p.planes[c][i]
			sigma := float32(l.noise) * float32(math.Sqrt(float64(max(0, v))/0.18*0.8+0.2))
			p.planes[c][i] = v + sigma*(0.6*grain+0.6*coarse.planes[c][i])
		}
	}
}

// grade applies contrast and saturation and goes to the curve of sRGB, with
// a shoulder that keeps highlights from cutting off hard.
func (p *picture) grade(l lens) {
	for i := range p.planes[0] {
		r, g, b := float64(p.planes[0][i]), float64(p.planes[1][i]), float64(p.planes[2][i])
		grey := rgb{r, g, b}.luminance()
		for c, v := range [3]float64{r, g, b} {
			v = grey + (v-grey)*l.saturation
			v = toneCurve(v, l)
			p.planes[c][i] = float32(v)
		}
	}
}

// toneCurve maps linear light to the encoded value, 0 to 1.
func toneCurve(v float64, l lens) float64 {
	if v <= 0 {
		return 0
	}
	if !l.whiten && v > 0.75 {
		v = 0.75 + 0.25*(1-math.Exp(-(v-0.75)/0.25))
	}
	e := v * 12.92
	if v > 0.0031308 {
		e = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	e = min(e, 1)
	curved := e * e * (3 - 2*e)
	return e + (curved-e)*l.contrast
}

// sharpen lays the halo of a phone's sharpening round edges.
func (p *picture) sharpen(amount float64) {
	soft := p.blurred(1.1)
	for c := range 3 {
		for i, v := range p.planes[c] {
			p.planes[c][i] = v + float32(amount)*(v-soft.planes[c][i])
		}
	}
}

// shown is the graded picture in eight bits.
func (p *picture) shown() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, p.width, p.height))
	for i := range p.planes[0] {
		for c := range 3 {
			m.Pix[4*i+c] = uint8(max(0, min(255, p.planes[c][i]*255+0.5)))
		}
		m.Pix[4*i+3] = 255
	}
	return m
}

// asPicture keeps the encoded values of a saved photo as fractions of 1.
func asPicture(m image.Image) *picture {
	r := m.Bounds()
	p := newPicture(r.Dx(), r.Dy())
	for y := range p.height {
		for x := range p.width {
			red, green, blue, _ := m.At(r.Min.X+x, r.Min.Y+y).RGBA()
			i := y*p.width + x
			p.planes[0][i], p.planes[1][i], p.planes[2][i] = float32(red)/65535, float32(green)/65535, float32(blue)/65535
		}
	}
	return p
}

// glareIn is the share of a body's pixels that are burnt out to white.
func (p *picture) glareIn(polygon [4][2]float64) float64 {
	burnt, all := 0, 0
	for i := range 60 {
		for j := range 24 {
			t, u := (float64(i)+0.5)/60, 0.1+0.8*(float64(j)+0.5)/24
			var at [2]float64
			for k := range at {
				at[k] = (polygon[0][k]*(1-t)+polygon[1][k]*t)*(1-u) + (polygon[3][k]*(1-t)+polygon[2][k]*t)*u
			}
			x, y := int(at[0]), int(at[1])
			if x < 0 || y < 0 || x >= p.width || y >= p.height {
				continue
			}
			all++
			if n := y*p.width + x; p.planes[0][n] > 0.975 && p.planes[1][n] > 0.975 && p.planes[2][n] > 0.975 {
				burnt++
			}
		}
	}
	return float64(burnt) / float64(max(1, all))
}
