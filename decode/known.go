package decode

import (
	"math"
	"slices"
)

// Known is what a person with the part in hand has said of its rings.
type Known struct {
	// Rings are all rings of the part, from the left end of the strip to the
	// right; nil if the person has not said which there are.
	Rings []KnownRing

	// From is the end from which the rings are read.
	From End
}

// A KnownRing is a ring that is there, whatever was seen.
type KnownRing struct {
	// Centre and Width are fractions of the body's length, as in SeenRing.
	Centre, Width float64

	// Colour is its colour if Sure, otherwise that is left to what was seen.
	Colour Colour
	Sure   bool
}

// An End is an end of the straightened strip.
type End uint8

// The ends, and that the person has not said which.
const (
	EitherEnd End = iota
	LeftEnd
	RightEnd
)

// RankKnown ranks a sighting as Rank does, bound by what is known. It also
// returns the sighting as it was then weighed, to whose cuts the candidates
// refer. The strip's light and the look of the rings whose colour is not known
// still have their say. Where the known row has no meaning, the ranking is
// unreadable and says which ring cannot stand where.
func RankKnown(s Sighting, k Known) (Ranking, Sighting) {
	s = s.bound(k.Rings)
	ways := bothWays
	switch k.From {
	case LeftEnd:
		ways = []bool{false}
	case RightEnd:
		ways = []bool{true}
	}
	r := rank(s, ways)
	if len(r.Candidates) == 0 {
		r.explain(k)
	}
	return r, s
}

// bound is the sighting in which every cut has the rings that are known, with
// what was seen of each. Only cuts that saw most of them are kept.
func (s Sighting) bound(rings []KnownRing) Sighting {
	if rings == nil {
		return s
	}
	most := 0
	seen := make([][]int, len(s.Cuts)) // by cut and known ring, the ring seen there
	for i, cut := range s.Cuts {
		found := 0
		seen[i] = match(rings, cut.Rings)
		for _, j := range seen[i] {
			if j >= 0 {
				found++
			}
		}
		most = max(most, found)
		seen[i] = append(seen[i], found)
	}
	out := s
	out.Cuts, out.Fault = nil, ""
	for i, cut := range s.Cuts {
		places, found := seen[i][:len(rings)], seen[i][len(rings)]
		if found == most {
			out.Cuts = append(out.Cuts, cut.bound(rings, places))
		}
	}
	if len(out.Cuts) == 0 { // nothing was seen
		out.Cuts = []Cut{Cut{}.bound(rings, slices.Repeat([]int{-1}, len(rings)))}
	}
	if !slices.ContainsFunc(rings, func(r KnownRing) bool { return !r.Sure }) {
		out.Doubt, out.Handicap = 0, nil // it is the person who saw them
	}
	return out
}

// bound is the cut with the known rings, each with the likelihoods of the ring
// at the index in places. Of a ring that was not seen, index -1, every colour
// is as likely.
func (c Cut) bound(rings []KnownRing, places []int) Cut {
	out := Cut{LogWeight: c.LogWeight, Rings: make([]SeenRing, len(rings))}
	if c.Alike != nil {
		out.Alike = make([][]float64, len(rings))
	}
	for i, r := range rings {
		out.Rings[i] = SeenRing{Centre: r.Centre, Width: math.Max(r.Width, 0.01)}
		likelihood := &out.Rings[i].LogLikelihood
		if places[i] >= 0 {
			*likelihood = c.Rings[places[i]].LogLikelihood
		}
		if r.Sure {
			for colour := range likelihood {
				likelihood[colour] = math.Inf(-1)
			}
			likelihood[r.Colour] = 0
		}
		if c.Alike != nil {
			out.Alike[i] = make([]float64, len(rings))
			for j := range rings {
				if places[i] >= 0 && places[j] >= 0 {
					out.Alike[i][j] = c.Alike[places[i]][places[j]]
				}
			}
		}
	}
	return out
}

// match returns, for each known ring, the index of the seen ring that lies at
// its place, -1 if there is none. No seen ring is given twice.
func match(known []KnownRing, seen []SeenRing) []int {
	places := make([]int, len(known))
	for i, k := range known {
		places[i] = -1
		nearest := math.Max(k.Width, 0.04) * 0.75
		for j, s := range seen {
			if d := math.Abs(s.Centre - k.Centre); d <= nearest && !slices.Contains(places[:i], j) {
				places[i], nearest = j, d
			}
		}
	}
	return places
}

// explain says why a known row has no meaning, as far as that can be told.
func (r *Ranking) explain(k Known) {
	if k.Rings == nil {
		return
	}
	row := make([]Colour, len(k.Rings))
	sure := true
	for i, ring := range k.Rings {
		row[i] = ring.Colour
		sure = sure && ring.Sure
	}
	if k.From == RightEnd {
		slices.Reverse(row)
	}
	switch _, err := Readings(row); {
	case layouts[len(row)] == nil && len(row) != 1, sure && err != nil:
		r.Why = err.Error()
	default:
		r.Why = "no legal ring code fits these rings: check the ends, the colours and how many rings there are"
	}
}
