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
	// KindHighVoltage parts are made for a high voltage between their ends.
	KindHighVoltage Kind = "high-voltage"
	// KindSafety parts keep people safe: across the mains, or from a live part
	// to what can be touched.
	KindSafety Kind = "safety"
	// KindOrdinary is what a person says of a part that is none of the special
	// kinds, without knowing what it is made of.
	KindOrdinary Kind = "ordinary"
)

// Kinds lists the known kinds, in the order in which they are offered.
var Kinds = []Kind{
	KindComposition, KindCarbonFilm, KindMetalFilm, KindOxide, KindWireWound,
	KindFusible, KindFlameproof, KindHighVoltage, KindSafety, KindOrdinary,
}

// String returns the kind's name, "unknown" for KindUnknown.
func (k Kind) String() string {
	if k == KindUnknown {
		return "unknown"
	}
	return string(k)
}

// specials says why each special kind is no ordinary part. Common practice, no
// source.
var specials = map[Kind]string{
	KindWireWound:   "a wire-wound part is also a coil, which upsets circuits at high frequency, and where one is fitted its power or its surges call for it",
	KindFusible:     "a fusible part is chosen for the overload at which it opens: elsewhere it may open, and nothing else opens in its place as it should",
	KindFlameproof:  "a flameproof part is chosen because it may be overloaded and must not burn",
	KindHighVoltage: "a high-voltage part is chosen for the voltage it holds off",
	KindSafety:      "a safety part is approved for its place and keeps people from shock or fire",
}

// Special tells whether a part of this kind is replaced with its like only, and
// is no stand-in for an ordinary part.
func (k Kind) Special() bool { return specials[k] != "" }

// WhySpecial says why a special kind is no ordinary part, in a clause without a
// full stop; empty for the others.
func (k Kind) WhySpecial() string { return specials[k] }

// Caution is what a special kind warns of, empty for the others.
func (k Kind) Caution() string {
	switch {
	case k == KindHighVoltage:
		return CautionHighVoltage
	case k.Special():
		return CautionSpecialPart
	}
	return ""
}

// ParseKind reads a kind's name in any case, with or without spaces and
// hyphens, such as "metal film" or "wirewound". "unknown" and nothing at all
// are KindUnknown. The error names all kinds.
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
