package main

import (
	"math"
	"math/rand/v2"

	"ringwise/vision/columns"
)

// A rod lies across the strip, as the lead of another part or a wire may. Its shadow
// lies beside it.
type rod struct {
	a, b, offset, half float64
	colour             [3]float32
	sheen              float32
	shadow             float64 // how far off, in half widths; on either side
	dark               float32 // the share of the light that the shadow takes away
	aside              bool    // only the shadow lies on the strip
}

func newRod(chance *rand.Rand) rod {
	angle := chance.NormFloat64() * 0.6
	light := float32(70 + 150*chance.Float64())
	r := rod{a: math.Cos(angle), b: math.Sin(angle), offset: columns.Columns / 2 * (2*chance.Float64() - 1) * 0.8,
		half: 0.8 * math.Pow(10, chance.Float64()), sheen: 80 * chance.Float32(),
		shadow: 3 * chance.NormFloat64(), dark: 0.5 * chance.Float32()}
	for k := range r.colour {
		r.colour[k] = light * float32(1+0.05*chance.NormFloat64())
	}
	switch kind := chance.Float64(); {
	case kind < 0.1: // copper
		r.colour = [3]float32{light, 0.62 * light, 0.4 * light}
	case kind < 0.2: // a sleeve or a wire's insulation
		for k := range r.colour {
			r.colour[k] = 230 * chance.Float32()
		}
		r.sheen /= 2
	case kind < 0.35: // its shadow alone
		r.aside = true
	}
	return r
}

// coveredFrom is the share of a column from which on it counts as covered.
const coveredFrom = 0.2

// cross lays the rod over what the strip shows in truth.
func (r rod) cross(s *columns.Strip, truth *target) {
	for c := range columns.Columns {
		over, all := 0.0, 0.0
		for row := range columns.Rows {
			d := (r.a*(float64(c)-columns.Columns/2) + r.b*(float64(row)-columns.Rows/2) - r.offset) / r.half
			within := func(d float64) float32 { return float32(math.Max(0, math.Min(1, (1-math.Abs(d))*r.half))) }
			p := &s.Pixels[row][c]
			lit := 1 - r.dark*within(d-r.shadow)
			share := float32(0)
			if !r.aside {
				share = within(d)
			}
			shine := r.sheen * float32(math.Exp(-8*(d-0.3)*(d-0.3)))
			for k := range 3 {
				p[k] = lit*p[k]*(1-share) + share*(r.colour[k]+shine)
			}
			if at := 2*(float32(row)+0.5)/columns.Rows - 1; at > truth.edges[c][0] && at < truth.edges[c][1] {
				over += float64(share)
				all++
			}
		}
		if over > coveredFrom*all {
			truth.over[c] = 1
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
