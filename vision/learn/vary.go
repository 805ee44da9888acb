package main

import (
	"math"
	"math/rand/v2"

	"ringwise/vision/columns"
)

// vary is the example under another light: another exposure, white, contrast
// and chroma, a shadow across it, noise, smear, or the other way round; a share of them
// with a rod lying across.
func (e *example) vary(chance *rand.Rand, rods float64) (*columns.Strip, *target) {
	const rows, width = columns.Rows, columns.Columns
	s := &columns.Strip{Detail: e.detail * math.Exp(0.1*chance.NormFloat64())}
	truth := e.target
	swap, mirror := chance.Float64() < 0.5, chance.Float64() < 0.5
	vivid := float32(math.Exp(0.18 * chance.NormFloat64()))
	shade := newShade(chance)
	curves := lightCurves(chance)
	warp := newWarp(chance)
	ground := tinted(chance, 0.4, 0.22)
	thin := e.thin(chance)
	coat := e.repaint(chance, thin, &truth)
	var moved target
	for c := range moved.shares {
		at := warp[c]
		if swap {
			at = warp[width-1-c]
		}
		moved.shares[c] = truth.shares[at]
		upper, lower := truth.edges[at][0], truth.edges[at][1]
		if mirror {
			upper, lower = -lower, -upper
		}
		moved.edges[c] = [columns.Sides]float32{upper, lower}
		moved.over[c] = truth.over[at]
	}
	finish := e.finish(chance, thin, &truth)
	noise := float32(4 * math.Max(0, chance.NormFloat64()))
	for r := range rows {
		row := r
		if mirror {
			row = rows - 1 - r
		}
		from := &e.pixels[row]
		for c := range width {
			at := warp[c]
			if swap {
				at = warp[width-1-c]
			}
			p := from[at]
			if finish[at] != nil {
				p = finish[at][row]
			}
			q := &s.Pixels[r][c]
			body := e.inside(row, at) * (1 - e.target.shares[at][columns.Outside])
			for k := range 3 {
				q[k] = curves[k][p[k]] * (body*coat[at][k] + (1-body)*ground[k])
			}
			middle := grey(*q)
			dark := shade.at(r, c)
			for k := range 3 {
				q[k] = (middle + vivid*(q[k]-middle)) * dark[k]
			}
		}
	}
	if chance.Float64() < rods {
		newRod(chance).cross(s, &moved)
	}
	if chance.Float64() < 0.25 {
		smear(s, 1+chance.IntN(3))
	}
	if chance.Float64() < 0.3 {
		smearColour(s, 1+chance.IntN(4))
	}
	if chance.Float64() < 0.25 {
		sharpen(s, 1+chance.IntN(2), 0.3+0.7*chance.Float32())
	}
	if least := 0.36; s.Detail > 1.2*least && chance.Float64() < 0.35 {
		coarsen(s, least*math.Pow(min(1.6, s.Detail/1.1)/least, chance.Float64()), chance)
		noise /= 3
	}
	for r := range rows {
		for c := range width {
			common := noise * float32(chance.NormFloat64())
			for k := range 3 {
				v := s.Pixels[r][c][k] + common
				s.Pixels[r][c][k] = max(0, min(255, v))
			}
		}
	}
	return s, &moved
}

// lightCurves is another exposure, white and contrast: what each sRGB value of
// each channel becomes.
func lightCurves(chance *rand.Rand) (curves [3][256]float32) {
	stops := 0.35 * chance.NormFloat64()
	warm := 0.13 * chance.NormFloat64()
	green := 0.04 * chance.NormFloat64()
	gamma := math.Exp(0.1 * chance.NormFloat64())
	gain := [3]float64{math.Exp2(stops) * math.Exp(warm), math.Exp2(stops) * math.Exp(green), math.Exp2(stops) * math.Exp(-warm)}
	for k := range curves {
		for v := range curves[k] {
			light := math.Pow(float64(v)/255, 2.2) * gain[k]
			curves[k][v] = 255 * float32(math.Pow(light, gamma/2.2))
		}
	}
	return curves
}

