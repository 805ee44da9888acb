package vision

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"ringwise/decode"
	"ringwise/vision/columns"
)

// saysRing is the word of a network that sees a body with one ring of a colour.
func saysRing(colour decode.Colour, left, right, start, end int) *told {
	seen := new(columns.LogLikelihoods)
	for c := range seen {
		at := c - marginColumns
		class := columns.Outside
		switch {
		case at >= start && at < end:
			class = columns.Ring + int(colour)
		case at >= left && at < right:
			class = columns.Body
		}
		for k := range seen[c] {
			seen[c][k] = float32(math.Log(0.01))
		}
		seen[c][class] = float32(math.Log(0.8))
	}
	return tell(seen)
}

// A zero-ohm link has one black ring in its middle (IEC 60062). The word of the
// network makes up for a body that hardly stands out from the ground.
func TestIsLink(t *testing.T) {
	const left, right, middle = 14, 114, 64
	body := spot{tint: tint{70, 5, 20}}
	link := func(at int, seen tint) look {
		return look{fit: fit{leads: 2}, left: left, right: right, solid: 0.9, gain: -20, cuts: []cutting{
			{left: left, right: right, rings: []ring{{at - 5, at + 5, spot{tint: seen}}}, body: body, cost: 30, prices: 8},
			{left: left, right: right, rings: []ring{{at - 5, at, spot{tint: seen}}, {at + 2, at + 5, spot{tint: seen}}}, body: body, cost: 60, prices: 16},
		}}
	}
	dark, washed := tint{20, 1, 1}, tint{45, 12, 8}
	told := func(colour decode.Colour, at int, seen tint) look {
		l := link(at, seen)
		l.solid, l.leads, l.told = 0.5, 1, saysRing(colour, left, right, at-5, at+5)
		return l
	}
	crowded, ghost := link(middle, dark), told(decode.Black, middle, tint{80, 0, 0})
	crowded.open = 0.5
	loose := told(decode.Black, middle, washed)
	loose.leads = 0
	for _, c := range []struct {
		name string
		look look
		want bool
	}{
		{"dark ring on a plain body", link(middle, dark), true},
		{"washed out and without a lead, though black by the network", loose, false},
		{"washed out", link(middle, washed), false},
		{"washed out, but black by the network", told(decode.Black, middle, washed), true},
		{"brown by the network", told(decode.Brown, middle, washed), false},
		{"ring near an end", link(middle-30, dark), false},
		{"ring near an end, black by the network", told(decode.Black, middle-30, washed), false},
		{"lighter than the body", ghost, false},
		{"piece of something longer", crowded, false},
		{"no ring at all", look{fit: fit{leads: 2}, left: left, right: right, solid: 0.9}, false},
	} {
		assert.Equal(t, c.want, c.look.isLink(), c.name)
	}
}
