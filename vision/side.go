package vision

import (
	"cmp"
	"math"
	"slices"
)

// sideRows are the rows of the strip that lie to either side of where a lead
// would run.
var sideRows = [...]int{4, 5, 6, 7, stripRows - 8, stripRows - 7, stripRows - 6, stripRows - 5}

// sides holds the tints of a strip to either side of its axis. Beyond the ends
// of a body they show the ground, whatever the lead looks like.
type sides [stripColumns][len(sideRows)]tint

func (s *strip) sides(b bend) *sides {
	out := new(sides)
	for i, r := range sideRows {
		shift := int(math.Round(b.shift(r)))
		for c := range stripColumns {
			out[c][i] = toTint(toLinear(s.pixels[r][min(max(c+shift, 0), stripColumns-1)]))
		}
	}
	return out
}

// discord is how much the two sides of the axis differ in hue, on average
// between two columns. It is small on one body and large where two bodies or a
// body and its surroundings share the strip.
func (s *sides) discord(left, right int) float64 {
	const half = len(sideRows) / 2
	sum := 0.0
	for c := left; c < right; c++ {
		var top, bottom tint
		for i := range half {
			top = top.plus(s[c][i].times(1 / float64(half)))
			bottom = bottom.plus(s[c][half+i].times(1 / float64(half)))
		}
		sum += top.minus(bottom).chroma()
	}
	return sum / float64(right-left)
}

// solid is, for each column, the share of its sides that is body or ring rather
// than ground, given the tints of both. The ground may lie in shadow.
func (s *sides) solid(body tint, ground []tint) *[stripColumns]float64 {
	out := new([stripColumns]float64)
	for c := range s {
		out[c] = s.solidAt(c, body, ground)
	}
	return out
}

// solidAt is solid of one column.
func (s *sides) solidAt(column int, body tint, ground []tint) float64 {
	const clear = 12 // Lab units from the ground at which anything stands out
	sum := 0.0
	for _, t := range s[column] {
		far := math.Inf(1)
		for _, g := range ground {
			far = min(far, fromGround(t, g))
		}
		if far > clear || bodily(t.minus(body)) < far {
			sum += 1.0 / float64(len(sideRows))
		}
	}
	return sum
}

// bodily is a distance in which lightness counts for less, since bodies are
// rounded.
func bodily(d tint) float64 {
	return math.Sqrt(0.35*d.l*d.l + d.a*d.a + d.b*d.b)
}

// Shadow on the ground: the least share of the light that is left, and the price
// in Lab units of being all dark.
const (
	darkest     = 0.5
	shadowPrice = 6
)

// fromGround is how far a tint lies from the ground, lit or in shadow.
func fromGround(t, ground tint) float64 {
	lit := math.Max(darkest, math.Min(1.03, t.l/math.Max(1, ground.l)))
	d := t.minus(ground.times(lit))
	return math.Sqrt(d.l*d.l+d.a*d.a+d.b*d.b) + shadowPrice*math.Max(0, 1-lit)
}

// groundBeside returns tints of the ground to both sides of a body, from dark
// to light, so that grain and grid lines are among them. Where much beside it
// stands out from the ground, other bodies lie there and are left out.
func groundBeside(v view, stand plane, b box) []tint {
	return groundAlong(v, stand, b, -groundReach, groundReach)
}

// groundReach is how far along a body its ground is looked for, in half lengths from
// its middle.
const groundReach = 1.3

// groundAlong is groundBeside from one place along the body to another, in half
// lengths from its middle.
func groundAlong(v view, stand plane, b box, from, to float64) []tint {
	var seen, plain []tint
	for _, across := range [...]float64{-2.3, -2, -1.7, 1.7, 2, 2.3} {
		for i := range 24 {
			along := from + (to-from)*(float64(i)+0.5)/24
			x, y := b.at(along*b.half, across*b.rise)
			u, t := int(x), int(y)
			if u < 0 || t < 0 || u >= v.width || t >= v.height {
				continue
			}
			seen = append(seen, v.tint(u, t))
			if stand.pixels[t*stand.width+u] < standThreshold {
				plain = append(plain, v.tint(u, t))
			}
		}
	}
	if crowded := len(seen) - len(plain); crowded*5 > len(seen) && len(plain) >= 8 {
		seen = plain
	}
	slices.SortFunc(seen, func(p, q tint) int { return cmp.Compare(p.l, q.l) })
	if len(seen) < 8 {
		return seen
	}
	n := len(seen)
	return []tint{seen[n/32], seen[n/5], seen[n/2], seen[n*4/5], seen[n-1-n/32]}
}

// withoutShadow narrows a box whose outline took in the body's own shadow: rows
// of the strip that look like the ground in shadow are cut off. It returns false
// where there are none, or where the body looks like the ground itself.
func (s *strip) withoutShadow(b box, ground []tint) (box, bool) {
	const clear = 9 // Lab units from the ground at which a cell is none
	var share [stripRows]float64
	for r := range share {
		seen := 0.0
		for c := stripColumns / 5; c < stripColumns*4/5; c += 2 {
			t := toTint(toLinear(s.pixels[r][c]))
			far := math.Inf(1)
			for _, g := range ground {
				far = min(far, fromGround(t, g))
			}
			seen++
			if far > clear {
				share[r]++
			}
		}
		share[r] /= seen
	}
	const middle = stripRows / 2
	core := (share[middle-2] + share[middle-1] + share[middle] + share[middle+1]) / 4
	if core < 0.6 {
		return b, false
	}
	top, bottom := middle-1, middle
	for top > 0 && share[top-1] > 0.5*core {
		top--
	}
	for bottom < stripRows-1 && share[bottom+1] > 0.5*core {
		bottom++
	}
	if top == 0 && bottom == stripRows-1 || bottom-top < stripRows/3 {
		return b, false
	}
	// The outermost rows of the strip lie within the body's edges; what is cut
	// off at one side only moves the edge there.
	from, to := -b.rise, b.rise
	row := 2 * stripAcross * b.rise / stripRows
	if top > 0 {
		from = (float64(top) - stripRows/2) * row
	}
	if bottom < stripRows-1 {
		to = (float64(bottom+1) - stripRows/2) * row
	}
	b.x, b.y = b.at(0, (from+to)/2)
	b.rise = (to - from) / 2
	return b, true
}
