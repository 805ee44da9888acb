package vision

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestSized checks that from a box beside a drawn body the body's own middle, axis
// and width are found, and that a box far beside is said to be so.
func TestSized(t *testing.T) {
	d := drawn{x: 300, y: 200, length: 200, angle: 20, rings: drawnCodes[0].rings}
	drawing := paper(600, 400)
	d.onto(drawing)
	d.shade(drawing)
	photo := photographed(t, drawing)
	for _, c := range []struct {
		name              string
		off, turned, rise float64 // in half widths, radians and by ratio
		beside            bool
	}{
		{"fitting", 0, 0, 1, false},
		{"to one side", 0.3, 0, 1, true},
		{"to the other", -0.3, 0, 1, true},
		{"turned", 0, 0.1, 1, true},
		{"turned back", 0, -0.1, 1, true},
		{"slim", 0, 0, 0.7, true},
		{"the upper half", -0.35, 0, 0.65, true},
		{"thick", 0, 0, 1.8, true},
	} {
		want := box{d.x, d.y, d.angle * math.Pi / 180, d.length / 2, d.width() / 2}
		at := want
		at.x, at.y = want.at(0, c.off*want.rise)
		at.angle += c.turned
		at.rise *= c.rise
		s, ok := straighten(picture{photo.Pixels}, at)
		require.True(t, ok)
		const left = 13 // column, where the body of a box begins
		got, beside := s.sized(fit{box: at}, left, stripColumns-left)
		assert.Equal(t, c.beside, beside, c.name)
		assert.Less(t, math.Hypot(got.x-want.x, got.y-want.y), 0.15*want.rise, "%s: the middle", c.name)
		assert.InDelta(t, want.angle, got.angle, 0.04, "%s: the axis", c.name)
		assert.InEpsilon(t, want.rise, got.rise, 0.12, "%s: the width", c.name)
	}
}
