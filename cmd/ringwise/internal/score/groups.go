package score

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// A Group is a set of labelled parts that share a circumstance.
type Group struct {
	By, Name string
	Parts    []Labelled
}

// Tally counts what came of the group's parts.
func (g Group) Tally() Tally { return tally(g.Parts) }

// circumstances are the ways in which labelled parts are told apart. Each
// answers with a name that sorts in a sensible order, empty where the truth
// does not say.
var circumstances = []struct {
	by   string
	name func(Labelled) string
}{
	{"set", func(l Labelled) string { return l.Photo.set }},
	{"conditions", func(l Labelled) string {
		if l.Clean() {
			return "clean"
		}
		return "other"
	}},
	{"body length, px", func(l Labelled) string {
		return step(l.Truth.Body.Length, 40, 60, 80, 120, 160, 240, 400, 800)
	}},
	{"lamp, K", func(l Labelled) string { return l.Photo.step("illuminant_K", 2500, 3500, 4500, 5500, 6500, 7500, 9000) }},
	{"lamp", func(l Labelled) string { return l.Photo.text("light") }},
	{"ground", func(l Labelled) string { return l.Photo.text("ground") }},
	{"blur, px", func(l Labelled) string { return stepOf(l.Truth.BlurPx, 0.5, 1, 1.5, 2, 3, 5) }},
	{"smear, px", func(l Labelled) string { return l.Photo.step("motion_px", 1, 2, 4, 8) }},
	{"glare, share", func(l Labelled) string { return stepOf(l.Truth.Glare, 0.01, 0.05, 0.1, 0.2) }},
	{"rings", func(l Labelled) string { return fmt.Sprint(len(l.Truth.Bands)) }},
	{"ring spacing", func(l Labelled) string { return l.Truth.Spacing }},
	{"oddity", func(l Labelled) string { return l.Truth.Oddity }},
	{"body colour", func(l Labelled) string { return l.Truth.BodyColour }},
	{"body shape", func(l Labelled) string { return l.Truth.Shape }},
	{"rating, W", func(l Labelled) string { return l.Truth.Watt }},
	{"arrangement", func(l Labelled) string { return l.Photo.text("arrangement") }},
	{"parts in the photo", func(l Labelled) string {
		return step(float64(max(len(l.Photo.Resistors), l.Photo.visible())), 2, 4, 7, 10)
	}},
	{"tilt, degrees", func(l Labelled) string { return l.Photo.step("tilt_deg", 5, 15, 25, 40) }},
	{"white balance", func(l Labelled) string { return l.Photo.text("wb") }},
	{"exposure, EV", func(l Labelled) string { return l.Photo.step("ev", -0.5, -0.25, 0, 0.25, 0.5) }},
	{"noise", func(l Labelled) string { return l.Photo.step("noise", 0.003, 0.006, 0.012) }},
	{"JPEG quality", func(l Labelled) string { return l.Photo.step("jpeg_quality", 40, 60, 80, 90) }},
	{"enlarged, times", func(l Labelled) string {
		if l.Photo.Scene["enlarged"] == 1.0 {
			return "not"
		}
		return l.Photo.step("enlarged", 1.5, 2)
	}},
	{"kind", func(l Labelled) string { return l.Photo.text("kind") }},
	{"style", func(l Labelled) string { return l.Photo.text("style") }},
}

// Groups tells the labelled parts apart by each circumstance that the truth
// gives and that is not the same for all of them.
func (c *Card) Groups() []Group {
	var groups []Group
	for _, circumstance := range circumstances {
		named := map[string][]Labelled{}
		for _, l := range c.Labelled {
			if name := circumstance.name(l); name != "" {
				named[name] = append(named[name], l)
			}
		}
		if len(named) == 1 && len(slices.Collect(maps.Values(named))[0]) == len(c.Labelled) {
			continue
		}
		for _, name := range slices.SortedFunc(maps.Keys(named), byNumber) {
			groups = append(groups, Group{circumstance.by, name, named[name]})
		}
	}
	return groups
}

// Clean tells whether the part was photographed under fair conditions. Where
// the truth does not say, it goes by the body, at least 80 px long, and the
// lamp, 3500 to 7500 K if known.
func (l Labelled) Clean() bool {
	if l.Truth.Clean != nil {
		return *l.Truth.Clean
	}
	kelvin, known := l.Photo.Scene["illuminant_K"].(float64)
	return l.Truth.Body.Length >= 80 && !(known && (kelvin < 3500 || kelvin > 7500))
}

// visible is how many resistors are known to be seen in the photo, 0 if that
// is not said.
func (p Photo) visible() int {
	if p.Visible == nil {
		return 0
	}
	return *p.Visible
}

// step names the step on which a number of the scene lies, empty if it has
// none.
func (p Photo) step(field string, bounds ...float64) string {
	if x, ok := p.Scene[field].(float64); ok {
		return step(x, bounds...)
	}
	return ""
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

// byNumber compares names by the number or fraction they start with, those with
// none by their text; "below" comes first.
func byNumber(a, b string) int {
	number := func(s string) float64 {
		if strings.HasPrefix(s, "below ") {
			return math.Inf(-1)
		}
		x, part := 0.0, 1.0
		fmt.Sscanf(s, "%f/%f", &x, &part)
		return x / part
	}
	return cmp.Or(cmp.Compare(number(a), number(b)), cmp.Compare(a, b))
}
