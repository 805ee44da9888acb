package network

import (
	"fmt"
	"slices"
	"strings"

	"ringwise/decode"
)

// Kinds of parts that matter in a circuit, besides those of decode.
const (
	// KindOrdinary is what a person says of a part that is none of the special
	// kinds, without knowing what it is made of.
	KindOrdinary decode.Kind = "ordinary"
	// KindHighVoltage parts are made for a high voltage between their ends.
	KindHighVoltage decode.Kind = "high-voltage"
	// KindSafety parts keep people safe: across the mains, or from a live part
	// to what can be touched.
	KindSafety decode.Kind = "safety"
)

// specials says why each special kind is no ordinary part. Common practice, no
// source.
var specials = map[decode.Kind]string{
	decode.KindWireWound:  "a wire-wound part is also a coil, which upsets circuits at high frequency, and where one is fitted its power or its surges call for it",
	decode.KindFusible:    "a fusible part is chosen for the overload at which it opens: elsewhere it may open, and nothing else opens in its place as it should",
	decode.KindFlameproof: "a flameproof part is chosen because it may be overloaded and must not burn",
	KindHighVoltage:       "a high-voltage part is chosen for the voltage it holds off",
	KindSafety:            "a safety part is approved for its place and keeps people from shock or fire",
}

// Kinds lists the kinds that ParseKind reads.
func Kinds() []decode.Kind {
	return append(slices.Clone(decode.Kinds), KindHighVoltage, KindSafety, KindOrdinary)
}

// IsSpecial reports whether a part of the kind is replaced with its like only,
// and is no stand-in for an ordinary part.
func IsSpecial(kind decode.Kind) bool { return specials[kind] != "" || kind.Special() }

// ParseKind reads the name of a kind: those of decode, and "ordinary",
// "high-voltage" and "safety".
func ParseKind(text string) (decode.Kind, error) {
	word := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(text)), " ", "-")
	for _, kind := range []decode.Kind{KindOrdinary, KindHighVoltage, KindSafety} {
		if word == string(kind) {
			return kind, nil
		}
	}
	kind, err := decode.ParseKind(text)
	if err != nil {
		names := make([]string, 0, len(decode.Kinds)+3)
		for _, k := range Kinds() {
			names = append(names, string(k))
		}
		return "", fmt.Errorf("%q is no kind of resistor: use one of %s, unknown", text, strings.Join(names, ", "))
	}
	return kind, nil
}
