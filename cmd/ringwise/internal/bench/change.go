package bench

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"ringwise/decode"
)

// A change is one thing that a person says of a part.
type change struct {
	Do string `json:"do"`
	// Ring counts from 0 in reading order.
	Ring int `json:"ring"`
	// Colour is a name or letters; empty leaves it to what was seen.
	Colour string `json:"colour"`
	// Candidate counts from 0, and so does Sense, a meaning of its rings.
	Candidate int `json:"candidate"`
	Sense     int `json:"sense"`
	// By is how far to move a ring, as a fraction of the body's length.
	By float64 `json:"by"`
	// Meter is what the meter shows, InCircuit how it was measured.
	Meter     string `json:"meter"`
	InCircuit bool   `json:"inCircuit"`
	// Facts are what rings do not tell.
	Facts factsText `json:"facts"`
}

// mostRings is the most rings that a person can put on a part: one more than
// any code has, so that too many can be told apart from just enough.
const mostRings = 7

// errNoRing is the answer to a change of a ring that is not there.
var errNoRing = errors.New("there is no such ring: choose one of those shown")

// apply returns what is said of the part after the change, in a few words what
// was done, and the ring to go on with.
func (p *part) apply(c change) (next said, what string, ring int, err error) {
	next, ring = p.said, c.Ring
	j := p.judge()
	onRing := func(f func(rings []decode.KnownRing, i int) []decode.KnownRing) {
		if c.Ring < 0 || c.Ring >= len(j.rings) {
			err = errNoRing
			return
		}
		next.known = p.pinned(j)
		i := c.Ring
		if j.from == decode.RightEnd {
			i = len(j.rings) - 1 - i
		}
		next.known.Rings = f(next.known.Rings, i)
		next.taken, next.sense = nil, 0
	}
	switch c.Do {
	case "colour":
		var colour decode.Colour
		if c.Colour != "" {
			if colour, err = decode.ParseColour(c.Colour); err != nil {
				return
			}
		}
		onRing(func(rings []decode.KnownRing, i int) []decode.KnownRing {
			rings[i].Colour, rings[i].Sure = colour, c.Colour != ""
			return rings
		})
		what = fmt.Sprintf("ring %d is %s", c.Ring+1, colour)
		if c.Colour == "" {
			what = fmt.Sprintf("ring %d as seen", c.Ring+1)
		}
	case "drop":
		onRing(func(rings []decode.KnownRing, i int) []decode.KnownRing { return slices.Delete(rings, i, i+1) })
		what = fmt.Sprintf("ring %d dropped", c.Ring+1)
		ring = max(0, min(c.Ring, len(j.rings)-2))
	case "move":
		onRing(func(rings []decode.KnownRing, i int) []decode.KnownRing {
			by := c.By
			if j.from == decode.RightEnd {
				by = -by
			}
			low, high := 0.0, 1.0
			if i > 0 {
				low = rings[i-1].Centre
			}
			if i+1 < len(rings) {
				high = rings[i+1].Centre
			}
			apart := min(0.01, (high-low)/2)
			rings[i].Centre = max(low+apart, min(high-apart, rings[i].Centre+by))
			return rings
		})
		what = fmt.Sprintf("ring %d moved", c.Ring+1)
	case "add":
		if len(j.rings) >= mostRings {
			return next, "", ring, fmt.Errorf("there are %d rings already, and no code has more than 6: drop one first", len(j.rings))
		}
		next.known, next.taken, next.sense = p.pinned(j), nil, 0
		next.known.Rings, ring = added(next.known, c.Ring)
		what = fmt.Sprintf("ring %d added", ring+1)
	case "flip":
		next.known = p.said.known
		if p.said.taken != nil || next.known.Rings != nil {
			next.known = p.pinned(j)
		}
		next.known.From = decode.RightEnd
		if j.from == decode.RightEnd {
			next.known.From = decode.LeftEnd
		}
		next.taken, next.sense = nil, 0
		what = "read from the other end"
		ring = max(0, len(j.rings)-1-c.Ring)
	case "take":
		if c.Candidate < 0 || c.Candidate >= len(j.Candidates) {
			return next, "", ring, errors.New("there is no such candidate: choose one of those shown")
		}
		next.taken, next.sense = j.Candidates[c.Candidate].Rings, 0
		what = fmt.Sprintf("candidate %d taken", c.Candidate+1)
		ring = 0
	case "mean":
		if c.Sense < 0 || c.Sense >= len(j.means) {
			return next, "", ring, errors.New("the rings have no such meaning: choose one of those shown")
		}
		next.taken, next.sense = j.Candidates[j.taken].Rings, c.Sense
		what = "another meaning of the rings"
	case "meter":
		next.meter, err = newMeter(c.Meter, c.InCircuit)
		what = "meter " + next.meter.text
		if next.meter.text == "" {
			what = "no meter reading"
		}
	case "facts":
		next.facts, err = c.Facts.parse()
		what = "facts about the part"
	case "afresh":
		next = said{status: p.said.status}
		what, ring = "started afresh", 0
	case string(noResistor), string(cannotTell), string(putOff), string(open):
		next.status = status(c.Do)
		what = c.Do
	default:
		err = fmt.Errorf("the bench knows no change %q: load the page again", c.Do)
	}
	return next, what, ring, err
}

// pinned is what is known once the person takes the rings shown for those that
// are there: a change of one ring leaves the others where they are. Colours are
// known as far as the person has named them, or taken a candidate with them.
func (p *part) pinned(j judgement) decode.Known {
	k := decode.Known{Rings: []decode.KnownRing{}, From: j.from}
	for _, r := range j.rings {
		k.Rings = append(k.Rings, decode.KnownRing{
			Centre: r.centre, Width: r.width, Colour: r.colour, Sure: r.said || p.said.taken != nil && r.named,
		})
	}
	slices.SortStableFunc(k.Rings, func(a, b decode.KnownRing) int { return cmp.Compare(a.Centre, b.Centre) })
	return k
}

// added puts a ring in the middle of the gap behind a ring, in reading order,
// and returns the new ring's place in that order. With -1 it comes first.
func added(k decode.Known, behind int) ([]decode.KnownRing, int) {
	place := max(0, min(behind+1, len(k.Rings)))
	i := place
	if k.From == decode.RightEnd {
		i = len(k.Rings) - place
	}
	low, high, width := 0.0, 1.0, 0.0
	if i > 0 {
		low = k.Rings[i-1].Centre
	}
	if i < len(k.Rings) {
		high = k.Rings[i].Centre
	}
	for _, r := range k.Rings {
		width += r.Width / float64(len(k.Rings))
	}
	if width == 0 {
		width = usualWidth
	}
	return slices.Insert(k.Rings, i, decode.KnownRing{Centre: (low + high) / 2, Width: width}), place
}

// usualWidth is the width of a ring over the length of its body (common
// practice, no source).
const usualWidth = 0.07
