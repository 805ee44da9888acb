package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A body coded by tip and dot wears no ring: its tip runs over its end, and the
// dot is on one side only. All are told from the body as well as rings are.
func TestDottedResistors(t *testing.T) {
	d := newDice(11, 11)
	for range 200 {
		p := newLookalike(d, "dotted resistor", look{age: d.between(0, 0.8)})
		assert.Empty(t, p.Rings)
		tip, o := p.marks[0], p.skin.dot
		assert.LessOrEqual(t, tip.centre-tip.width/2, 0.0)
		assert.Less(t, tip.centre+tip.width/2, o.t-o.radius/p.length, "the dot lies on the tip")
		assert.Less(t, o.radius, p.radius)
		assert.GreaterOrEqual(t, p.skin.body.difference(o.paint), 12.0)
		assert.GreaterOrEqual(t, p.skin.body.difference(p.skin.rings[0].paint), 12.0)

		p.skin.specks, p.skin.chips = 0, 0
		b := brush{skin: &p.skin, part: p, long: noise{1, 7}, fine: noise{2, 61}, flakes: noise{3, 113}}
		at := func(along, turn float64) float64 {
			c, _ := b.at(along, turn)
			return o.paint.difference(c)
		}
		assert.Less(t, at(o.t, 0.5), 1.0, "the middle of the dot")
		assert.Greater(t, at(o.t, 0), 6.0, "the side without a dot")
	}
}
