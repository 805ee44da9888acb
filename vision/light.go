package vision

import "math"

// A light is a guess at how the photo's light and exposure differ from a well
// exposed photo whose white is white.
type light struct {
	lighter   float64 // L* that the photo adds to a colour of middle lightness
	warmer    float64 // b* that it adds to a light colour
	vivid     float64 // the factor by which it strengthens chroma; haze and glint weaken it
	logWeight float64
}

// lights are the guesses that are held against each strip. All rings of a strip
// share one: if red looks orange, brown looks lighter too.
func lights() []light {
	const (
		lightSpread = 7
		warmSpread  = 5
		vividSpread = 0.2
	)
	var out []light
	for _, lighter := range [...]float64{-12, -6, 0, 6, 12} {
		for _, warmer := range [...]float64{-8, -3, 3, 8} {
			for _, vivid := range [...]float64{0.72, 0.9, 1.12, 1.4} {
				p, q, r := lighter/lightSpread, warmer/warmSpread, math.Log(vivid)/vividSpread
				out = append(out, light{lighter, warmer, vivid, -0.5 * (p*p + q*q + r*r)})
			}
		}
	}
	return out
}

// undo takes the light's share out of a tint. Exposure scales L*, so that
// black stays black; a cast shows more on light colours.
func (l light) undo(t tint) tint {
	k := 1 - l.lighter/60
	c := (1 + (k-1)/2) / l.vivid
	return tint{t.l * k, t.a * c, (t.b - l.warmer*min(1, t.l/70)) * c}
}
