package vision

import "math"

// A light is a guess at how the photo differs from a well exposed one whose
// white is white.
type light struct {
	gain      [3]float64 // factors on linear red, green and blue that undo it
	vivid     float64    // the factor by which glint and haze weaken chroma
	logWeight float64    // logarithm of how likely the guess is beforehand
}

// lights are the guesses that are held against each photo: exposure in stops,
// warmth as the logarithm of red over green, and chroma. All rings of a photo
// share one: if red looks orange, brown looks lighter too.
var lights = func() (out []light) {
	const (
		stopSpread  = 0.5
		warmSpread  = 0.13
		vividSpread = 0.2
	)
	for _, stops := range [...]float64{-0.9, -0.45, 0, 0.45, 0.9} {
		for _, warm := range [...]float64{-0.3, -0.15, 0, 0.15, 0.3} {
			for _, vivid := range [...]float64{0.72, 0.9, 1.12, 1.4} {
				p, q, r := stops/stopSpread, warm/warmSpread, math.Log(vivid)/vividSpread
				k := math.Exp2(-stops)
				out = append(out, light{
					[3]float64{k * math.Exp(-warm), k, k * math.Exp(warm)},
					vivid, -0.5 * (p*p + q*q + r*r),
				})
			}
		}
	}
	return out
}()

// unknown is what is taken for granted of the light of a photo of which nothing
// is known.
var unknown = setting{lights, newPalette(paints), 1}

// A setting is the guesses at the light that are held against a photo, and what
// the paints look like once a guess is undone.
type setting struct {
	lights []light
	*palette
	others float64 // how much is believed, from 0 to 1, of what was learnt under other lights
}

// undo takes the light's share out of a colour in linear RGB.
func (l light) undo(rgb [3]float64) tint {
	t := toTint([3]float64{rgb[0] * l.gain[0], rgb[1] * l.gain[1], rgb[2] * l.gain[2]})
	return tint{t.l, t.a / l.vivid, t.b / l.vivid}
}
