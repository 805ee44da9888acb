package score

import "math"

// bins is the number of equal steps of confidence over which the calibration
// error is taken.
const bins = 10

// A calibration gathers how often readings of each confidence were right.
type calibration struct {
	count, right [bins]int
	confidence   [bins]float64
}

// add counts one reading. confidence is 0 to 1.
func (c *calibration) add(confidence float64, right bool) {
	bin := min(max(int(confidence*bins), 0), bins-1)
	c.count[bin]++
	c.confidence[bin] += confidence
	if right {
		c.right[bin]++
	}
}

// expectedError returns the expected calibration error, 0 to 1: the mean over
// all readings of the distance, within each bin, between the mean confidence
// and the share that was right. It is 0 if there are no readings.
func (c *calibration) expectedError() float64 {
	total, off := 0, 0.0
	for i, n := range c.count {
		total += n
		off += math.Abs(float64(c.right[i]) - c.confidence[i])
	}
	if total == 0 {
		return 0
	}
	return off / float64(total)
}
