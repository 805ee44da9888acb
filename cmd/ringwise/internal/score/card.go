package score

import (
	"cmp"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
)

// A Card holds everything that was measured, of one set or of several.
type Card struct {
	Name     string // of the set, empty for all sets together
	Photos   int
	Things   int // known distractors, without resistors cut by the edge
	Unopened []Unopened
	Labelled []Labelled
	False    []FalseBody
	Effort   *Effort // nil where the system gives no CPU time
	Sets     []*Card // each set by itself, in the order of their truths
}

// Tally counts what came of all labelled parts.
func (c *Card) Tally() Tally { return tally(c.Labelled) }

// An Unopened is a photo that could not be read. All its parts are missed.
type Unopened struct {
	Photo string
	Err   error
}

// A Labelled is one part of the truth with what came of it.
type Labelled struct {
	Photo    *Photo
	Truth    Resistor
	Found    bool
	Reported photoread.Part // zero if not found
}

// Confidence is that of the first candidate, 0 to 1; 0 if there is none.
func (l Labelled) Confidence() float64 { return confidence(l.Reported) }

// First tells whether the first candidate is right.
func (l Labelled) First() bool { return l.within(1) }

// FirstThree tells whether one of the first three candidates is right.
func (l Labelled) FirstThree() bool { return l.within(3) }

func (l Labelled) within(n int) bool {
	candidates := l.Reported.Candidates
	for _, c := range candidates[:min(n, len(candidates))] {
		if l.Truth.Accepts(c.Rings) {
			return true
		}
	}
	return false
}

// Sure tells whether the part was found and called sure.
func (l Labelled) Sure() bool { return l.Found && l.Reported.Verdict == decode.Sure }

// WronglySure tells whether the part was called sure though its first
// candidate is wrong or its rings alone cannot tell.
func (l Labelled) WronglySure() bool {
	return l.Sure() && (len(l.Truth.AltBands) > 0 || !l.First())
}

// A FalseBody is a reported part that stands for no resistor.
type FalseBody struct {
	Photo      *Photo
	Distractor *Distractor // what lies under it, nil if nothing known
	Reported   photoread.Part
}

// Sure tells whether the false body was called sure: the worst there is.
func (f FalseBody) Sure() bool { return f.Reported.Verdict == decode.Sure }

// Confidence is that of the first candidate, 0 to 1; 0 if there is none.
func (f FalseBody) Confidence() float64 { return confidence(f.Reported) }

func confidence(part photoread.Part) float64 {
	if len(part.Candidates) == 0 {
		return 0
	}
	return part.Candidates[0].Confidence
}

// Kind is the kind of the distractor under it, empty if there is none.
func (f FalseBody) Kind() string {
	if f.Distractor == nil {
		return ""
	}
	return cmp.Or(f.Distractor.Kind, "distractor")
}

// FalselySure returns the false bodies that were called sure.
func (c *Card) FalselySure() []FalseBody {
	var sure []FalseBody
	for _, f := range c.False {
		if f.Sure() {
			sure = append(sure, f)
		}
	}
	return sure
}

// SureOfThings is how many of the known distractors were called sure. A thing
// reported in several pieces counts once.
func (c *Card) SureOfThings() Share {
	things := map[*Distractor]bool{}
	for _, f := range c.FalselySure() {
		if f.Distractor != nil && !f.Distractor.isResistor() {
			things[f.Distractor] = true
		}
	}
	return Share{len(things), c.Things}
}

// add counts one photo, in its set too.
func (c *Card) add(photo *Photo, result photoread.Result) {
	c.count(photo, result)
	c.set(photo.set).count(photo, result)
}

// set returns the card of a set, made new if it is not there yet.
func (c *Card) set(name string) *Card {
	for _, s := range c.Sets {
		if s.Name == name {
			return s
		}
	}
	c.Sets = append(c.Sets, &Card{Name: name})
	return c.Sets[len(c.Sets)-1]
}

// count matches one photo's result with its truth.
func (c *Card) count(photo *Photo, result photoread.Result) {
	c.Photos++
	if result.Err != nil {
		c.Unopened = append(c.Unopened, Unopened{photo.path, result.Err})
	}
	partner, left := match(photo.Resistors, result.Parts)
	for i, r := range photo.Resistors {
		l := Labelled{Photo: photo, Truth: r, Found: partner[i] >= 0}
		if l.Found {
			l.Reported = result.Parts[partner[i]]
		}
		c.Labelled = append(c.Labelled, l)
	}
	for _, k := range falseBodies(*photo, result.Parts, left) {
		part := result.Parts[k]
		c.False = append(c.False, FalseBody{photo, distractorUnder(*photo, part.Part), part})
	}
	for _, d := range photo.Distractors {
		if !d.isResistor() {
			c.Things++
		}
	}
}
