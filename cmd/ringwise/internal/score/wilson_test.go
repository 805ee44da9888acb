package score

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The intervals are those of table I, method 3, in R. G. Newcombe, "Two-sided
// confidence intervals for the single proportion", Statistics in Medicine 17
// (1998), 857-872 (from memory of the published table).
func TestWilson(t *testing.T) {
	for _, c := range []struct {
		share     Share
		low, high float64
	}{
		{Share{81, 263}, 0.2553, 0.3662},
		{Share{15, 148}, 0.0624, 0.1605},
		{Share{0, 20}, 0.0000, 0.1611},
		{Share{1, 29}, 0.0061, 0.1718},
	} {
		low, high := c.share.Wilson()
		assert.InDelta(t, c.low, low, 0.00005, "%+v", c.share)
		assert.InDelta(t, c.high, high, 0.00005, "%+v", c.share)
	}
}

// The score interval of n-k out of n mirrors that of k out of n, and of
// nothing nothing is known.
func TestWilsonAtTheEnds(t *testing.T) {
	low, high := Share{20, 20}.Wilson()
	assert.InDelta(t, 1-0.1611, low, 0.00005)
	assert.Equal(t, 1.0, high)

	low, high = Share{}.Wilson()
	assert.Equal(t, 0.0, low)
	assert.Equal(t, 1.0, high)
}
