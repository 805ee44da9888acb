package vision

import (
	"math"

	"ringwise/decode"
	"ringwise/vision/columns"
)

// told is what the network says of a strip's columns: for each class, running
// sums of the logarithms of its probability.
type told struct {
	sums [columns.Classes][columns.Columns + 1]float64
}

// How far the network is believed beside what is measured directly. It was
// taught on drawn scenes, and real photos hold what these do not.
const (
	columnTrust = 1.0  // of each column's logarithm, in the units of a cutting's cost
	colourTrust = 1.0  // of a ring's mean logarithm, as a likelihood
	ownShare    = 0.7  // of the cutting's own misfits once the network has its say
	faintDoubt  = 0.25 // of the price of a ring just like the body, likewise
	leastTold   = -6   // no logarithm counts for less
)

// glimpse shows a strip to the network for a first glance.
func (s *strip) glimpse() *told { return tell(s.seer().Glance()) }

// consult shows it to the network that reads, once.
func (s *strip) consult() *told {
	if s.told == nil {
		s.told = tell(s.seer().Read())
	}
	return s.told
}

// seer shows the strip to networks.
func (s *strip) seer() *columns.Seer {
	if s.shown == nil {
		s.shown = columns.NewSeer(s.wide)
	}
	return s.shown
}

func tell(seen *columns.LogLikelihoods) *told {
	t := &told{}
	for c := range columns.Columns {
		for k, l := range seen[c] {
			t.sums[k][c+1] = t.sums[k][c] + math.Max(leastTold, float64(l))
		}
	}
	return t
}

func (t *told) cost(class columns.Class, start, end int) float64 {
	return -columnTrust * (t.sums[class][marginColumns+end] - t.sums[class][marginColumns+start])
}

// own is the weight of a cutting's own misfits.
func (t *told) own() float64 {
	if t == nil {
		return 1
	}
	return ownShare
}

// doubted is how much a ring is doubted for being just like the body: gold on tan may
// be, and the network has learnt to tell it.
func (t *told) doubted() float64 {
	if t == nil {
		return 1
	}
	return faintDoubt
}

// outside is what a column costs as outside the body.
func (t *told) outside(column int) float64 {
	if t == nil {
		return 0
	}
	return t.cost(columns.Outside, column, column+1)
}

// body is what a stretch costs as body.
func (t *told) body(start, end int) float64 {
	if t == nil {
		return 0
	}
	return t.cost(columns.Body, start, end)
}

// ring is what a stretch costs as a ring of whichever colour.
func (t *told) ring(start, end int) float64 {
	if t == nil {
		return 0
	}
	least := math.Inf(1)
	for k := columns.Ring; k < columns.Classes; k++ {
		least = min(least, t.cost(k, start, end))
	}
	return least
}

// colours adds to a ring's likelihoods what the network says of its colour.
func (t *told) colours(r ring, to *ringLikelihood) {
	if t == nil {
		return
	}
	trim := min(1, (r.end-r.start-1)/2)
	from, until := r.start+trim, r.end-trim
	var mean [decode.ColourCount]float64
	sum := 0.0
	for c := range mean {
		mean[c] = (t.sums[columns.Ring+c][marginColumns+until] - t.sums[columns.Ring+c][marginColumns+from]) / float64(until-from)
		sum += math.Exp(mean[c])
	}
	for c := range mean {
		to[c] += colourTrust * (mean[c] - math.Log(sum))
	}
}

// black is the probability of a ring's being black.
func (t *told) black(r ring) float64 {
	var l ringLikelihood
	t.colours(r, &l)
	return math.Exp(l[decode.Black])
}
