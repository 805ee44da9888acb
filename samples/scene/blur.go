package main

import (
	"math"
	"slices"
)

// blurRows blurs each row by what the lens does there.
func (p *picture) blurRows(l lens) {
	sigmas := make([]float64, p.height)
	most := 0.0
	for y := range sigmas {
		sigmas[y] = l.blurAt(float64(y) / float64(p.height))
		most = max(most, sigmas[y])
	}
	if most < 0.3 {
		return
	}
	if most-slices.Min(sigmas) < 0.3 {
		*p = *p.blurred(most)
		return
	}
	steps := []float64{0}
	for sigma := 0.5; sigma < most*1.4; sigma *= 1.5 {
		steps = append(steps, sigma)
	}
	stack := []*picture{p}
	for _, sigma := range steps[1:] {
		stack = append(stack, p.blurred(sigma))
	}
	out := newPicture(p.width, p.height)
	for y := range p.height {
		i := 0
		for i < len(steps)-2 && steps[i+1] < sigmas[y] {
			i++
		}
		t := float32(max(0, min(1, (sigmas[y]-steps[i])/(steps[i+1]-steps[i]))))
		for c := range 3 {
			for x := y * p.width; x < (y+1)*p.width; x++ {
				a, b := stack[i].planes[c][x], stack[i+1].planes[c][x]
				out.planes[c][x] = a + (b-a)*t
			}
		}
	}
	*p = *out
}

// blurred is the picture under a Gaussian blur.
func (p *picture) blurred(sigma float64) *picture {
	out := &picture{width: p.width, height: p.height}
	for c := range 3 {
		out.planes[c] = blurPlane(p.planes[c], p.width, p.height, sigma)
	}
	return out
}

func blurPlane(plane []float32, width, height int, sigma float64) []float32 {
	reach := int(math.Ceil(2.6 * sigma))
	kernel := make([]float32, 2*reach+1)
	sum := float32(0)
	for i := range kernel {
		x := float64(i - reach)
		kernel[i] = float32(math.Exp(-x * x / (2 * sigma * sigma)))
		sum += kernel[i]
	}
	across := make([]float32, len(plane))
	for y := range height {
		row := plane[y*width : (y+1)*width]
		for x := range width {
			var v float32
			for i, k := range kernel {
				v += k * row[max(0, min(width-1, x+i-reach))]
			}
			across[y*width+x] = v / sum
		}
	}
	out := make([]float32, len(plane))
	for y := range height {
		to := out[y*width : (y+1)*width]
		for i, k := range kernel {
			from := across[max(0, min(height-1, y+i-reach))*width:]
			k /= sum
			for x := range to {
				to[x] += k * from[x]
			}
		}
	}
	return out
}

// smear averages along a line, as a shaking hand does.
func (p *picture) smear(length, angle float64) {
	sin, cos := math.Sincos(angle)
	steps := int(math.Ceil(length)) + 1
	for c := range 3 {
		out := make([]float32, len(p.planes[c]))
		for i := range steps {
			t := length * (float64(i)/float64(steps-1) - 0.5)
			dx, dy := int(math.Round(t*cos)), int(math.Round(t*sin))
			for y := range p.height {
				from := p.planes[c][max(0, min(p.height-1, y+dy))*p.width:]
				for x := range p.width {
					out[y*p.width+x] += from[max(0, min(p.width-1, x+dx))] / float32(steps)
				}
			}
		}
		p.planes[c] = out
	}
}
