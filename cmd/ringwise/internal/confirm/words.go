package confirm

import (
	"fmt"
	"slices"
	"strings"

	"ringwise/decode"
)

// worthSaying is the least confidence at which another candidate is mentioned
// at first, worthListing at which it is listed without being asked for.
const (
	worthSaying  = 0.05
	worthListing = 0.01
)

// opening says where one is and what the part may be, such as "part 3 of 12:
// five point six kilo-ohm, plus or minus five percent; fairly sure; second
// ring may be violet".
func (p Part) opening(s said, j judgement) string {
	where := fmt.Sprintf("part %d of %d: ", p.Number, p.Of)
	if j.at < 0 {
		if len(j.Candidates) == 0 {
			return where + "not read: " + decode.SpokenText(trim(j.Why))
		}
		if j.Contradiction != "" {
			return where + "the meter contradicts: " + decode.SpokenText(j.Contradiction) + "; measure again, name all rings, such as rings GN BU RD GD, or choose a candidate by its number"
		}
		return where + "hard to read: " + decode.SpokenText(trim(j.Why)) + "; choose a candidate by its number, or name the rings"
	}
	c := j.Candidates[j.at]
	words := append([]string{where + c.Spoken(), howSure(s, j)}, doubts(j)...)
	return strings.Join(words, "; ")
}

// howSure says in a word or two how far to trust the candidate, or that it rests
// on what the person said: the photo is sure of its own first reading alone.
func howSure(s said, j judgement) string {
	c := j.Candidates[j.at]
	switch {
	case c.Order == nil:
		return "as you said"
	case s.taken != nil:
		return "taken by you"
	case s.changed():
		return "with what you said"
	case j.Verdict == decode.Sure:
		return "sure"
	case c.Confidence >= 0.8:
		return "fairly sure"
	case c.Confidence >= 0.5:
		return "likely"
	}
	return "unsure"
}

// doubts says where the other candidates differ: "second ring may be violet".
func doubts(j judgement) []string {
	var list []string
	first := j.Candidates[j.at]
	for i, c := range j.Candidates {
		if i == j.at || c.Confidence < worthSaying || len(list) == 2 || first.Order == nil {
			continue
		}
		back := reversed(c.Rings)
		place, others := difference(first.Rings, c.Rings)
		switch {
		case slices.Equal(back, first.Rings):
			list = append(list, "it may be read from the other end: "+c.Spoken())
		case len(c.Rings) != len(first.Rings):
			list = append(list, fmt.Sprintf("there may be %d rings: %s", len(c.Rings), c.Spoken()))
		case others == 1:
			list = append(list, fmt.Sprintf("%s ring may be %s", decode.SpokenPlace(place+1), c.Rings[place]))
		default:
			list = append(list, "it may be "+c.Spoken())
		}
	}
	return slices.Compact(list)
}

// difference is the last place where two rows of as many rings differ, and at
// how many they do.
func difference(a, b []decode.Colour) (place, count int) {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			place = i
			count++
		}
	}
	return place, count
}

// details are the lines after the opening: the rings, why to check, what the
// meter says, the other candidates.
func (p Part) details(s said, j judgement) []string {
	var lines []string
	switch {
	case s.row == nil || !s.turned:
	case meansSomething(reversed(s.row)):
		lines = append(lines, "read from the other end than you named first")
	default:
		lines = append(lines, "read from the other end: from the end that you named first the row has no meaning")
	}
	if j.at >= 0 {
		c := j.Candidates[j.at]
		if len(c.Rings) > 0 {
			lines = append(lines, "rings: "+decode.SpokenRings(c.Rings))
		}
		if j.Why != "" && c.Order != nil && j.Contradiction == "" {
			lines = append(lines, "check: "+decode.SpokenText(trim(j.Why)))
		}
	}
	lines = append(lines, meterLines(s, j)...)
	lines = append(lines, s.factLines()...)
	if j.at >= 0 {
		for _, note := range j.Candidates[j.at].Notes {
			if note != j.Why {
				lines = append(lines, "note: "+decode.SpokenText(trim(note)))
			}
		}
	}
	if p.Size != "" && s.facts.Size == "" {
		lines = append(lines, "body: "+decode.SpokenText(fmt.Sprintf("%s, estimated; %s", p.Size, p.SizeText)))
	}
	if likely := likelyCandidates(j); likely > 1 || j.at < 0 {
		lines = append(lines, candidateLines(j, likely)...)
	}
	return lines
}

