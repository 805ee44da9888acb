package vision

import (
	"math"
	"slices"

	"ringwise/decode"
)

// hopeless is how much dearer than the best a cutting is when no likelihood of
// its colours can make up for it.
const hopeless = 36

// costWeight turns the cost of a cutting into a logarithm of likelihood:
// columns side by side are not independent.
const costWeight = 0.5

// A trace is what was seen of a body, whatever the light: enough to weigh it
// under any.
type trace struct {
	plain decode.Sighting // all but its cuts
	cuts  []tracedCut
}

// A tracedCut is one of the cuttings of a trace.
type tracedCut struct {
	cost  float64
	rings []tracedRing
	alike [][]float64 // by pair of rings
}

// A tracedRing is a ring of a cutting.
type tracedRing struct {
	seen          spot
	centre, width float64        // as in decode.SeenRing
	told          ringLikelihood // what the network says of its colour
}

type ringLikelihood = [decode.ColourCount]float64

// trace keeps of a look what there is to weigh.
func (l look) trace() *trace {
	t := &trace{plain: decode.Sighting{Body: hueOf(l.body), Slenderness: l.half / l.rise, Handicap: l.handicap(), Fault: l.fault(), Hindrance: l.hindrance()}}
	if !l.clear() {
		t.plain.Doubt = unclearDoubt
	}
	link := l.isLink()
	least := math.Inf(1)
	for _, c := range l.cuts {
		if (len(c.rings) < 3) == link {
			least = min(least, c.cost)
		}
	}
	for _, c := range l.cuts {
		if c.cost > least+hopeless || (len(c.rings) < 3) != link {
			continue
		}
		c.unmix(l.spots, l.detail)
		t.cuts = append(t.cuts, l.traceCut(c))
	}
	return t
}

func (l look) traceCut(c cutting) tracedCut {
	out := tracedCut{cost: c.cost, rings: make([]tracedRing, len(c.rings)), alike: c.alike(l.detail)}
	length := float64(l.right - l.left)
	for i, r := range c.rings {
		out.rings[i] = tracedRing{
			seen:   r.seen,
			centre: (float64(r.start+r.end)/2 - float64(l.left)) / length,
			width:  float64(r.end-r.start) / length,
		}
		l.told.colours(r, &out.rings[i].told)
	}
	return out
}

// A sight is a trace with the likelihood of each ring's colours under each guess
// at the light.
type sight struct {
	*trace
	setting
	seen [][][]ringLikelihood // by cutting, light and ring
}

// under weighs the colours of a trace's rings in a setting.
func (t *trace) under(g setting) sight {
	s := sight{trace: t, setting: g}
	for _, c := range t.cuts {
		under := make([][]ringLikelihood, len(g.lights))
		for i := range under {
			under[i] = make([]ringLikelihood, len(c.rings))
		}
		for r, ring := range c.rings {
			rgb := fromTint(ring.seen.tint)
			plain := g.sheenLikelihoods(ring.seen.sheen)
			for colour, told := range ring.told {
				plain[colour] += g.others * told
			}
			for i, light := range g.lights {
				under[i][r] = g.tintLikelihoods(light.undo(rgb))
				for colour, l := range plain {
					under[i][r][colour] += l
				}
			}
		}
		s.seen = append(s.seen, under)
	}
	return s
}

// favours says how well each guess at the light explains the body's rings as
// some paint or other: the logarithm of a likelihood, up to a constant.
func (s sight) favours() []float64 {
	out := make([]float64, len(s.lights))
	for i := range out {
		out[i] = math.Inf(-1)
		for c, cut := range s.cuts {
			weight := -costWeight * cut.cost
			for _, ring := range s.seen[c][i] {
				weight += mostOf(ring)
			}
			out[i] = max(out[i], weight)
		}
	}
	return out
}

func mostOf(likelihood ringLikelihood) float64 {
	most := math.Inf(-1)
	for _, l := range likelihood {
		most = max(most, l)
	}
	return most
}

// trustInOthers is how much of what the other bodies of a photo say about its
// light is believed: paints and shadows differ from body to body.
const trustInOthers = 0.3

// sightings weighs the bodies of one photo in a setting. Each is helped by what
// the others say about the light.
func sightings(traces []*trace, g setting) []decode.Sighting {
	total := make([]float64, len(g.lights))
	sights := make([]sight, len(traces))
	favours := make([][]float64, len(traces))
	for i, t := range traces {
		sights[i] = t.under(g)
		if t.plain.Fault != "" {
			favours[i] = make([]float64, len(g.lights)) // print says nothing of the light
			continue
		}
		favours[i] = sights[i].favours()
		most := math.Inf(-1)
		for _, f := range favours[i] {
			most = max(most, f)
		}
		for k := range favours[i] {
			favours[i][k] = math.Max(-12, favours[i][k]-most) // no one body decides alone
			total[k] += favours[i][k]
		}
	}
	out := make([]decode.Sighting, len(sights))
	for i, s := range sights {
		out[i] = s.plain
		out[i].Handicap = slices.Clone(s.plain.Handicap)
		for k, light := range g.lights {
			weight := light.logWeight + trustInOthers*math.Max(-20, total[k]-favours[i][k])
			for c := range s.cuts {
				out[i].Cuts = append(out[i].Cuts, s.cut(c, k, weight))
			}
		}
	}
	return out
}

// cut is one cutting under one light, for decode.
func (s sight) cut(cutting, light int, weight float64) decode.Cut {
	c := s.cuts[cutting]
	cut := decode.Cut{LogWeight: weight - costWeight*c.cost, Rings: make([]decode.SeenRing, len(c.rings)), Alike: c.alike}
	for r, ring := range c.rings {
		cut.Rings[r] = decode.SeenRing{Centre: ring.centre, Width: ring.width, LogLikelihood: s.seen[cutting][light][r]}
	}
	return cut
}

// hueOf names the rough hue of a body.
func hueOf(body tint) decode.BodyHue {
	turn := math.Mod(math.Atan2(body.b, body.a)*180/math.Pi+360, 360)
	switch {
	case body.l < 33 && (body.chroma() < 8 || turn < 95):
		return decode.BodyDark
	case body.chroma() < 8:
		return decode.BodyGrey
	case turn >= 50 && turn < 95:
		return decode.BodyTan
	case turn >= 95 && turn < 205:
		return decode.BodyGreen
	case turn >= 205 && turn < 310:
		return decode.BodyBlue
	}
	return decode.BodyPink
}
