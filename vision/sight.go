package vision

import (
	"math"

	"ringwise/decode"
)

// hopeless is how much dearer than the best a cutting is when no likelihood of
// its colours can make up for it.
const hopeless = 50

// sighting says what the rings of a body look like, under every guess at the
// light.
func (l look) sighting() decode.Sighting {
	var seen decode.Sighting
	least := math.Inf(1)
	for _, c := range l.cuts {
		least = min(least, c.cost)
	}
	for _, c := range l.cuts {
		if c.cost > least+hopeless {
			continue
		}
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
		for colour := range decode.Colour(decode.ColourCount) {
			seen.LogLikelihood[colour] = logLikelihood(colour, t)
		}
		cut.Rings = append(cut.Rings, seen)
	}
	return cut
}