// A shade darkens one side of a line across the strip.
type shade struct {
	a, b, offset float64
	soft         float64
	dark         [3]float32
}

func newShade(chance *rand.Rand) shade {
	angle := 2 * math.Pi * chance.Float64()
	s := shade{a: math.Cos(angle) / columns.Columns * 2, b: math.Sin(angle) / columns.Rows * 2,
		offset: 1.2*chance.Float64() - 0.6, soft: 0.03 + 0.5*chance.Float64()}
	depth := 1.0
	if chance.Float64() < 0.35 {
		depth = 0.4 + 0.55*chance.Float64()
	}
	cool := 0.04 * chance.NormFloat64()
	for k := range s.dark {
		s.dark[k] = float32(math.Min(1.05, math.Pow(depth, 1/2.2)*(1+cool*float64(k-1))))
	}
	if depth == 1 {
		s.dark = [3]float32{1, 1, 1}
	}
	return s
}

// at is the share of the sRGB values left at a place.
func (s shade) at(row, column int) [3]float32 {
	d := s.a*(float64(column)-columns.Columns/2) + s.b*(float64(row)-columns.Rows/2) - s.offset
	t := float32(math.Max(0, math.Min(1, d/s.soft+0.5)))
	var out [3]float32
	for k := range out {
		out[k] = 1 - t*(1-s.dark[k])
	}
	return out
}

// smear averages a few columns, as motion or wrong focus does.
func smear(s *columns.Strip, reach int) {
	for r := range s.Pixels {
		from := s.Pixels[r]
		for c := range from {
			var sum [3]float32
			n := float32(0)
			for i := max(0, c-reach); i <= min(columns.Columns-1, c+reach); i++ {
				for k := range 3 {
					sum[k] += from[i][k]
				}
				n++
			}
			for k := range 3 {
				s.Pixels[r][c][k] = sum[k] / n
			}
		}
	}
}

// smearColour averages colour, not lightness, along the strip, as cameras and
// JPEG do.
func smearColour(s *columns.Strip, reach int) {
	for r := range s.Pixels {
		from := s.Pixels[r]
		for c := range from {
			var sum [3]float32
			n := float32(0)
			for i := max(0, c-reach); i <= min(columns.Columns-1, c+reach); i++ {
				for k := range 3 {
					sum[k] += from[i][k] - grey(from[i])
				}
				n++
			}
			for k := range 3 {
				s.Pixels[r][c][k] = grey(from[c]) + sum[k]/n
			}
		}
	}
}

// sharpen adds what smearing takes away, as cameras do.
func sharpen(s *columns.Strip, reach int, much float32) {
	blurred := *s
	smear(&blurred, reach)
	for r := range s.Pixels {
		for c := range s.Pixels[r] {
			for k := range 3 {
				s.Pixels[r][c][k] += much * (s.Pixels[r][c][k] - blurred.Pixels[r][c][k])
			}
		}
	}
}

func grey(p [3]float32) float32 { return 0.3*p[0] + 0.59*p[1] + 0.11*p[2] }

// newWarp draws another spacing: for each column, the one that it shows.
func newWarp(chance *rand.Rand) (out [columns.Columns]int) {
	waves := 0.5 + 1.5*chance.Float64()
	phase := 2 * math.Pi * chance.Float64()
	steepest := 0.0
	if chance.Float64() < 0.6 {
		steepest = 0.5 * chance.Float64()
	}
	turn := 2 * math.Pi * waves / columns.Columns
	for c := range out {
		at := float64(c) + steepest/turn*(math.Sin(turn*float64(c)+phase)-math.Sin(turn*columns.Columns/2+phase))
		out[c] = min(max(int(math.Round(at)), 0), columns.Columns-1)
	}
	return out
}
