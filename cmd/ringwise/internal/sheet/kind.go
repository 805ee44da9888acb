package sheet

import (
	"fmt"
	"strings"
)

// Kind is a kind of question.
type Kind string

// The kinds of question.
const (
	ToValue    Kind = "value"           // from rings to the value
	ToRings    Kind = "rings"           // from a value to the rings
	StandIn    Kind = "stand-in"        // which part may take a wanted value's place
	Pair       Kind = "series-parallel" // two parts in series and in parallel
	Divider    Kind = "divider"         // the voltage between two parts
	Power      Kind = "power"           // the power in a part, and will it get hot
	Impossible Kind = "impossible"      // which row of rings has no meaning
)

// Kinds lists the kinds in the order in which they are taught.
var Kinds = []Kind{ToValue, ToRings, StandIn, Pair, Divider, Power, Impossible}

// ParseKinds reads names of kinds parted by commas; "all" is all of them.
func ParseKinds(text string) ([]Kind, error) {
	if strings.TrimSpace(text) == "all" {
		return Kinds, nil
	}
	var list []Kind
	for word := range strings.SplitSeq(text, ",") {
		word = strings.TrimSpace(word)
		known := false
		for _, k := range Kinds {
			if string(k) == word {
				list, known = append(list, k), true
			}
		}
		if !known {
			return nil, fmt.Errorf("there is no kind of question %q: use some of %s, or all", word, kindNames())
		}
	}
	return list, nil
}

func kindNames() string {
	names := make([]string, len(Kinds))
	for i, k := range Kinds {
		names[i] = string(k)
	}
	return strings.Join(names, ", ")
}
