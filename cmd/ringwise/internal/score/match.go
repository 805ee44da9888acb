package score

import (
	"cmp"
	"math"
	"slices"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

// The bounds within which a reported body is the labelled one.
const (
	centreReach = 0.25 // of the true length, between the centres
	leastCommon = 0.5  // intersection over union, where the truth has a polygon
)

// match pairs labelled parts with reported ones, each at most once, the
// nearest centres first. It returns, for each labelled part, the place of its
// reported part or -1, and the reported parts that are left over.
func match(labelled []Resistor, reported []photoread.Part) (partner []int, left []int) {
	type pair struct {
		label, report int
		distance      float64 // in true lengths
	}
	var pairs []pair
	for i, r := range labelled {
		for k, part := range reported {
			if d := distance(r.Body, part.Part); d <= centreReach && covers(r.Body, part.Part) {
				pairs = append(pairs, pair{i, k, d})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.distance, b.distance) })

	partner = make([]int, len(labelled))
	for i := range partner {
		partner[i] = -1
	}
	taken := make([]bool, len(reported))
	for _, p := range pairs {
		if partner[p.label] < 0 && !taken[p.report] {
			partner[p.label], taken[p.report] = p.report, true
		}
	}
	for k := range reported {
		if !taken[k] {
			left = append(left, k)
		}
	}
	return partner, left
}

// distance is the distance between the centres, in true lengths.
func distance(truth Body, part vision.Part) float64 {
	c := part.At(0.5, 0.5)
	return math.Hypot(c.X-truth.Centre[0], c.Y-truth.Centre[1]) / truth.Length
}

// covers tells whether the part's outline fits the true polygon, if there is
// one.
func covers(truth Body, part vision.Part) bool {
	return len(truth.Polygon) < 3 || overlap(truth.Polygon, corners(part)) >= leastCommon
}

func corners(part vision.Part) [][2]float64 {
	var c [][2]float64
	for _, p := range part.Outline {
		c = append(c, [2]float64{p.X, p.Y})
	}
	return c
}

// length is the length of a reported body in pixels.
func length(part vision.Part) float64 {
	a, b := part.At(0, 0.5), part.At(1, 0.5)
	return math.Hypot(b.X-a.X, b.Y-a.Y)
}

// falseBodies returns those of the left-over reported parts that stand for
// nothing visible. Where more resistors are visible than labelled, the
// smallest left-over ones that lie on no other thing are taken for those,
// since what is not labelled was cut by the edge, covered or too small to label.
// Being sure of the wrong code of such a resistor is false all the same.
func falseBodies(photo Photo, reported []photoread.Part, left []int) []int {
	unlabelled := 0
	if photo.Visible != nil {
		unlabelled = *photo.Visible - len(photo.Resistors)
	}
	order := slices.Clone(left)
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(length(reported[a].Part), length(reported[b].Part))
	})
	var wrong []int
	for _, k := range order {
		under := distractorUnder(photo, reported[k].Part)
		if unlabelled > 0 && (under == nil || under.isResistor() && !under.belied(reported[k])) {
			unlabelled--
			continue
		}
		wrong = append(wrong, k)
	}
	slices.Sort(wrong)
	return wrong
}

// belied tells whether the part was called sure with other rings than those
// the distractor wears.
func (d Distractor) belied(part photoread.Part) bool {
	return part.Verdict == decode.Sure && len(d.Bands) > 0 &&
		(len(part.Candidates) == 0 || !slices.Equal(d.Bands, part.Candidates[0].Rings))
}

// distractorUnder returns the distractor on which the part's centre lies, nil
// if there is none: of several that lie on each other the one whose centre is
// nearest.
func distractorUnder(photo Photo, part vision.Part) *Distractor {
	c := part.At(0.5, 0.5)
	var under *Distractor
	nearest := math.Inf(1)
	for i, d := range photo.Distractors {
		body := d.body()
		var on bool
		switch {
		case len(body.Polygon) >= 3:
			on = contains(body.Polygon, [2]float64{c.X, c.Y})
		case body.Centre != nil:
			reach := max(body.Length, length(part)) / 2
			on = math.Hypot(c.X-body.Centre[0], c.Y-body.Centre[1]) <= reach
		}
		if middle := body.middle(); on && math.Hypot(c.X-middle[0], c.Y-middle[1]) < nearest {
			under, nearest = &photo.Distractors[i], math.Hypot(c.X-middle[0], c.Y-middle[1])
		}
	}
	return under
}

// middle is the body's centre, or that of its polygon.
func (b Body) middle() (c [2]float64) {
	if b.Centre != nil {
		return *b.Centre
	}
	for _, p := range b.Polygon {
		c[0] += p[0] / float64(len(b.Polygon))
		c[1] += p[1] / float64(len(b.Polygon))
	}
	return c
}

// contains tells whether p lies within the polygon, by counting how often a
// ray from it crosses the outline.
func contains(polygon [][2]float64, p [2]float64) bool {
	inside := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0]+(p[1]-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			inside = !inside
		}
	}
	return inside
}
