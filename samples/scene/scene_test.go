package main

import (
	"fmt"
	"math"
	"os/exec"
	"slices"
	"testing"

	"ringwise/decode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The camera's picture of simple places follows from similar triangles.
func TestProjectSimplePlaces(t *testing.T) {
	level := lookDown(800, 600, 0, 0.4, 10)
	tilted := lookDown(800, 600, math.Pi/4, 0.4, 10)
	away := 800 / (2 * 0.4 * 10.0) // the camera's distance, mm
	for _, c := range []struct {
		name   string
		cam    camera
		at     vec
		x, y   float64
		within float64
	}{
		{"middle", level, vec{}, 400, 300, 1e-9},
		{"to the right", level, vec{5, 0, 0}, 450, 300, 1e-9},
		{"away is up", level, vec{0, 0, 5}, 400, 250, 1e-9},
		{"raised half way to the camera looks twice as large", level, vec{5, away / 2, 0}, 500, 300, 1e-9},
		{"middle of a tilted view", tilted, vec{}, 400, 300, 1e-9},
		{"far places shrink towards the horizon", tilted, vec{0, 0, 1e9}, 400, 300 - 400/0.4*math.Tan(math.Pi/4), 1e-3},
	} {
		t.Run(c.name, func(t *testing.T) {
			x, y := c.cam.project(c.at)
			assert.InDelta(t, c.x, x, c.within)
			assert.InDelta(t, c.y, y, c.within)
		})
	}
}

func TestGroundUndoesProject(t *testing.T) {
	cam := lookDown(1024, 768, 0.7, 0.35, 12)
	for _, at := range []vec{{0, 0, 0}, {20, 0, -10}, {-15, 0, 30}, {7, 2.5, 3}} {
		x, y := cam.project(at)
		back, ok := cam.ground(x, y, at.y)
		require.True(t, ok)
		assert.InDelta(t, 0, back.distance(at), 1e-9)
	}
}

// The true outlines must cover what POV-Ray, which knows nothing of our
// projection, shows of the bodies.
func TestOutlinesMatchRenderedMask(t *testing.T) {
	if _, err := exec.LookPath("povray"); err != nil {
		t.Skip("povray is not installed")
	}
	for seed := uint64(1); seed <= 6; seed++ {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			s := compose(seed, "hobby", 0.4)
			s.tape = ""
			mask, err := s.render(t.Context(), true)
			require.NoError(t, err)
			both, either := 0, 0
			polygons := s.polygons()
			for y := range mask.height {
				for x := range mask.width {
					seen := mask.planes[0][y*mask.width+x] > 0.5
					outlined := anyInside(polygons, float64(x)+0.5, float64(y)+0.5)
					if seen && outlined {
						both++
					}
					if seen || outlined {
						either++
					}
				}
			}
			// Rounded ends and waists lie inside the outline, necks outside.
			assert.Greater(t, float64(both)/float64(either), 0.8)
		})
	}
}

// A cylinder seen from straight above fills its outline, so its picture pins
// the projection to a fraction of a pixel.
func TestCylinderFillsItsOutline(t *testing.T) {
	if _, err := exec.LookPath("povray"); err != nil {
		t.Skip("povray is not installed")
	}
	s := &scene{cam: lookDown(200, 150, 0, 0.1, 12), pxPerMM: 12, lens: lens{enlarged: 1}}
	p := &part{kind: "resistor", shape: cylinder, length: 9, radius: 2, leadRadius: 0.01}
	p.profile = cylinderProfile(9, 2, 0.001)
	p.middle, p.along = vec{0.3, 2, -0.2}, heading(0)
	s.parts = []*part{p}
	mask, err := s.render(t.Context(), true)
	require.NoError(t, err)
	lit, sumX, sumY := 0.0, 0.0, 0.0
	for y := range mask.height {
		for x := range mask.width {
			if mask.planes[0][y*mask.width+x] > 0.5 {
				lit++
				sumX += float64(x) + 0.5
				sumY += float64(y) + 0.5
			}
		}
	}
	o := s.outlineOf(p)
	assert.InDelta(t, o.center[0], sumX/lit, 0.6)
	assert.InDelta(t, o.center[1], sumY/lit, 0.6)
	assert.InEpsilon(t, o.length*o.width, lit, 0.06)
}

