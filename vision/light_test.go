package vision

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What a light does to a colour, undo takes back: chroma is weakened, then
// each part of linear RGB is divided by its gain.
func TestLightUndo(t *testing.T) {
	for i, light := range lights {
		for _, want := range []tint{{50, 0, 0}, {34, 9, 10}, {42, -12, 9}, {40, 6, -14}, {60, 14, 20}, {79, 0, 5}} {
			rgb := fromTint(tint{want.l, want.a * light.vivid, want.b * light.vivid})
			for k := range rgb {
				rgb[k] /= light.gain[k]
			}
			got := light.undo(rgb)
			assert.InDelta(t, 0, distanceOf(got.minus(want)), 0.05, "light %d, %v, got %v", i, want, got)
		}
	}
}

// Lights change what their names say: exposure scales all of linear RGB, warm
// light has more red and less blue than white.
func TestLights(t *testing.T) {
	most := lights[0]
	seen := map[string]bool{}
	for _, l := range lights {
		if l.logWeight > most.logWeight {
			most = l
		}
		assert.InEpsilon(t, l.gain[1]*l.gain[1], l.gain[0]*l.gain[2], 1e-9, "warmth leaves green alone")
		assert.LessOrEqual(t, l.logWeight, 0.0)
		key := fmt.Sprintf("%.6f %.6f", l.gain, l.vivid)
		assert.False(t, seen[key], "twice: %s", key)
		seen[key] = true
	}
	assert.Equal(t, [3]float64{1, 1, 1}, most.gain, "a photo as it should be is likeliest")
}
