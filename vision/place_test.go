package vision

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestOnePerBody checks which of the places that share a body are kept.
func TestOnePerBody(t *testing.T) {
	at := func(y, half, rise, gain, chance float64, rings int) place {
		b := box{x: 300, y: y, half: half, rise: rise}
		return place{fit: fit{box: b, chance: chance}, body: b, glance: glance{gain: gain, rings: rings}}
	}
	both := at(300, 110, 80, 620, 0, 4) // two bodies taken for one
	upper, lower := at(260, 100, 36, 480, 0.7, 4), at(340, 100, 36, 480, 0.7, 4)
	unhinted := func(p place) place { p.chance = 0; return p }
	ringless := func(p place) place { p.rings = 2; return p }
	better, beside := at(340, 100, 40, 2000, 0, 4), at(260, 100, 40, 700, 0, 4)
	leftOfBoth, rightOfBoth := at(300, 45, 30, 480, 0.7, 4), at(300, 45, 30, 480, 0.7, 4)
	leftOfBoth.body.x, rightOfBoth.body.x = 250, 350
	for _, c := range []struct {
		name         string
		places, kept []place
	}{
		{"the weightier of two", []place{at(300, 100, 36, 300, 0, 4), at(305, 100, 36, 480, 0, 4)}, []place{at(305, 100, 36, 480, 0, 4)}},
		{"a hint outweighs", []place{at(300, 100, 36, 480, 0, 4), at(305, 100, 36, 400, 0.7, 4)}, []place{at(305, 100, 36, 400, 0.7, 4)}},
		{"not one at few rings", []place{at(300, 100, 36, 480, 0, 4), at(305, 100, 36, 400, 0.7, 2)}, []place{at(300, 100, 36, 480, 0, 4)}},
		{"two for one that takes them for one", []place{both, upper, lower}, []place{upper, lower}},
		{"no two without hints", []place{both, unhinted(upper), unhinted(lower)}, []place{both}},
		{"no two without rings", []place{both, ringless(upper), ringless(lower)}, []place{both}},
		{"no two of a better one", []place{better, beside, leftOfBoth, rightOfBoth}, []place{better, beside}},
		{"no two that weigh less", []place{at(300, 110, 80, 2000, 0, 4), upper, lower}, []place{at(300, 110, 80, 2000, 0, 4)}},
	} {
		t.Run(c.name, func(t *testing.T) { assert.ElementsMatch(t, c.kept, onePerBody(c.places)) })
	}
}