// Cylinders with small bevels, seen askew, show nothing beside their outlines.
func TestCylindersHaveNoFlanges(t *testing.T) {
	if _, err := exec.LookPath("povray"); err != nil {
		t.Skip("povray is not installed")
	}
	for _, c := range []struct{ length, radius, bevel float64 }{{15.290268753, 1.404707832, 0.0734}, {4.2, 1.9, 0.26}, {20, 3, 0.13}, {3.4, 0.9, 0.04}} {
		s := &scene{cam: lookDown(240, 240, 0.7, 0.1, 7), pxPerMM: 7, lens: lens{enlarged: 1}}
		p := &part{kind: "resistor", shape: cylinder, length: c.length, radius: c.radius, leadRadius: 0.01}
		p.profile = cylinderProfile(c.length, c.radius, c.bevel)
		p.middle, p.along, p.spin = vec{0, c.radius, 0}, heading(1.3), 0.4
		s.parts = []*part{p}
		mask, err := s.render(t.Context(), true)
		require.NoError(t, err)
		lit, beside := 0, 0
		polygon := s.outlineOf(p).polygon
		for y := range mask.height {
			for x := range mask.width {
				if mask.planes[0][y*mask.width+x] < 0.5 {
					continue
				}
				lit++
				if !nearby(polygon, float64(x)+0.5, float64(y)+0.5) {
					beside++
				}
			}
		}
		assert.NotZero(t, lit)
		assert.Zero(t, beside, "%g mm long", c.length)
	}
}

// nearby says whether a point lies inside a polygon or up to two pixels beside it.
func nearby(polygon [4][2]float64, x, y float64) bool {
	for _, dx := range []float64{-2, 0, 2} {
		for _, dy := range []float64{-2, 0, 2} {
			if inside(polygon, x+dx, y+dy) {
				return true
			}
		}
	}
	return false
}

func (s *scene) polygons() (all [][4][2]float64) {
	for _, p := range s.parts {
		if p.kind == "resistor" {
			all = append(all, s.outlineOf(p).polygon)
		}
	}
	return all
}

func anyInside(polygons [][4][2]float64, x, y float64) bool {
	return slices.ContainsFunc(polygons, func(p [4][2]float64) bool { return inside(p, x, y) })
}

