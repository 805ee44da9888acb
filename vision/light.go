package vision

// A light is a guess at how the photo's light and exposure differ from a well
// exposed photo whose white is white.
type light struct {
	lighter   float64 // L* that the photo adds to a colour of middle lightness
	warmer    float64 // b* that it adds to a light colour
	logWeight float64
}

// lights are the guesses that are held against each strip. All rings of a strip
// share one: if red looks orange, brown looks lighter too.
func lights() []light {
	const (
		lightSpread = 9
		warmSpread  = 7
	)
	var out []light
	for _, lighter := range [...]float64{-16, -8, 0, 8, 16} {
		for _, warmer := range [...]float64{-12, -6, 0, 6, 12} {
			p, q := lighter/lightSpread, warmer/warmSpread
			out = append(out, light{lighter, warmer, -0.5 * (p*p + q*q)})
		}
	}
	return out
}

// undo takes the light's share out of a tint. Exposure scales L*, so that
// black stays black; a cast shows more on light colours.
func (l light) undo(t tint) tint {
	k := 1 - l.lighter/60
	return tint{t.l * k, t.a * (1 + (k-1)/2), t.b*(1+(k-1)/2) - l.warmer*min(1, t.l/70)}
}
