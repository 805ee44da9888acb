package main

import (
	"math"
	"math/rand/v2"

	"ringwise/vision/columns"
)

// A rod lies across the strip, as the lead of another part may.
type rod struct {
	a, b, offset, half float64
	colour             [3]float32
	sheen              float32
}

func newRod(chance *rand.Rand) rod {
	angle := chance.NormFloat64() * 0.6
	light := float32(70 + 150*chance.Float64())
	r := rod{a: math.Cos(angle), b: math.Sin(angle), offset: columns.Columns / 2 * (2*chance.Float64() - 1) * 0.8,
		half: 0.8 + 2.2*chance.Float64(), sheen: 80 * chance.Float32()}
	for k := range r.colour {
		r.colour[k] = light * float32(1+0.05*chance.NormFloat64())
	}
	if chance.Float64() < 0.1 {
		r.colour = [3]float32{light, 0.62 * light, 0.4 * light}
	}
	return r
}

func (r rod) cross(s *columns.Strip) {
	for row := range s.Pixels {
		for c := range s.Pixels[row] {
			d := (r.a*(float64(c)-columns.Columns/2) + r.b*(float64(row)-columns.Rows/2) - r.offset) / r.half
			share := float32(math.Max(0, math.Min(1, (1-math.Abs(d))*r.half)))
			if share == 0 {
				continue
			}
			shine := r.sheen * float32(math.Exp(-8*(d-0.3)*(d-0.3)))
			for k := range 3 {
				s.Pixels[row][c][k] += share * (r.colour[k] + shine - s.Pixels[row][c][k])
			}
		}
	}
}

// rowsPerColumn is how many rows of a strip are as wide as a column, for a body
// of usual shape.
const rowsPerColumn = 0.6

// coarsen makes the strip one of a smaller body: of so many photo pixels per
// column.
func coarsen(s *columns.Strip, detail float64, chance *rand.Rand) {
	along := 1 / detail
	over := along * rowsPerColumn
	s.Detail = detail
	soft := 0.25 + 0.45*chance.Float64() // of a pixel
	grain := float32(3 * math.Max(0, chance.NormFloat64()))
	line := shrink(columns.Columns, along, soft, chance.Float64())
	rows := shrink(columns.Rows, over, soft, chance.Float64())
	small := make([][][3]float32, len(rows.kernels))
	for i, kr := range rows.kernels {
		var sum [columns.Columns][3]float32
		for _, w := range kr {
			for c := range sum {
				for k := range 3 {
					sum[c][k] += w.share * s.Pixels[w.at][c][k]
				}
			}
		}
		small[i] = make([][3]float32, len(line.kernels))
		for j, kc := range line.kernels {
			p := &small[i][j]
			for _, w := range kc {
				for k := range 3 {
					p[k] += w.share * sum[w.at][k]
				}
			}
			common := grain * float32(chance.NormFloat64())
			for k := range 3 {
				p[k] = max(0, min(255, p[k]+common+0.5*grain*float32(chance.NormFloat64())))
			}
		}
	}
	for r := range s.Pixels {
		i, u := rows.back(r)
		for c := range s.Pixels[r] {
			j, v := line.back(c)
			for k := range 3 {
				s.Pixels[r][c][k] = (1-u)*((1-v)*small[i][j][k]+v*small[i][j+1][k]) + u*((1-v)*small[i+1][j][k]+v*small[i+1][j+1][k])
			}
		}
	}
}

// A weight is the share of a place in a sum.
type weight struct {
	at    int
	share float32
}

// A shrinking is how many places are made into fewer.
type shrinking struct {
	kernels [][]weight
	pitch   float64
	phase   float64
}

// shrink makes places so wide apart into one, softened by so much of that.
func shrink(places int, pitch, soft, phase float64) shrinking {
	s := shrinking{pitch: pitch, phase: phase}
	sigma := math.Max(0.3, pitch*soft)
	for i := 0; (float64(i)-1-phase)*pitch < float64(places)+pitch; i++ {
		middle := (float64(i)-phase)*pitch - 0.5
		var k []weight
		sum := float32(0)
		for at := int(math.Floor(middle - 2.5*sigma)); float64(at) <= middle+2.5*sigma+1; at++ {
			d := (float64(at) - middle) / sigma
			w := weight{min(max(at, 0), places-1), float32(math.Exp(-d * d / 2))}
			k = append(k, w)
			sum += w.share
		}
		for j := range k {
			k[j].share /= sum
		}
		s.kernels = append(s.kernels, k)
	}
	return s
}

// back is between which two of the fewer places one of the many lies, and how
// far along.
func (s shrinking) back(at int) (int, float32) {
	t := (float64(at)+0.5)/s.pitch + s.phase
	i := min(int(t), len(s.kernels)-2)
	return i, float32(t - float64(i))
}
