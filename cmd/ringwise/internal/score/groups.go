package score

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// A Group is a set of labelled parts that share a circumstance.
type Group struct {
	By, Name string
	Parts    []Labelled
}

// circumstances are the ways in which labelled parts are told apart. Each
// answers with a name that sorts in a sensible order, empty where the truth
// does not say.
var circumstances = []struct {
	by   string
	name func(Labelled) string
}{
	{"conditions", func(l Labelled) string {
		if l.clean() {
			return "clean"
		}
		return "other"
	}},
	{"body length, px", func(l Labelled) string {
		return step(l.Truth.Body.Length, 40, 60, 80, 120, 160, 240, 400, 800)
	}},
	{"lamp, K", func(l Labelled) string {
		kelvin, ok := l.Photo.Scene["illuminant_K"].(float64)
		if !ok {
			return ""
		}
		return step(kelvin, 2500, 3500, 4500, 5500, 6500, 7500, 9000)
	}},
	{"ground", func(l Labelled) string { return l.Photo.text("ground") }},
	{"light", func(l Labelled) string { return l.Photo.text("light") }},
	{"kind", func(l Labelled) string { return l.Photo.text("kind") }},
	{"style", func(l Labelled) string { return l.Photo.text("style") }},
	{"arrangement", func(l Labelled) string { return l.Photo.text("arrangement") }},
	{"blur, px", func(l Labelled) string { return stepOf(l.Truth.BlurPx, 0.5, 1, 1.5, 2, 3, 5) }},
	{"glare, share", func(l Labelled) string { return stepOf(l.Truth.Glare, 0.01, 0.05, 0.1, 0.2) }},
	{"rings", func(l Labelled) string { return fmt.Sprint(len(l.Truth.Bands)) }},
	{"body colour", func(l Labelled) string { return l.Truth.BodyColour }},
	{"body shape", func(l Labelled) string { return l.Truth.Shape }},
	{"ring spacing", func(l Labelled) string { return l.Truth.Spacing }},
	{"oddity", func(l Labelled) string { return l.Truth.Oddity }},
}

// Groups tells the labelled parts apart by each circumstance that the truth
// gives.
func (c *Card) Groups() []Group {
	var groups []Group
	for _, circumstance := range circumstances {
		named := map[string][]Labelled{}
		for _, l := range c.Labelled {
			if name := circumstance.name(l); name != "" {
				named[name] = append(named[name], l)
			}
		}
		for _, name := range slices.SortedFunc(maps.Keys(named), byNumber) {
			groups = append(groups, Group{circumstance.by, name, named[name]})
		}
	}
	return groups
}

// clean tells whether the part was photographed under fair conditions. Where
// the truth does not say, it goes by the body, at least 80 px long, and the
// lamp, 3500 to 7500 K if known.
func (l Labelled) clean() bool {
	if l.Truth.Clean != nil {
		return *l.Truth.Clean
	}
	kelvin, known := l.Photo.Scene["illuminant_K"].(float64)
	return l.Truth.Body.Length >= 80 && !(known && (kelvin < 3500 || kelvin > 7500))
}

// text returns a text field of the scene, empty if there is none.
func (p Photo) text(field string) string {
	s, _ := p.Scene[field].(string)
	return s
}

// stepOf names the step on which x lies, empty if it is unknown.
func stepOf(x *float64, bounds ...float64) string {
	if x == nil {
		return ""
	}
	return step(*x, bounds...)
}

// step names the step between the rising bounds on which x lies.
func step(x float64, bounds ...float64) string {
	for i, bound := range bounds {
		if x < bound {
			if i == 0 {
				return fmt.Sprintf("below %g", bound)
			}
			return fmt.Sprintf("%g to %g", bounds[i-1], bound)
		}
	}
	return fmt.Sprintf("%g and up", bounds[len(bounds)-1])
}

// byNumber compares names by the number they start with, those with none by
// their text; "below" comes first.
func byNumber(a, b string) int {
	number := func(s string) float64 {
		if strings.HasPrefix(s, "below ") {
			return -1
		}
		var x float64
		fmt.Sscan(s, &x)
		return x
	}
	return cmp.Or(cmp.Compare(number(a), number(b)), cmp.Compare(a, b))
}
