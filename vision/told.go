package vision

import (
	"math"

	"ringwise/decode"
	"ringwise/vision/columns"
)

// told is what the network says of a strip's columns: for each class, running
// sums of the logarithms of its probability.
type told struct {
	wide *columns.Strip
	sums [columns.Classes][columns.Columns + 1]float64
}

// How far the network is believed beside what is measured directly. It was
// taught on drawn scenes, and real photos hold what these do not.
const (
	columnTrust = 1.0 // of each column's logarithm, in the units of a cutting's cost
	colourTrust = 1.0 // of a ring's mean logarithm, as a likelihood
	ownShare    = 0.7 // of the cutting's own misfits once the network has its say
	leastTold   = -6  // no logarithm counts for less
)

// glimpse shows the surroundings of a box to the network for a first glance.
func glimpse(photo picture, b box) (*told, bool) { return ask(photo, b, columns.Glance) }

// consult shows them to the network that reads.
func consult(photo picture, b box) (*told, bool) { return ask(photo, b, columns.See) }

func ask(photo picture, b box, see func(*columns.Strip) *columns.LogLikelihoods) (*told, bool) {
	s, ok := straightenWide(photo, b)
	if !ok {
		return nil, false
	}
	seen := see(s)
	t := &told{wide: s}
	for c := range columns.Columns {
		for k, l := range seen[c] {
			t.sums[k][c+1] = t.sums[k][c] + math.Max(leastTold, float64(l))
		}
	}
	return t, true
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
