// Package confirm has a person confirm what was read of photos, part by part
// and line by line, in words that a screen reader or a voice reads well. What
// the person confirms goes to the stock, and nothing else does.
package confirm

import (
	"slices"
	"strconv"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// A Part is one part of a photo, to be confirmed.
type Part struct {
	// Key names the part for good, as in stock.Part: the same part of the
	// same photo has the same key whenever it is read.
	Key string
	// Photo is the photo's name; Number and Of are the part's number in it,
	// from 1, and how many there are.
	Photo      string
	Number, Of int
	// Seen and Ranking are what was seen and read.
	Seen    decode.Sighting
	Ranking decode.Ranking
	// Crop is the part cut out of the photo, as PNG; it may be nil.
	Crop []byte
	// Size is how large the body is by the photo, and SizeText says in a clause
	// what follows from it; an estimate, empty if unknown.
	Size     stock.Size
	SizeText string
}

// said is what the person has said of a part so far. Values of it are copied
// and never changed where others may hold them, so that it can be undone.
type said struct {
	known decode.Known    // the rings and the end, as far as they are said
	taken *decode.Reading // the candidate chosen, nil if none is
	row   []decode.Colour // all rings named by the person, in reading order
	hand  *decode.Reading // the value given by hand, nil if none is

	turned bool // row is read from the other end than that from which it was named

	meter     decode.Meter // that the person has; it stays for the next parts
	accuracy  bool         // it was described at this part
	shown     string       // what it shows of this part, empty if not measured
	inCircuit bool

	age   decode.Age
	facts stock.Part // kind, size, rating, count and note alone
}

// changed tells whether the person said something of the rings that were seen,
// or of the end from which they are read.
func (s said) changed() bool { return s.known.Rings != nil || s.known.From != decode.EitherEnd }

// measurement is what the meter says of the part, nil if nothing was measured.
func (s said) measurement() *decode.Measurement {
	m, err := s.meter.Shows(s.shown)
	if s.shown == "" || err != nil {
		return nil
	}
	m.InCircuit = s.inCircuit
	return &m
}

// A judgement is what to make of a part after what was said of it.
type judgement struct {
	decode.Testimony                 // without a meter its Fits are nil
	seen             decode.Sighting // to which the candidates refer
	at               int             // the candidate that Enter confirms; -1 if none
}

// judge weighs what was seen and what was said.
func (p Part) judge(s said) judgement {
	j := judgement{Testimony: decode.Testimony{Ranking: p.Ranking}, seen: p.Seen}
	switch {
	case s.hand != nil:
		j.Ranking = decode.Ranking{Verdict: decode.Check, Candidates: []decode.Candidate{{Reading: *s.hand, Confidence: 1}}}
	case s.row != nil:
		j.Ranking = named(s.row)
	case s.changed():
		j.Ranking, j.seen = decode.RankKnown(p.Seen, s.known)
	}
	told := s.hand != nil || s.row != nil
	if m := s.measurement(); m != nil {
		j.Testimony = j.Ranking.Hear(*m, decode.Specimen{Kind: s.facts.Kind, Age: s.age})
	}
	switch {
	case len(j.Candidates) == 0:
		j.at = -1
	case s.taken != nil:
		j.at = slices.IndexFunc(j.Candidates, func(c decode.Candidate) bool { return same(c.Reading, *s.taken) })
	case j.Verdict == decode.Unreadable && !told, j.Contradiction != "":
		j.at = -1 // to choose from, not to confirm unseen
	}
	return j
}

// named are the readings of a row of rings that the person has named.
func named(row []decode.Colour) decode.Ranking {
	readings, err := decode.Readings(row)
	if err != nil {
		return decode.Ranking{Verdict: decode.Unreadable, Why: err.Error()}
	}
	r := decode.Ranking{Verdict: decode.Check}
	for i, reading := range readings {
		confidence := 0.0
		if i == 0 {
			confidence = 1
		}
		r.Candidates = append(r.Candidates, decode.Candidate{Reading: reading, Confidence: confidence})
	}
	return r
}

// same tells whether two readings are the same meaning of the same rings.
func same(a, b decode.Reading) bool {
	return slices.Equal(a.Rings, b.Rings) && a.Ohms.Equal(b.Ohms) && a.TolerancePercent.Decimal.Equal(b.TolerancePercent.Decimal)
}

// pinned is what is known of the rings once every ring of the candidate that
// would be confirmed is taken to be there. ok is false where there is none.
func (p Part) pinned(s said, j judgement) (k decode.Known, ok bool) {
	if s.hand != nil {
		return k, false
	}
	if j.at >= 0 {
		c := j.Candidates[j.at]
		k.From = decode.LeftEnd
		if len(c.Order) > 1 && c.Order[0] > c.Order[len(c.Order)-1] {
			k.From = decode.RightEnd
		}
		if s.known.Rings == nil {
			for _, r := range j.seen.Cuts[c.Cut].Rings {
				k.Rings = append(k.Rings, decode.KnownRing{Centre: r.Centre, Width: r.Width})
			}
			return k, true
		}
	}
	if s.known.Rings == nil {
		return k, false
	}
	k.Rings = slices.Clone(s.known.Rings)
	if s.known.From != decode.EitherEnd {
		k.From = s.known.From
	}
	return k, true
}

// entry is the part as it goes into the stock.
func (p Part) entry(s said, j judgement) stock.Part {
	c := j.Candidates[j.at]
	e := s.facts
	e.Key, e.Photo, e.PhotoPart, e.Crop = p.Key, p.Photo, p.Number, p.Crop
	e.Count = max(1, e.Count)
	if e.Size == "" && p.Size != "" {
		e.Size, e.SizeBasis = p.Size, stock.Estimated
	}
	e.Origin, e.Reading = stock.FromRings, c.Reading
	if s.hand != nil {
		e.Origin = stock.ByHand
	}
	e.Verdict, e.Meter = p.Ranking.Verdict.String(), s.measurement()
	for _, o := range p.Ranking.Candidates {
		e.Candidates = append(e.Candidates, stock.Candidate{Rings: o.Rings, Ohms: o.Ohms, Tolerance: o.TolerancePercent, Confidence: o.Confidence})
	}
	e.Changes = p.changes(c.Reading, s)
	return e
}

// changes are what the person made of the first candidate.
func (p Part) changes(confirmed decode.Reading, s said) []stock.Change {
	if len(p.Ranking.Candidates) == 0 {
		return []stock.Change{{What: "rings", From: "none", To: decode.RowLetters(confirmed.Rings)}}
	}
	first := p.Ranking.Candidates[0].Rings
	switch {
	case s.hand != nil:
		return []stock.Change{{What: "value", From: stock.Meaning(p.Ranking.Candidates[0].Reading), To: stock.Meaning(confirmed)}}
	case len(first) != len(confirmed.Rings):
		return []stock.Change{{What: "rings", From: decode.RowLetters(first), To: decode.RowLetters(confirmed.Rings)}}
	}
	var list []stock.Change
	for i, c := range confirmed.Rings {
		if c != first[i] {
			list = append(list, stock.Change{What: "ring " + strconv.Itoa(i+1), From: first[i].String(), To: c.String()})
		}
	}
	return list
}
