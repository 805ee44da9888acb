package score

import "math"

// bins is the number of equal steps of confidence over which the calibration
// error is taken.
const bins = 10

// A Bin holds what came of the readings within one step of confidence.
type Bin struct {
	// Low and High bound the step, 0 to 1. Low belongs to it, High to the
	// next; 1 belongs to the last.
	Low, High float64
	Mean      float64 // mean confidence, 0 to 1; 0 if there are no readings
	Right     Share   // of the readings
}

// A calibration gathers how often readings of each confidence were right.
type calibration struct {
	right      [bins]Share
	confidence [bins]float64 // summed up
}

// add counts one reading. confidence is 0 to 1.
func (c *calibration) add(confidence float64, right bool) {
	bin := min(max(int(confidence*bins), 0), bins-1)
	c.right[bin].add(right)
	c.confidence[bin] += confidence
}

// expectedError returns the expected calibration error, 0 to 1: the mean over
// all readings of the distance, within each bin, between the mean confidence
// and the share that was right. It is 0 if there are no readings.
func (c *calibration) expectedError() float64 {
	total, off := 0, 0.0
	for i, s := range c.right {
		total += s.Total
		off += math.Abs(float64(s.Count) - c.confidence[i])
	}
	if total == 0 {
		return 0
	}
	return off / float64(total)
}

// reliability returns the bins, those of low confidence first.
func (c *calibration) reliability() []Bin {
	all := make([]Bin, bins)
	for i, s := range c.right {
		all[i] = Bin{Low: float64(i) / bins, High: float64(i+1) / bins, Right: s}
		if s.Total > 0 {
			all[i].Mean = c.confidence[i] / float64(s.Total)
		}
	}
	return all
}
