package main

import (
	"math"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// POV-Ray, which knows nothing of our truth, shows a thing's body in the middle
// that the truth tells, and no longer shows it beyond half the span there, on
// the side that neither wires nor pins leave to.
func TestThingsShowWhereTheTruthTells(t *testing.T) {
	if _, err := exec.LookPath("povray"); err != nil {
		t.Skip("povray is not installed")
	}
	empty := func() *scene {
		return &scene{cam: lookDown(160, 160, 0, 0.1, 4), pxPerMM: 4, ground: cutOut(dice{}), lens: lens{enlarged: 1},
			light: lighting{kind: "overcast", kelvin: 6500, fillKelvin: 6500, dome: 0.2, ambient: 0.2}}
	}
	bare, err := empty().render(t.Context(), false)
	require.NoError(t, err)
	for _, c := range []struct {
		kind string
		make func(dice, look) thing
	}{
		{"photoresistor", photoresistor}, {"thermistor", beadThermistor}, {"thermistor", discThermistor},
		{"trimmer", rotorTrimmer}, {"trimmer", screwTrimmer},
	} {
		for seed := uint64(1); seed <= 2; seed++ {
			d := newDice(seed, 9)
			s := empty()
			thing := c.make(d, look{age: 0.2})
			assert.Equal(t, c.kind, thing.kind)
			thing.at, thing.angle = vec{d.between(-3, 3), 0, d.between(-3, 3)}, d.between(0, 2*math.Pi)
			s.things = append(s.things, thing)
			shown, err := s.render(t.Context(), false)
			require.NoError(t, err)
			truth := s.describe("a.jpg", shown).Distractors[0]
			differs := func(x, y float64) bool {
				at := int(y)*shown.width + int(x)
				worst := 0.0
				for k := range shown.planes {
					worst = max(worst, math.Abs(float64(shown.planes[k][at]-bare.planes[k][at])))
				}
				return worst > 0.02
			}
			aside := heading(thing.angle + math.Pi/2).times(0.75 * truth.Length) // pixels
			x, y := truth.Center[0], truth.Center[1]
			assert.True(t, differs(x, y), "%s of seed %d is not at %g, %g", c.kind, seed, x, y)
			assert.False(t, differs(x+aside.x, y-aside.z), "%s of seed %d is longer than %g px", c.kind, seed, truth.Length)
			assert.InEpsilon(t, thing.span*4, truth.Length, 0.1, "four pixels a millimetre")
		}
	}
}

// A leaning thing rests on the wires under it, or on its edge where it stands on
// that, and its wires start at its back and run along the ground, not under it.
func TestPoseTurnsTheBackAway(t *testing.T) {
	for _, lean := range []float64{0, math.Pi / 6, math.Pi / 2} {
		p := pose{lean, 4*math.Sin(lean) + 1.5*math.Cos(lean)} // a disc 8 mm wide and 2 mm thick, on wires of 0.5 mm
		assert.InDelta(t, 0.5*math.Cos(lean), p.place(vec{-4, -1, 0}).y, 1e-9)
		back := p.place(vec{0, -1, 0})
		legs := p.pigtails(newDice(1, 1), vec{0, -1, 0}, 2, 20, 0.25)
		require.Len(t, legs, 2)
		for i, side := range []float64{-1, 1} {
			assert.InDelta(t, 0, legs[i][0].distance(back.plus(vec{0, 0, side})), 1e-9)
			for _, at := range legs[i][1:] {
				assert.GreaterOrEqual(t, at.y, 0.25-1e-9, "a wire under the ground")
			}
			assert.Greater(t, legs[i][len(legs[i])-1].x, 10.0)
		}
	}
}