func inside(polygon [4][2]float64, x, y float64) bool {
	in := false
	for i := range polygon {
		a, b := polygon[i], polygon[(i+1)%4]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(y-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

func TestSameSeedSameScene(t *testing.T) {
	for _, style := range []string{"mixed", "clean", "product", "negatives", "uncoded"} {
		a, filesA := compose(7, style, 0.3).pov(false)
		b, filesB := compose(7, style, 0.3).pov(false)
		assert.Equal(t, a, b, style)
		assert.Equal(t, filesA, filesB, style)
		other, _ := compose(8, style, 0.3).pov(false)
		assert.NotEqual(t, a, other, style)
	}
}

// Over many seeds every ring colour, body paint, ground, shape and count of
// rings comes up.
func TestSpreadIsWide(t *testing.T) {
	rings, counts := map[decode.Colour]int{}, map[int]int{}
	bodies, shapes, grounds, kinds := map[string]int{}, map[shape]int{}, map[string]int{}, map[string]int{}
	for seed := uint64(1); seed <= 400; seed++ {
		s := compose(seed, "mixed", 0.3)
		grounds[s.ground.name]++
		require.NotEmpty(t, s.parts, "seed %d", seed)
		for _, p := range s.parts {
			kinds[p.kind]++
			if p.kind != "resistor" {
				continue
			}
			counts[len(p.Rings)]++
			bodies[p.skin.bodyName]++
			shapes[p.shape]++
			for _, c := range p.Rings {
				rings[c]++
			}
		}
	}
	assert.Len(t, rings, decode.ColourCount)
	assert.Len(t, bodies, len(bodyPaints))
	assert.Len(t, shapes, 4)
	assert.Len(t, counts, 5, "counts of rings: %v", counts)
	assert.Len(t, grounds, len(groundKinds)+1, "grounds: %v", grounds)
	assert.Len(t, kinds, len(lookalikes)+1, "kinds: %v", kinds)
}

func TestPaintOfEveryRingColour(t *testing.T) {
	for c := decode.Colour(0); c < decode.ColourCount; c++ {
		assert.GreaterOrEqual(t, len(ringPaints[c]), 3, "%v", c)
		assert.NotEmpty(t, drawnPaints[c], "%v", c)
	}
}

func TestBodiesLieInsideThePhotoAndApart(t *testing.T) {
	for seed := uint64(1); seed <= 60; seed++ {
		s := compose(seed, "mixed", 1)
		for i, p := range s.parts {
			if p.cut {
				continue
			}
			for _, c := range s.outlineOf(p).polygon {
				k := s.enlarge()
				assert.True(t, c[0] > 0 && c[1] > 0 && c[0] < float64(s.cam.width)*k && c[1] < float64(s.cam.height)*k,
					"seed %d part %d at %v", seed, i, c)
			}
			for j := range i {
				q := s.parts[j]
				assert.Greater(t, gapBetween(p.end(0), p.end(1), q.end(0), q.end(1)), (p.radius+q.radius)*0.9, "seed %d parts %d, %d", seed, i, j)
			}
		}
	}
}

func TestNegativesHoldNoResistor(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		s := compose(seed, "negatives", 1)
		for _, p := range s.parts {
			assert.NotEqual(t, "resistor", p.kind)
		}
		assert.NotZero(t, len(s.parts)+len(s.things))
	}
}

// Photos of style uncoded show all kinds of resistors without rings, whole, and
// nothing else: no resistor is counted in any.
func TestUncodedHoldsAllKinds(t *testing.T) {
	kinds := map[string]int{}
	for seed := uint64(1); seed <= 25; seed++ {
		s := compose(seed, "uncoded", 0.5)
		truth := s.describe("a.jpg", newPicture(s.cam.width, s.cam.height))
		assert.Empty(t, truth.Resistors)
		assert.Zero(t, truth.VisibleResistors)
		require.NotEmpty(t, truth.Distractors, "seed %d", seed)
		for _, d := range truth.Distractors {
			kinds[d.Kind]++
			assert.Empty(t, d.Bands, "seed %d: a %s wears rings", seed, d.Kind)
			assert.Greater(t, d.Length, 10.0, "seed %d: %s", seed, d.Kind)
			assert.Less(t, d.Length, 0.6*float64(s.cam.width), "seed %d: %s", seed, d.Kind)
			for i, side := range []int{s.cam.width, s.cam.height} {
				assert.Greater(t, d.Center[i], 0.0, "seed %d: %s", seed, d.Kind)
				assert.Less(t, d.Center[i], float64(side), "seed %d: %s", seed, d.Kind)
			}
		}
	}
	for _, kind := range []string{"photoresistor", "thermistor", "trimmer", "dotted resistor", "printed resistor", "blank body"} {
		assert.Greater(t, kinds[kind], 4, kind)
	}
	assert.Len(t, kinds, 6, "kinds: %v", kinds)
}

// White points of standard lights: x and y of CIE illuminant A (2856 K) are
// 0.4476 and 0.4074 (CIE 15, from memory); a Planckian radiator at 6500 K
// lies at 0.3135, 0.3237 (from memory of published tables).
func TestLampColour(t *testing.T) {
	for _, c := range []struct{ kelvin, x, y float64 }{{2856, 0.4476, 0.4074}, {6500, 0.3135, 0.3237}} {
		l := lampColour(c.kelvin)
		bigX := 0.4124564*l[0] + 0.3575761*l[1] + 0.1804375*l[2]
		bigY := 0.2126729*l[0] + 0.7151522*l[1] + 0.0721750*l[2]
		bigZ := 0.0193339*l[0] + 0.1191920*l[1] + 0.9503041*l[2]
		assert.InDelta(t, c.x, bigX/(bigX+bigY+bigZ), 0.002)
		assert.InDelta(t, c.y, bigY/(bigX+bigY+bigZ), 0.002)
	}
}

// Bodies in a photo are long enough to be read by eye, and heaps are small.
func TestBodiesAreLongEnoughAndHeapsSmall(t *testing.T) {
	arrangements := map[string]int{}
	for seed := uint64(1); seed <= 300; seed++ {
		s := compose(seed, "mixed", 1)
		arrangements[s.arrangement]++
		whole := 0
		for i, p := range s.parts {
			if p.kind != "resistor" || p.cut {
				continue
			}
			whole++
			assert.GreaterOrEqual(t, s.outlineOf(p).length, 40.0, "seed %d part %d", seed, i)
			assert.LessOrEqual(t, s.outlineOf(p).length, 1200.0, "seed %d part %d", seed, i)
		}
		if s.arrangement == "touching" {
			assert.LessOrEqual(t, whole, 4, "seed %d", seed)
		}
		assert.LessOrEqual(t, s.cam.tilt*180/math.Pi, 50.0, "seed %d", seed)
	}
	assert.Len(t, arrangements, 4)
}
