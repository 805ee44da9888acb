package vision

import "ringwise/decode"

// sighting says what the rings of a body look like, under every guess at the
// light.
func (l look) sighting() decode.Sighting {
	var seen decode.Sighting
	for _, c := range l.cuts {
		for _, light := range lights() {
			seen.Cuts = append(seen.Cuts, l.under(light, c))
		}
	}
	return seen
}

// under gives a cutting's rings the likelihoods of their colours under a light.
func (l look) under(at light, c cutting) decode.Cut {
	cut := decode.Cut{LogWeight: at.logWeight - 0.5*c.cost}
	for _, r := range c.rings {
		seen := decode.SeenRing{
			Centre: (float64(r.start+r.end)/2 - float64(l.left)) / float64(l.right-l.left),
			Width:  float64(r.end-r.start) / float64(l.right-l.left),
		}
		t := spot{at.undo(r.seen.tint), r.seen.sheen}
		for colour := range paints {
			seen.LogLikelihood[colour] = paints[colour].logLikelihood(t, 1.5)
		}
		cut.Rings = append(cut.Rings, seen)
	}
	return cut
}
