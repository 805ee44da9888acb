package main

import (
	"testing"

	"ringwise/decode"

	"github.com/stretchr/testify/assert"
)

// No part wears a ring that is hard to tell from its body, chokes and
// capacitors with rings neither; gold and silver may be closer, on tan and
// beige alone. Of the rings few are damaged.
func TestRingsStandOutFromTheBody(t *testing.T) {
	d := newDice(4, 4)
	resistors, damaged := 0, 0
	for i := range 3000 {
		l := look{age: d.between(0, 0.8), drawn: i%20 == 0}
		p := newResistor(d, l)
		switch i % 10 {
		case 8:
			p = newLookalike(d, "moulded choke", l)
		case 9:
			p = newLookalike(d, "ringed capacitor", l)
		default:
			resistors++
			broken := p.skin.chips > 0
			for _, r := range p.skin.rings {
				broken = broken || r.open > 0 || r.opacity < 0.92
			}
			if broken {
				damaged++
			}
		}
		for j, c := range p.Rings {
			shown := p.skin.body.towards(p.skin.rings[j].paint, p.skin.rings[j].opacity)
			least := 12.0
			if (c == decode.Gold || c == decode.Silver) && (p.skin.bodyName == "tan" || p.skin.bodyName == "beige") {
				least = 10
			}
			assert.GreaterOrEqual(t, p.skin.body.difference(shown), least, "%v on %s", c, p.skin.bodyName)
		}
	}
	assert.NotZero(t, damaged)
	assert.LessOrEqual(t, float64(damaged)/float64(resistors), 0.12)
}

// Moulded chokes are short and fat, with rings in order that do not overlap.
func TestMouldedChokesAreShortAndFat(t *testing.T) {
	d := newDice(6, 6)
	for range 200 {
		p := newLookalike(d, "moulded choke", look{})
		slim := p.length / (2 * p.radius)
		assert.True(t, slim >= 1.5 && slim <= 2.2, "length over thickness %g", slim)
		for i, m := range p.marks {
			assert.True(t, m.centre-m.width/2 > 0 && m.centre+m.width/2 < 1)
			if i > 0 {
				before := p.marks[i-1]
				assert.Less(t, before.centre+before.width/2, m.centre-m.width/2, "rings %d and %d of %v", i, i+1, p.Rings)
			}
		}
	}
}
