package score

import (
	"math"
	"slices"

	"ringwise/decode"
)

// A Confusion tells which ring colours were taken for which, by the first
// candidates of the found parts.
type Confusion struct {
	// Taken counts, for each true colour, the colours it was read as, over
	// parts that were read with as many rings as they have.
	Taken [decode.ColourCount][decode.ColourCount]int
	// Missed counts the rings that were not read, by their true colour, over
	// parts that were read with fewer rings than they have. Spurious counts
	// the rings that are none, by the colour they were read as, over parts
	// that were read with more.
	Missed, Spurious [decode.ColourCount]int
	Parts            int // read with as many rings as they have
	Turned           int // of those, read from the wrong end
	Fewer, More      int // parts read with fewer rings than they have, with more
}

// Rings is how many rings were compared, and how many of them were right.
func (t Confusion) Rings() Share {
	var s Share
	for colour := range t.Taken {
		row := t.Row(decode.Colour(colour))
		s.Count += row.Count
		s.Total += row.Total
	}
	return s
}

// Row is how many of the compared rings have a colour, and how many of them
// were read as it.
func (t Confusion) Row(colour decode.Colour) Share {
	s := Share{Count: t.Taken[colour][colour]}
	for _, n := range t.Taken[colour] {
		s.Total += n
	}
	return s
}

// Confusion compares the parts ring by ring, each laid out in the direction in
// which it was read.
func (c *Card) Confusion() Confusion {
	var t Confusion
	for _, l := range c.Labelled {
		if len(l.Reported.Candidates) > 0 {
			t.add(l)
		}
	}
	return t
}

func (t *Confusion) add(l Labelled) {
	read := l.Reported.Candidates[0].Rings
	rings, turned := l.laidOut()
	switch {
	case len(rings) > len(read):
		t.Fewer++
		for _, i := range leftOver(read, rings) {
			t.Missed[rings[i]]++
		}
	case len(rings) < len(read):
		t.More++
		for _, i := range leftOver(rings, read) {
			t.Spurious[read[i]]++
		}
	default:
		t.Parts++
		if turned {
			t.Turned++
		}
		for i, colour := range rings {
			t.Taken[colour][read[i]]++
		}
	}
}

// laidOut returns the true rings in the direction in which the first candidate
// was read, and whether that is the wrong one. Where the photo does not tell
// the direction, it is the one that agrees in more rings, the right one if
// both do.
func (l Labelled) laidOut() (rings []decode.Colour, turned bool) {
	read := l.Reported.Candidates[0].Rings
	ahead, agree := []decode.Colour(nil), -1
	for _, code := range append([]Bands{l.Truth.Bands}, l.Truth.AltBands...) {
		if n := agreement(code, read); n > agree {
			ahead, agree = code, n
		}
	}
	back := slices.Clone(l.Truth.Bands)
	slices.Reverse(back)
	direction := l.direction()
	if l.First() || direction > 0 || direction == 0 && agree >= agreement(back, read) {
		return ahead, false
	}
	return back, !slices.Equal(back, l.Truth.Bands)
}

// direction is 1 if the first candidate was read from the end with the true
// first ring, -1 if from the other end, and 0 if that is not known.
func (l Labelled) direction() int {
	order := l.Reported.Candidates[0].Order
	if l.Truth.Body.Axis == nil || len(l.Truth.AltBands) > 0 || len(order) < 2 {
		return 0
	}
	sin, cos := math.Sincos(*l.Truth.Body.Axis * math.Pi / 180)
	left, right := l.Reported.At(0, 0.5), l.Reported.At(1, 0.5)
	along := (right.X-left.X)*cos + (right.Y-left.Y)*sin
	if (along > 0) == (order[0] < order[len(order)-1]) {
		return 1
	}
	return -1
}

// agreement returns in how many places two codes agree, of different length in
// the places that leftOver leaves.
func agreement(a, b []decode.Colour) int {
	if len(a) > len(b) {
		a, b = b, a
	}
	return agreements(a, b)[0][0]
}

// leftOver returns the places of long that are left over when short is laid
// along it so that the most rings agree. Of layings that agree alike it takes
// the one that leaves the later places over.
func leftOver(short, long []decode.Colour) []int {
	best := agreements(short, long)
	var left []int
	i := 0
	for j := range long {
		if i < len(short) && best[i][j] == best[i+1][j+1]+same(short[i], long[j]) {
			i++
			continue
		}
		left = append(left, j)
	}
	return left
}

// agreements holds, for what remains of short from i and of long from j, the
// most places in which they agree with every ring of short laid on one of
// long, in order; far below 0 if long does not reach.
func agreements(short, long []decode.Colour) [][]int {
	const never = math.MinInt / 2
	best := make([][]int, len(short)+1)
	for i := len(short); i >= 0; i-- {
		best[i] = make([]int, len(long)+1)
		for j := len(long); j >= 0; j-- {
			switch {
			case i == len(short):
				best[i][j] = 0
			case j == len(long):
				best[i][j] = never
			default:
				best[i][j] = max(best[i][j+1], best[i+1][j+1]+same(short[i], long[j]))
			}
		}
	}
	return best
}

func same(a, b decode.Colour) int {
	if a == b {
		return 1
	}
	return 0
}
