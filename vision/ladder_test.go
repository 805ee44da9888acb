package vision

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// bars are rings as boxes of their own: each lies across an axis through (200,
// 150) at the given places along it.
func bars(angle float64, places ...float64) []box {
	var out []box
	for _, p := range places {
		out = append(out, box{200 + p*math.Cos(angle), 150 + p*math.Sin(angle), angle + math.Pi/2, 30, 6})
	}
	return out
}

func TestLaddersLieAcrossTheirRungs(t *testing.T) {
	for degrees := 0.0; degrees < 180; degrees += 15 {
		angle := degrees * math.Pi / 180
		found := ladders(bars(angle, -50, -25, 0, 45))
		require.Len(t, found, 1, "%v°", degrees)
		body := found[0]
		assert.InDelta(t, 0, math.Sin(body.angle-angle), 0.02, "%v°", degrees)
		assert.Equal(t, 30.0, body.rise)
		for _, rung := range bars(angle, -50, 45) {
			assert.True(t, body.extent().holds(rung.x, rung.y), "%v°", degrees)
		}
	}
}

func TestLaddersNeedThreeRungsOfOneLength(t *testing.T) {
	assert.Empty(t, ladders(bars(0, -20, 20)), "two")
	uneven := bars(0, -30, 0, 30)
	uneven[1].half = 60
	assert.Empty(t, ladders(uneven), "one twice as long")
	crossed := bars(0, -30, 0, 30)
	crossed[1].angle += 0.6
	assert.Empty(t, ladders(crossed), "one aslant")
	stubby := bars(0, -30, 0, 30)
	for i := range stubby {
		stubby[i].rise = 28
	}
	assert.Empty(t, ladders(stubby), "no bars at all")
}
