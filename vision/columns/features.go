package columns

import (
	"math"
	"slices"
)

// What is told of each column: the mean colour of bands of rows in order of
// place, and of the body's rows in order of lightness, which tells glint and
// shade from paint; then where the column is and how fine the photo is.
const (
	placeBands = 6
	lightBands = 5
	Features   = 3*(placeBands+lightBands+2*sideBands) + 3
)

// Features sums up each column of the strip: as many values as Features says for the
// first column, then for the next.
func (s *Strip) Features() []float32 {
	out := make([]float32, Columns*Features)
	const top = (Rows - bodyRows) / 2
	type row struct {
		rgb   [3]float32
		light float32
	}
	var rows [bodyRows]row
	detail := float32(math.Log2(math.Max(0.1, s.Detail))) / 3
	for c := range Columns {
		f := out[c*Features : c*Features : (c+1)*Features]
		var all [Rows][3]float32
		for r := range Rows {
			all[r] = toLinear(s.Pixels[r][c])
		}
		band := func(from, to int) {
			f = append(f, meanLab(all[from:to])...)
		}
		for i := range sideBands {
			band(i*top/sideBands, (i+1)*top/sideBands)
			band(Rows-(i+1)*top/sideBands, Rows-i*top/sideBands)
		}
		for i := range placeBands {
			band(top+i*bodyRows/placeBands, top+(i+1)*bodyRows/placeBands)
		}
		for i := range rows {
			p := all[top+i]
			rows[i] = row{p, 0.2126*p[0] + 0.7152*p[1] + 0.0722*p[2]}
		}
		slices.SortFunc(rows[:], func(a, b row) int {
			switch {
			case a.light < b.light:
				return -1
			case a.light > b.light:
				return 1
			}
			return 0
		})
		for i := range lightBands {
			from, to := i*bodyRows/lightBands, (i+1)*bodyRows/lightBands
			var band [bodyRows][3]float32
			for j := from; j < to; j++ {
				band[j-from] = rows[j].rgb
			}
			f = append(f, meanLab(band[:to-from])...)
		}
		place := 2*(float32(c)+0.5)/Columns - 1
		f = append(f, place, 1-2*place*place, detail)
	}
	return out
}

// Lab returns the strip's pixels as CIELAB under D65 scaled to about -1 to 1, row
// by row.
func (s *Strip) Lab() []float32 {
	out := make([]float32, 0, 3*Rows*Columns)
	for r := range s.Pixels {
		for _, p := range s.Pixels[r] {
			lab := ScaledLab(p)
			out = append(out, lab[:]...)
		}
	}
	return out
}

// ScaledLab returns an sRGB colour, from 0 to 255, as CIELAB under D65 scaled to
// about -1 to 1.
func ScaledLab(rgb [3]float32) [3]float32 { return scaledLab(toLinear(rgb)) }

// meanLab is the mean of linear RGB colours, as scaled CIELAB.
func meanLab(rgb [][3]float32) []float32 {
	var m [3]float32
	for _, p := range rgb {
		for k := range 3 {
			m[k] += p[k] / float32(len(rgb))
		}
	}
	lab := scaledLab(m)
	return lab[:]
}

func scaledLab(rgb [3]float32) [3]float32 {
	x := labCurve((0.4124564*rgb[0] + 0.3575761*rgb[1] + 0.1804375*rgb[2]) / 0.95047)
	y := labCurve(0.2126729*rgb[0] + 0.7151522*rgb[1] + 0.0721750*rgb[2])
	z := labCurve((0.0193339*rgb[0] + 0.1191920*rgb[1] + 0.9503041*rgb[2]) / 1.08883)
	return [3]float32{(116*y-16)/50 - 1, 500 * (x - y) / 40, 200 * (y - z) / 40}
}

// labCurve is the function f of the CIELAB definition (ISO/CIE 11664-4), between
// tabled values.
func labCurve(t float32) float32 {
	at := min(max(t, 0), 1) * curveSteps
	i := int(at)
	f := at - float32(i)
	return curve[i]*(1-f) + curve[i+1]*f
}

const curveSteps = 4096

var curve = func() (table [curveSteps + 2]float32) {
	for i := range table {
		t := float64(i) / curveSteps
		if t > 216.0/24389 {
			table[i] = float32(math.Cbrt(t))
		} else {
			table[i] = float32((24389.0/27*t + 16) / 116)
		}
	}
	return table
}()

// linear undoes the sRGB curve for 8-bit values (IEC 61966-2-1).
var linear = func() (table [257]float32) {
	for i := range table {
		v := float64(i) / 255
		if v <= 0.04045 {
			table[i] = float32(v / 12.92)
		} else {
			table[i] = float32(math.Pow((v+0.055)/1.055, 2.4))
		}
	}
	return table
}()

func toLinear(rgb [3]float32) (out [3]float32) {
	for k, v := range rgb {
		i := int(v)
		f := v - float32(i)
		out[k] = linear[i]*(1-f) + linear[i+1]*f
	}
	return out
}
