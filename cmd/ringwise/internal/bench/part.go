package bench

import (
	"slices"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
)

// A part is one body of a photo and what the person has said of it.
type part struct {
	number  int
	found   photoread.Part
	plain   *photoread.Part // found before anything was told of the light; nil if nothing ever was
	strip   func() []byte   // PNG, the left end of the outline at the left
	version int             // goes up with every change
	said    said
}

// A said is what a person has said of a part. It is never changed in place: a
// new one takes its place, so that undo can put the old one back.
type said struct {
	status status
	known  decode.Known
	taken  []decode.Colour // the rings of the candidate taken, nil for the best
	sense  int             // which meaning of its rings, from 0 for the most usual
	meter  meter
	facts  facts
	entry  int64 // in the stock, 0 if it is not there
	// confirmed are the rings as they were confirmed, nil if they were not.
	confirmed []decode.KnownRing
}

// A status is how far a part has come.
type status string

const (
	open       status = "open"
	stocked    status = "stocked"
	noResistor status = "not a resistor"
	cannotTell status = "can't tell"
	putOff     status = "skipped"
)

// A judgement is what a part is taken for, given all that was said.
type judgement struct {
	decode.Ranking
	seen    decode.Sighting // to whose cuts the candidates refer
	heard   decode.Testimony
	against *decode.Candidate // what the rings say and the meter contradicts, nil if it does not
	taken   int               // index of the candidate taken, -1 if there is none
	means   []decode.Reading  // what its rings can mean, the most usual first
	rings   []shownRing       // of the candidate taken, in reading order, or what the meter contradicts
	from    decode.End        // the end of the strip from which they are read
}

// A shownRing is a ring as the page shows it.
type shownRing struct {
	centre, width float64       // as fractions of the body's length, from the left end of the strip
	colour        decode.Colour // if named
	named         bool          // false for a ring of which the colour is not told
	said          bool          // the colour is the person's
}

// judge weighs all that was seen and said of the part. Where the meter contradicts
// what was seen, nothing is taken until the person takes it.
func (p *part) judge() judgement {
	j := judgement{Ranking: p.found.Ranking, seen: p.found.Seen, taken: -1}
	known := p.said.known
	if known.Rings != nil || known.From != decode.EitherEnd {
		j.Ranking, j.seen = decode.RankKnown(p.found.Seen, known)
	}
	if m := p.said.meter.shown; m != nil {
		before := j.Ranking
		j.heard = j.Hear(*m, p.specimen())
		j.Ranking = j.heard.Ranking
		if _, ok := before.Best(); ok && j.heard.Contradiction != "" {
			j.against = &before.Candidates[0]
		}
	}
	if p.said.taken != nil {
		j.taken = slices.IndexFunc(j.Candidates, func(c decode.Candidate) bool { return slices.Equal(c.Rings, p.said.taken) })
	}
	if _, ok := j.Best(); ok && j.taken < 0 && j.against == nil {
		j.taken = 0
	}
	if j.taken >= 0 {
		j.mean(p.said.sense)
	}
	j.showRings(known)
	return j
}

// mean takes one of the meanings of the rings taken.
func (j *judgement) mean(sense int) {
	c := &j.Candidates[j.taken]
	means, err := decode.Readings(c.Rings)
	if err != nil {
		return // a candidate is a legal code
	}
	j.means = means
	if sense > 0 && sense < len(means) {
		j.Candidates = slices.Clone(j.Candidates)
		j.Candidates[j.taken].Reading = means[sense]
	}
}

// showRings settles which rings are shown and from which end.
func (j *judgement) showRings(known decode.Known) {
	j.from = known.From
	if j.from == decode.EitherEnd {
		j.from = decode.LeftEnd
	}
	switch at := max(j.taken, 0); {
	case at < len(j.Candidates):
		c := j.Candidates[at]
		told := j.taken >= 0
		if !told && j.against != nil {
			c, told = *j.against, true
		}
		seen := j.seen.Cuts[c.Cut].Rings
		for place, i := range c.Order {
			ring := shownRing{centre: seen[i].Centre, width: seen[i].Width}
			if told {
				ring.colour, ring.named = c.Rings[place], true
			}
			if known.Rings != nil && known.Rings[i].Sure {
				ring.colour, ring.named, ring.said = known.Rings[i].Colour, true, true
			}
			j.rings = append(j.rings, ring)
		}
		if n := len(c.Order); n > 1 {
			j.from = decode.LeftEnd
			if c.Order[0] > c.Order[n-1] {
				j.from = decode.RightEnd
			}
		}
	default: // no code fits: show what the person said, as far as it goes
		for _, ring := range known.Rings {
			j.rings = append(j.rings, shownRing{ring.Centre, ring.Width, ring.Colour, ring.Sure, ring.Sure})
		}
		if j.from == decode.RightEnd {
			slices.Reverse(j.rings)
		}
	}
}

// reading is the candidate taken, false if there is none.
func (j judgement) reading() (decode.Candidate, bool) {
	if j.taken < 0 {
		return decode.Candidate{}, false
	}
	return j.Candidates[j.taken], true
}

// specimen is what is known of the part besides its rings.
func (p *part) specimen() decode.Specimen { return decode.Specimen{Kind: p.said.facts.kind} }

// cautions are what to take care of with a part that is taken for c, which may
// be none, and of the kind that is known.
func (p *part) cautions(c decode.Candidate) []string {
	if caution := p.said.facts.kind.Caution(); caution != "" {
		return add(slices.Clone(c.Cautions), caution)
	}
	return c.Cautions
}
