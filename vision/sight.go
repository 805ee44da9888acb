package vision

import (
	"math"

	"gocv.io/x/gocv"

	"ringwise/decode"
)

// sight straightens one body and says what its rings look like.
func sight(photo gocv.Mat, b box) (decode.Sighting, bool) {
	strip, ok := straighten(photo, b)
	if !ok {
		return decode.Sighting{}, false
	}
	profile := strip.profile(strip.straightenRings())
	var tints [stripColumns]tint
	for i, c := range profile {
		tints[i] = toTint(c.rgb)
	}
	soft := int(math.Round(math.Min(5, math.Max(1, 1.1/strip.detail))))
	var seen decode.Sighting
	for _, body := range bodyTints(&tints) {
		for _, c := range cuts(&tints, body, soft) {
			for _, l := range lights() {
				seen.Cuts = append(seen.Cuts, c.under(l))
			}
		}
	}
	return seen, true
}

// under gives a cutting's rings the likelihoods of their colours under a light.
func (c cutting) under(l light) decode.Cut {
	cut := decode.Cut{LogWeight: l.logWeight - 0.5*c.cost}
	for _, r := range c.rings {
		seen := decode.SeenRing{
			Centre: (float64(r.start+r.end)/stripColumns-1)/2*stripAlong + 0.5,
			Width:  float64(r.end-r.start) / stripColumns * stripAlong,
		}
		t := l.undo(r.tint)
		for colour := range paints {
			seen.LogLikelihood[colour] = paints[colour].logLikelihood(t, 2)
		}
		cut.Rings = append(cut.Rings, seen)
	}
	return cut
}
