package decode

import (
	"fmt"
	"slices"
	"strings"
)

// Kind is how a resistor is made, as far as it bears on its use. Rings do not
// tell it, but for a double-width first ring: a person has to.
type Kind string

// The kinds. Fusible and flameproof parts are films or wire in a body that
// must be replaced with its like, whatever is inside.
const (
	KindUnknown     Kind = ""
	KindComposition Kind = "composition"
	KindCarbonFilm  Kind = "carbon film"
	KindMetalFilm   Kind = "metal film"
	KindOxide       Kind = "oxide"
	KindWireWound   Kind = "wire-wound"
	KindFusible     Kind = "fusible"
	KindFlameproof  Kind = "flameproof"
)

// Kinds lists the known kinds, in the order in which they are offered.
var Kinds = []Kind{KindComposition, KindCarbonFilm, KindMetalFilm, KindOxide, KindWireWound, KindFusible, KindFlameproof}

// String returns the kind's name, "unknown" for KindUnknown.
func (k Kind) String() string {
	if k == KindUnknown {
		return "unknown"
	}
	return string(k)
}

// Special tells whether a part of this kind must be replaced only with the
// same kind: wire-wound, fusible and flameproof parts.
func (k Kind) Special() bool {
	return k == KindWireWound || k == KindFusible || k == KindFlameproof
}

// ParseKind reads a kind's name in any case, with or without spaces and
// hyphens, such as "metal film" or "wirewound". "unknown" and nothing at all
// are KindUnknown.
func ParseKind(text string) (Kind, error) {
	bare := func(s string) string {
		return strings.NewReplacer(" ", "", "-", "").Replace(strings.ToLower(s))
	}
	word := bare(text)
	if word == "" || word == bare(KindUnknown.String()) {
		return KindUnknown, nil
	}
	i := slices.IndexFunc(Kinds, func(k Kind) bool { return bare(string(k)) == word })
	if i < 0 {
		names := make([]string, len(Kinds))
		for i, k := range Kinds {
			names[i] = string(k)
		}
		return "", fmt.Errorf("%q is no kind of resistor: use one of %s, unknown", shorten(text), strings.Join(names, ", "))
	}
	return Kinds[i], nil
}
