package score

// A Tally counts what came of a set of labelled parts. Every share but
// WrongSure is over all labelled parts, so that a miss counts as wrong.
type Tally struct {
	Found      Share
	First      Share // first candidate right
	FirstThree Share // right among the first three
	Sure       Share // called sure
	WrongSure  Share // wrong among those called sure
	ECE        float64
	// Reliability holds the first candidates of the found parts by their
	// confidence, in ten equal steps.
	Reliability []Bin
}

// tally counts the labelled parts.
func tally(parts []Labelled) Tally {
	var t Tally
	var c calibration
	for _, l := range parts {
		t.Found.add(l.Found)
		t.First.add(l.First())
		t.FirstThree.add(l.FirstThree())
		t.Sure.add(l.Sure())
		if l.Sure() {
			t.WrongSure.add(l.WronglySure())
		}
		if len(l.Reported.Candidates) > 0 {
			c.add(l.Confidence(), l.First())
		}
	}
	t.ECE = c.expectedError()
	t.Reliability = c.reliability()
	return t
}

// Missed is the share of the labelled parts that was not found.
func (t Tally) Missed() Share { return Share{t.Found.Total - t.Found.Count, t.Found.Total} }
