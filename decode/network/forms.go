package network

import (
	"regexp"
	"strings"
)

// Forms are the ways in which a value is written and said.
type Forms struct {
	Text    string   `json:"text"`
	RKM     string   `json:"rkm"`     // the letter-and-digit code of IEC 60062
	Rings   []string `json:"rings"`   // names of the usual row, empty if none writes it
	Letters string   `json:"letters"` // of those rings (IEC 60757)
	Spoken  string   `json:"spoken"`  // in words
}

// Forms returns all forms of the value.
func (v Value) Forms() Forms {
	f := Forms{Text: v.String(), RKM: v.RKM(), Rings: []string{}, Spoken: v.Spoken()}
	var letters []string
	for _, ring := range v.Rings() {
		f.Rings = append(f.Rings, ring.String())
		letters = append(letters, ring.Letters())
	}
	f.Letters = strings.Join(letters, " ")
	return f
}

// String is the marking, the rings in letters and names, and the words.
func (f Forms) String() string {
	rings := "no row of rings writes it"
	if len(f.Rings) > 0 {
		rings = "rings " + f.Letters + ", " + strings.Join(f.Rings, " ")
	}
	return "marked " + f.RKM + "; " + rings + "; " + f.Spoken
}

// valueText is a value as String writes it, with room for other spaces.
var valueText = regexp.MustCompile(`(?:^|[^0-9.,A-Za-z])([0-9]+(?:\.[0-9]+)?[ \x{a0}]?[µmkMGT]?[\x{3a9}\x{2126}](?:[ \x{a0}]?±[ \x{a0}]?[0-9.]*[0-9][ \x{a0}]?%)?)`)

// ValuesIn finds the values of resistance that a text names in the way in which
// String writes them, each once, in their order.
func ValuesIn(text string) []Value {
	var list []Value
	seen := map[string]bool{}
	for _, found := range valueText.FindAllStringSubmatch(text, -1) {
		v, err := ParseValue(found[1])
		if err != nil || seen[v.String()] {
			continue
		}
		seen[v.String()] = true
		list = append(list, v)
	}
	return list
}
