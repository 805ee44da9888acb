package vision

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// CIELAB under D65 of the corners of sRGB, from memory of widely published
// tables; of the 18 % grey card, L* 49.5, likewise.
func TestToTintPublished(t *testing.T) {
	for _, c := range []struct {
		name string
		rgb  [3]float64 // linear
		want tint
	}{
		{"white", [3]float64{1, 1, 1}, tint{100, 0, 0}},
		{"black", [3]float64{0, 0, 0}, tint{0, 0, 0}},
		{"grey card", [3]float64{0.18, 0.18, 0.18}, tint{49.5, 0, 0}},
		{"red", [3]float64{1, 0, 0}, tint{53.2, 80.1, 67.2}},
		{"green", [3]float64{0, 1, 0}, tint{87.7, -86.2, 83.2}},
		{"blue", [3]float64{0, 0, 1}, tint{32.3, 79.2, -107.9}},
		{"cyan", [3]float64{0, 1, 1}, tint{91.1, -48.1, -14.1}},
		{"magenta", [3]float64{1, 0, 1}, tint{60.3, 98.2, -60.8}},
		{"yellow", [3]float64{1, 1, 0}, tint{97.1, -21.6, 94.5}},
	} {
		got := toTint(c.rgb)
		assert.InDelta(t, c.want.l, got.l, 0.1, "L* of %s", c.name)
		assert.InDelta(t, c.want.a, got.a, 0.1, "a* of %s", c.name)
		assert.InDelta(t, c.want.b, got.b, 0.1, "b* of %s", c.name)
		assert.InDelta(t, c.want.l, lightness(0.2126*c.rgb[0]+0.7152*c.rgb[1]+0.0722*c.rgb[2]), 0.1, "lightness of %s", c.name)
	}
	// The straight piece of L* near black, CIE 15: 903.3 Y.
	assert.InDelta(t, 3.613, lightness(0.004), 0.001)
}

// OpenCV's own conversion of sRGB to Lab, in floating point, says the same.
func TestToTintOpenCV(t *testing.T) {
	colours := [][3]float32{ // blue first, 0 to 255
		{0, 0, 0}, {255, 255, 255}, {128, 128, 128}, {20, 20, 20}, {40, 40, 190}, {40, 110, 226}, {50, 200, 232},
		{62, 122, 40}, {160, 74, 38}, {140, 60, 112}, {36, 60, 104}, {132, 178, 208}, {10.5, 3.25, 7.75},
	}
	m := gocv.NewMatWithSize(1, len(colours), gocv.MatTypeCV32FC3)
	defer m.Close()
	pixels, err := m.DataPtrFloat32()
	require.NoError(t, err)
	for i, c := range colours {
		for k := range 3 {
			pixels[3*i+k] = c[k] / 255
		}
	}
	lab := gocv.NewMat()
	defer lab.Close()
	gocv.CvtColor(m, &lab, gocv.ColorBGRToLab)
	want, err := lab.DataPtrFloat32()
	require.NoError(t, err)
	for i, c := range colours {
		got := toTint(toLinear(c))
		assert.InDelta(t, want[3*i], got.l, 0.5, "L* of %v", c)
		assert.InDelta(t, want[3*i+1], got.a, 0.5, "a* of %v", c)
		assert.InDelta(t, want[3*i+2], got.b, 0.5, "b* of %v", c)
	}
}

// Every colour of sRGB survives the way to a tint and back.
func TestTintRoundTrip(t *testing.T) {
	const steps = 6
	for i := range steps * steps * steps {
		rgb := [3]float64{float64(i%steps) / (steps - 1), float64(i/steps%steps) / (steps - 1), float64(i/steps/steps) / (steps - 1)}
		back := fromTint(toTint(rgb))
		for k := range 3 {
			assert.InDelta(t, rgb[k], back[k], 1e-3, "part %d of %v", k, rgb)
		}
	}
	for _, part := range fromTint(tint{30, -90, 60}) {
		assert.GreaterOrEqual(t, part, 0.0, "a colour beyond what can be shown")
	}
}

// A column's colour is that of its middle rows: glint on a few rows and shade
// on a third change its sheen alone.
func TestProfile(t *testing.T) {
	body, glint, shade := tint{60, 6, 20}, tint{97, 0, 1}, tint{30, 3, 10}
	for _, c := range []struct {
		name          string
		glints, dark  int // rows
		least, mostly float64
	}{
		{"even", 0, 0, 0, 6},
		{"glint", 4, 0, 30, 45},
		{"shade", 0, 7, 24, 36},
		{"both", 4, 7, 60, 75},
	} {
		s := drawStrip(func(row, _ int) tint {
			switch {
			case row < c.glints:
				return glint
			case row >= stripRows-c.dark:
				return shade
			}
			return body
		})
		for i, seen := range s.profile(bend{}) {
			name := fmt.Sprintf("%s, column %d", c.name, i)
			assert.InDelta(t, 0, distanceOf(seen.tint.minus(body)), 1.5, name)
			assert.GreaterOrEqual(t, seen.sheen, c.least, name)
			assert.LessOrEqual(t, seen.sheen, c.mostly, name)
		}
	}
}

// A ring that leans or bows is one ring once its bend is undone.
func TestProfileBend(t *testing.T) {
	for _, b := range []bend{{}, {lean: 5}, {lean: -5}, {bow: 6}, {bow: -6}} {
		s := drawStrip(func(row, column int) tint {
			if at := float64(column) - b.shift(row); at >= 59.5 && at < 69.5 {
				return rowRings[0].tint
			}
			return rowTan.tint
		})
		profile := s.profile(b)
		for _, column := range []int{61, 64, 67} {
			assert.InDelta(t, 0, distanceOf(profile[column].tint.minus(rowRings[0].tint)), 3, "%+v, column %d", b, column)
		}
		for _, column := range []int{54, 57, 72, 75} {
			assert.InDelta(t, 0, distanceOf(profile[column].tint.minus(rowTan.tint)), 3, "%+v, column %d", b, column)
		}
	}
}
