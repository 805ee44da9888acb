package vision

import (
	"errors"
	"math"
	"slices"

	"ringwise/decode"
)

// A Light is what a person has told of the light in which photos were taken:
// rings whose colours were confirmed, and white spots. The zero value knows
// nothing. A Light is never changed: what is told of it makes a new one.
//
// Only what a person confirmed may be told of it. A reading taken for granted
// would bear itself out on all the others.
type Light struct {
	rings  []knownRing
	whites []tint
}

// A knownRing is what a ring of known colour looks like in the light.
type knownRing struct {
	seen   spot
	colour decode.Colour
}

// Known tells whether anything was told of the light.
func (l Light) Known() bool { return len(l.rings) > 0 || len(l.whites) > 0 }

// WithPart is the light with a part of which a person confirmed the colours.
// rings are all its rings, from the left end of its strip to the right; those
// with a sure colour count. It returns an error if the part was not found in a
// photo, or if none of the rings lies where one was seen.
func (l Light) WithPart(p Part, rings []decode.KnownRing) (Light, error) {
	if p.trace == nil {
		return l, errors.New("the part was found in no photo, so how its rings look is not known: confirm one that was")
	}
	var best []knownRing
	least := math.Inf(1)
	for _, c := range p.trace.cuts {
		known := c.known(rings)
		if len(known) > len(best) || len(known) == len(best) && c.cost < least {
			best, least = known, c.cost
		}
	}
	if len(best) == 0 {
		return l, errors.New("no ring of known colour lies where one was seen: move the rings to where the strip shows them")
	}
	l.rings = append(slices.Clip(l.rings), best...)
	return l, nil
}

// sameRing is how far the middle of a ring may lie from where it is said to be,
// over its width.
const sameRing = 0.6

// known are those rings of a cutting of which the colour is known.
func (c tracedCut) known(rings []decode.KnownRing) []knownRing {
	var out []knownRing
	for _, k := range rings {
		at := slices.IndexFunc(c.rings, func(r tracedRing) bool {
			return math.Abs(r.centre-k.Centre) <= sameRing*r.width
		})
		if k.Sure && at >= 0 {
			out = append(out, knownRing{c.rings[at].seen, k.Colour})
		}
	}
	return out
}

// And is what two accounts of one light tell together.
func (l Light) And(other Light) Light {
	return Light{append(slices.Clip(l.rings), other.rings...), append(slices.Clip(l.whites), other.whites...)}
}
