package vision

import (
	"cmp"
	"math"
	"slices"

	"github.com/lucasb-eyer/go-colorful"
)

// A tint is a colour in CIELAB under D65: L 0 to 100, a and b in the same
// units.
type tint struct{ l, a, b float64 }

func (t tint) minus(o tint) tint { return tint{t.l - o.l, t.a - o.a, t.b - o.b} }

func (t tint) plus(o tint) tint { return tint{t.l + o.l, t.a + o.a, t.b + o.b} }

func (t tint) times(k float64) tint { return tint{t.l * k, t.a * k, t.b * k} }

// A spot is what one place along the body looks like: its colour, and how much
// the rows across the body differ in L*, which is more on metal and under glint.
type spot struct {
	tint
	sheen float64
}

func (s spot) minus(o spot) spot { return spot{s.tint.minus(o.tint), s.sheen - o.sheen} }

func (s spot) plus(o spot) spot { return spot{s.tint.plus(o.tint), s.sheen + o.sheen} }

func (s spot) times(k float64) spot { return spot{s.tint.times(k), s.sheen * k} }

// chroma is the distance from grey.
func (t tint) chroma() float64 { return math.Hypot(t.a, t.b) }

// toTint turns linear RGB, red first, 0 to 1, into a tint.
func toTint(rgb [3]float64) tint {
	l, a, b := colorful.XyzToLab(colorful.LinearRgbToXyz(rgb[0], rgb[1], rgb[2]))
	return tint{100 * l, 100 * a, 100 * b}
}

// labOf is an sRGB colour, from 0 to 255 and red first, in CIELAB.
func labOf(p [3]float32) tint { return toTint(toLinear([3]float32{p[2], p[1], p[0]})) }

// fromTint turns a tint into linear RGB, red first, cut to what can be shown.
func fromTint(t tint) [3]float64 {
	r, g, b := colorful.XyzToLinearRgb(colorful.LabToXyz(t.l/100, t.a/100, t.b/100))
	return [3]float64{math.Max(0, r), math.Max(0, g), math.Max(0, b)}
}

// linear undoes the sRGB curve for 8-bit values (IEC 61966-2-1).
var linear = func() (table [256]float64) {
	for i := range table {
		v := float64(i) / 255
		if v <= 0.04045 {
			table[i] = v / 12.92
		} else {
			table[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return table
}()

func toLinear(bgr [3]float32) [3]float64 {
	var out [3]float64
	for k := range 3 {
		v := bgr[2-k]
		i := int(v)
		f := float64(v) - float64(i)
		out[k] = linear[i]*(1-f) + linear[min(i+1, 255)]*f
	}
	return out
}

// profile sums up each column of the strip. In each column the rows are
// sorted by lightness; the lightest fifth may be glint and the darkest third
// lies in shade, and the rest is averaged.
func (s *strip) profile(b bend) *[stripColumns]spot {
	out := new([stripColumns]spot)
	type row struct {
		rgb   [3]float64
		light float64
	}
	var offsets [stripRows]float64
	for r := range offsets {
		offsets[r] = b.shift(r)
	}
	rows := make([]row, 0, stripRows)
	for c := range stripColumns {
		rows = rows[:0]
		for r := range stripRows {
			at := math.Max(0, math.Min(stripColumns-1, float64(c)+offsets[r]))
			i := int(at)
			f := float32(at - float64(i))
			j := min(i+1, stripColumns-1)
			var mixed [3]float32
			for k := range 3 {
				mixed[k] = s.pixels[r][i][k]*(1-f) + s.pixels[r][j][k]*f
			}
			rgb := toLinear(mixed)
			rows = append(rows, row{rgb, 0.2126*rgb[0] + 0.7152*rgb[1] + 0.0722*rgb[2]})
		}
		slices.SortFunc(rows, func(p, q row) int { return cmp.Compare(p.light, q.light) })
		from, to := stripRows*35/100, stripRows*78/100
		var middle [3]float64
		for _, r := range rows[from:to] {
			for k := range 3 {
				middle[k] += r.rgb[k] / float64(to-from)
			}
		}
		out[c] = spot{toTint(middle), lightness(rows[stripRows*95/100].light) - lightness(rows[stripRows*8/100].light)}
	}
	return out
}

// lightness is CIE L* of a relative luminance.
func lightness(y float64) float64 {
	if y > 216.0/24389 {
		return 116*math.Cbrt(y) - 16
	}
	return y * 24389 / 27
}
