package vision

import (
	"math"

	"ringwise/decode"
)

// A guess at a light: exposure in stops, warmth as the logarithm of red over
// green, the cast towards green as the logarithm of green, and the logarithm of
// chroma.
type guess [4]float64

// What a light may be before anything is told of it, and how much it varies from
// body to body and photo to photo once it is known. It may be further off than
// where nothing is known: a person tells what is white where the camera does
// not.
var (
	guessSpread = guess{0.6, 0.25, 0.08, 0.2}
	ownVariance = guess{0.3 * 0.3, 0.05 * 0.05, 0.025 * 0.025, 0.1 * 0.1}
)

func (g guess) light() light {
	k := math.Exp2(-g[0])
	return light{
		gain:  [3]float64{k * math.Exp(-g[1]), k * math.Exp(-g[2]), k * math.Exp(g[1])},
		vivid: math.Exp(g[3]),
	}
}

// whitePaper is what white spots look like: paper, cloth or card that a person
// would call white.
var whitePaper = paint{spot{tint{88, 0, 2}, 0}, spot{tint{9, 2.5, 3}, 0}}

// usualRings is the number of known rings that say as much of colours in this
// light as the network does, which learnt under others. Set by hand on batches of
// scenes.
const usualRings = 48

// setting is the guesses at a light of which something was told, and what the
// paints look like in it.
func (l Light) setting() setting {
	best, variance := l.fit()
	return setting{around(best, variance), newPalette(l.paints(best.light())), usualRings / (usualRings + float64(len(l.rings)))}
}

// fit finds the likeliest light by least squares over what is known, with
// heavy tails, and its variance.
func (l Light) fit() (best guess, variance [4][4]float64) {
	counts := l.counts()
	var normal [][]float64
	for range 20 {
		normal = make([][]float64, len(best))
		right := make([]float64, len(best))
		for i := range best {
			normal[i] = make([]float64, len(best))
			normal[i][i] = 1 / guessSpread[i] / guessSpread[i]
			right[i] = -best[i] * normal[i][i]
		}
		pull := func(seen tint, p paint, trust float64) {
			misfit := func(g guess) [3]float64 {
				d := g.light().undo(fromTint(seen)).minus(p.mean.tint)
				return [3]float64{d.l / p.spread.l, d.a / p.spread.a, d.b / p.spread.b}
			}
			at := misfit(best)
			weight := trust * (tailDegrees + 3) / (tailDegrees + at[0]*at[0] + at[1]*at[1] + at[2]*at[2])
			var slope [4][3]float64
			for i := range best {
				const step = 1e-3
				near := best
				near[i] += step
				for k, m := range misfit(near) {
					slope[i][k] = (m - at[k]) / step
				}
			}
			for i := range best {
				for k := range 3 {
					right[i] -= weight * slope[i][k] * at[k]
					for j := range best {
						normal[i][j] += weight * slope[i][k] * slope[j][k]
					}
				}
			}
		}
		for _, w := range l.whites {
			pull(w, whitePaper, 1/float64(len(l.whites))) // more of them are no other paper
		}
		for _, r := range l.rings {
			pull(r.seen.tint, paints[r.colour], 1/(1+kinship*(counts[r.colour]-1)))
		}
		for i, s := range solve(normal, right) {
			best[i] += math.Max(-0.5*guessSpread[i], math.Min(0.5*guessSpread[i], s))
		}
	}
	for i := range best {
		unit := make([]float64, len(best))
		unit[i] = 1
		copy(variance[i][:], solve(normal, unit))
	}
	return best, variance
}

// kinship is how much of a paint's spread is between bodies rather than between
// the rings of one body.
const kinship = 0.4

// counts is how often each colour is known.
func (l Light) counts() (n [decode.ColourCount]float64) {
	for _, r := range l.rings {
		n[r.colour]++
	}
	return n
}

// around are guesses about the likeliest one, as far apart as its variance and
// that of bodies have it.
func around(best guess, variance [4][4]float64) (out []light) {
	for i := range best {
		variance[i][i] += ownVariance[i]
	}
	root := rootOf(variance)
	for _, p := range [...]float64{-1.6, -0.8, 0, 0.8, 1.6} {
		for _, q := range [...]float64{-1.2, 0, 1.2} {
			for _, r := range [...]float64{-1.2, 0, 1.2} {
				for _, s := range [...]float64{-1.2, 0, 1.2} {
					g := best
					for i := range g {
						for j, z := range [4]float64{p, q, r, s} {
							g[i] += root[i][j] * z
						}
					}
					l := g.light()
					l.logWeight = -0.5 * (p*p + q*q + r*r + s*s)
					out = append(out, l)
				}
			}
		}
	}
	return out
}

// rootOf is the lower triangle whose square is the variance (Cholesky).
func rootOf(variance [4][4]float64) (root [4][4]float64) {
	for i := range root {
		for j := range i + 1 {
			sum := variance[i][j]
			for k := range j {
				sum -= root[i][k] * root[j][k]
			}
			if i == j {
				root[i][i] = math.Sqrt(math.Max(1e-9, sum))
			} else {
				root[i][j] = sum / root[j][j]
			}
		}
	}
	return root
}

// farStray is how far a known ring may be from its paint, over the spread, to
// count for all of it: glare and dirt are no paint.
const farStray = 2.0

// paints are what the paints look like in a light: each is shifted by what the
// rings of its colour have in common, as far as their number bears it out. A
// paint's spread is taken for two normal ones, of which the share kinship is
// between makers and the rest between the rings of one maker; the shift is the
// mean that follows of the first, and what is left of the spread its variance.
func (l Light) paints(known light) [decode.ColourCount]paint {
	out := paints
	counts := l.counts()
	for _, r := range l.rings {
		n, p := counts[r.colour], paints[r.colour]
		share := kinship / (kinship*n + 1 - kinship)
		d := known.undo(fromTint(r.seen.tint)).minus(p.mean.tint)
		stray := func(d, spread float64) float64 {
			return share * math.Max(-farStray*spread, math.Min(farStray*spread, d))
		}
		out[r.colour].mean.tint = out[r.colour].mean.plus(spot{tint: tint{stray(d.l, p.spread.l), stray(d.a, p.spread.a), stray(d.b, p.spread.b)}}).tint
	}
	for c, n := range counts {
		left := 1 - kinship + kinship*(1-kinship)/(kinship*n+1-kinship)
		out[c].spread.tint = out[c].spread.tint.times(math.Sqrt(left))
	}
	return out
}
