package vision

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// ringedWith is a cutting of a body with one ring after another, each ten columns wide.
func ringedWith(body tint, rings ...tint) cutting {
	c := cutting{near: new([stripColumns]spot)}
	for i := range c.near {
		c.near[i] = spot{body, 20}
	}
	for i, seen := range rings {
		c.rings = append(c.rings, ring{20 * i, 20*i + 10, spot{seen, 20}})
	}
	return c
}

// Of two rings, the more alike their colours, the likelier they share a paint.
func TestAlike(t *testing.T) {
	red := tint{42, 37, 21}
	got := ringedWith(tint{70, 5, 22}, red, red, tint{43, 36, 23}, tint{52, 28, 33}, tint{37, 7, -26}).alike(1)
	for i := range got {
		assert.Positive(t, got[i][i], "ring %d like itself", i)
		for j := range got {
			assert.InDelta(t, got[i][j], got[j][i], 1e-9, "rings %d and %d", i, j)
		}
	}
	assert.Equal(t, got[0][0], got[0][1])
	assert.Positive(t, got[0][2])
	assert.Negative(t, got[0][4])
	for j := 2; j < 5; j++ {
		assert.Less(t, got[0][j], got[0][j-1], "further away")
	}
}

// A ring that has taken on more of the body is of the same paint all the same, which a
// paint as far from it, but not towards the body, is not; and the wider the ring, the
// less the body can be the reason.
func TestAlikeThoughMixed(t *testing.T) {
	body, brown := tint{70, -15, -35}, tint{40, 25, 18}
	towards := func(c tint, share float64) tint {
		return tint{c.l + share*(body.l-c.l), c.a + share*(body.a-c.a), c.b + share*(body.b-c.b)}
	}
	mixed := towards(brown, 0.25)
	apart := math.Sqrt(math.Pow(mixed.l-brown.l, 2) + math.Pow(mixed.a-brown.a, 2) + math.Pow(mixed.b-brown.b, 2))
	redder := tint{brown.l, brown.a + apart/math.Sqrt2, brown.b + apart/math.Sqrt2}
	c := ringedWith(body, brown, mixed, redder)
	narrow, wide := c.alike(0.5), c.alike(4)
	assert.Positive(t, narrow[0][1])
	assert.Greater(t, narrow[0][1], narrow[0][2]+1)
	assert.Negative(t, wide[0][1])
}