// factLines say what the person said of the part besides its rings and value.
func (s said) factLines() []string {
	var lines []string
	add := func(given bool, format string, args ...any) {
		if given {
			lines = append(lines, "you said: "+decode.SpokenText(fmt.Sprintf(format, args...)))
		}
	}
	f := s.facts
	add(f.Kind != decode.KindUnknown, "kind %s", f.Kind)
	add(f.Size != "", "size %s", f.Size)
	add(f.RatingWatts.Valid, "rating %s watts", f.RatingWatts.Decimal)
	add(f.Count > 0, "count %d", f.Count)
	add(s.age == decode.Old, "age old")
	add(s.age == decode.New, "age new")
	add(f.Note != "", "note %s", f.Note)
	add(s.accuracy, "accuracy of the meter %s percent and %d counts", s.meter.Percent, s.meter.Counts)
	return lines
}

// likelyCandidates is how many of the first candidates are worth a line: all
// where one must be chosen, or where they are meanings of rings that were
// named.
func likelyCandidates(j judgement) int {
	if j.at < 0 || j.Candidates[j.at].Order == nil {
		return len(j.Candidates)
	}
	i := slices.IndexFunc(j.Candidates, func(c decode.Candidate) bool { return c.Confidence < worthListing })
	if i < 0 {
		return len(j.Candidates)
	}
	return max(i, j.at+1)
}

// candidateLines lists the first candidates by number.
func candidateLines(j judgement, count int) []string {
	var lines []string
	for i, c := range j.Candidates[:count] {
		line := fmt.Sprintf("%d: %s", i+1, c.Spoken())
		if len(c.Rings) > 0 {
			line += ": " + decode.SpokenRings(c.Rings)
		}
		if c.Order != nil {
			line += fmt.Sprintf("; %d percent", int(100*c.Confidence+1e-9))
		}
		lines = append(lines, line)
	}
	return lines
}

// meterLines say whether the meter agrees. In its circuit a part may have more
// than is read, so that no reading there proves it.
func meterLines(s said, j judgement) []string {
	m := s.measurement()
	if m == nil {
		return nil
	}
	shown := decode.SpokenOhms(m.Ohms)
	if j.at < 0 {
		if j.Contradiction != "" {
			return nil // said at first
		}
		return []string{"the meter says " + shown}
	}
	var lines []string
	switch fit := j.Fits[j.at]; {
	case fit == decode.Within && m.InCircuit:
		lines = []string{"the meter does not contradict, but in its circuit it proves nothing, for the part may have more than is read: " + shown}
	case fit == decode.Within:
		lines = []string{"the meter agrees: " + shown}
	case fit == decode.Off:
		lines = []string{"the meter does not agree: " + shown}
	default:
		lines = []string{fmt.Sprintf("the meter says %s: %s", shown, fit)}
	}
	for _, note := range j.Notes {
		lines = append(lines, "note: "+decode.SpokenText(trim(note)))
	}
	return lines
}

func trim(sentence string) string { return strings.TrimSuffix(sentence, ".") }

// helpLines say what can be answered.
var helpLines = strings.Split(strings.TrimSpace(`
Enter: confirm what was said
3: choose candidate three
2 VT: the second ring is violet; several may follow, as in 2 VT 4 GD
rings GN BU RD GD: all rings, in reading order; from the other end if they have a meaning only so
flip: read from the other end
add 2 RD: there is a red ring after the second; 0 puts it first
drop 2: the second ring is none
value 5k6 5: enter the value by hand, with its tolerance in percent
m 5.58k: the meter shows 5.58 kilo-ohm; "m 5.58k in" measured in its circuit; "m off" takes it back
accuracy 0.8 5: the meter's accuracy in percent and counts
kind metal film; size 0207; rating 0.25; count 3; age old; note TEXT: what else is known
not: it is no resistor
skip: go on without it
unclear: it cannot be told
undo: take back the last answer
list: all candidates
again: say it again
quit: stop; what is confirmed stays
`), "\n")
