package vision

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawStrip draws a strip cell by cell with slight noise, the same each time.
func drawStrip(colour func(row, column int) tint) *strip {
	random := rand.New(rand.NewPCG(5, 8))
	s := &strip{detail: 2}
	for r := range stripRows {
		for c := range stripColumns {
			rgb := fromTint(colour(r, c))
			for k := range 3 {
				v := 255*encode(rgb[2-k]) + 4*random.Float64() - 2
				s.pixels[r][c][k] = float32(math.Max(0, math.Min(255, v)))
			}
		}
	}
	return s
}

// encode is the sRGB curve (IEC 61966-2-1), from memory of the standard.
func encode(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// shaded is a colour with a share of its light left.
func shaded(t tint, share float64) tint {
	rgb := fromTint(t)
	return toTint([3]float64{rgb[0] * share, rgb[1] * share, rgb[2] * share})
}

// Body and rings are solid; the ground is not, lit or in the body's shadow.
func TestSolid(t *testing.T) {
	wood := tint{62, 12, 28}
	for _, c := range []struct {
		name         string
		ground, body tint
	}{
		{"tan on paper", rowPaper.tint, rowTan.tint},
		{"pale on paper", rowPaper.tint, tint{88, 1, 12}},
		{"blue on paper", rowPaper.tint, tint{58, -8, -24}},
		{"blue on wood", wood, tint{58, -8, -24}},
		{"green on wood", wood, tint{50, -24, 12}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := drawStrip(func(_, column int) tint {
				switch {
				case column >= 60 && column < 68:
					return rowRings[5].tint
				case column >= 20 && column < 108:
					return c.body
				case column >= 10 && column < 118:
					return shaded(c.ground, 0.55)
				}
				return c.ground
			})
			solid := s.sides(bend{}).solid(c.body, []tint{c.ground})
			for i, v := range solid {
				want := 0.0
				if i >= 20 && i < 108 {
					want = 1
				}
				assert.InDelta(t, want, v, 1e-9, "column %d", i)
			}
		})
	}

	// A body on one side of the axis only is half solid.
	s := drawStrip(func(row, _ int) tint {
		if row < stripRows/2 {
			return rowTan.tint
		}
		return rowPaper.tint
	})
	for _, v := range s.sides(bend{}).solid(rowTan.tint, []tint{rowPaper.tint}) {
		assert.InDelta(t, 0.5, v, 1e-9)
	}
}

// The two sides of one body agree; those of a body and the ground differ by as
// much as their hues do.
func TestDiscord(t *testing.T) {
	whole := drawStrip(func(_, _ int) tint { return rowTan.tint })
	assert.Less(t, whole.sides(bend{}).discord(10, 118), 1.5)
	half := drawStrip(func(row, _ int) tint {
		if row < stripRows/2 {
			return rowTan.tint
		}
		return rowPaper.tint
	})
	want := math.Hypot(rowTan.a-rowPaper.a, rowTan.b-rowPaper.b)
	assert.InDelta(t, want, half.sides(bend{}).discord(10, 118), 1.5)
}

// A box that took in its body's shadow is narrowed to the body: plane geometry.
func TestWithoutShadow(t *testing.T) {
	const rowHeight = 2 * stripAcross / stripRows // over half the box's width
	for _, c := range []struct {
		name         string
		above, below int // rows of the strip that lie in shadow
		narrower     bool
	}{
		{"no shadow", 0, 0, false},
		{"shadow above", 6, 0, true},
		{"shadow below", 0, 7, true},
		{"shadow on both sides", 4, 5, true},
		{"a sliver of a body", 9, 9, false},
		{"all shadow", stripRows, 0, false},
	} {
		for _, angle := range []float64{0, 0.6, -1.4, math.Pi / 2} {
			t.Run(fmt.Sprintf("%s, %v", c.name, angle), func(t *testing.T) {
				shadow := shaded(rowPaper.tint, 0.6)
				s := drawStrip(func(row, column int) tint {
					switch {
					case row < c.above || row >= stripRows-c.below:
						return shadow
					case column >= 40 && column < 48:
						return rowRings[0].tint
					}
					return rowTan.tint
				})
				before := box{200, 150, angle, 80, 30}
				got, narrower := s.withoutShadow(before, []tint{rowPaper.tint})
				require.Equal(t, c.narrower, narrower)
				if !narrower {
					assert.Equal(t, before, got)
					return
				}
				top, bottom := -before.rise, before.rise
				if c.above > 0 {
					top = before.rise * (float64(c.above)*rowHeight - stripAcross)
				}
				if c.below > 0 {
					bottom = before.rise * (stripAcross - float64(c.below)*rowHeight)
				}
				for _, edge := range []struct{ across, want float64 }{{-got.rise, top}, {got.rise, bottom}} {
					wantX, wantY := before.at(0, edge.want)
					x, y := got.at(0, edge.across)
					assert.InDelta(t, 0, math.Hypot(x-wantX, y-wantY), 1e-6)
				}
				assert.Equal(t, before.half, got.half)
				assert.Equal(t, before.angle, got.angle)
			})
		}
	}
}

// A slope of light over the ground is recovered where parts hide a third of it.
func TestFitSurface(t *testing.T) {
	const w, h = 96, 72
	random := rand.New(rand.NewPCG(7, 11))
	for _, c := range []struct {
		name   string
		part   func(x, y int) bool
		shares float64 // of the pixels that are parts
	}{
		{"none", func(_, _ int) bool { return false }, 0},
		{"scattered", func(_, _ int) bool { return random.Float64() < 0.3 }, 0.3},
		{"stripes", func(x, _ int) bool { return x%10 < 3 }, 0.3},
		{"one in the middle", func(x, y int) bool { return x >= 18 && x < 78 && y >= 18 && y < 53 }, 0.3},
	} {
		t.Run(c.name, func(t *testing.T) {
			plane := func(x, y, k int) float64 {
				return [3]float64{190, 126, 134}[k] +
					[3]float64{24, -3, 4}[k]*(2*float64(x)/w-1) + [3]float64{-14, 2, 3}[k]*(2*float64(y)/h-1)
			}
			seen := make([]float32, 3*w*h)
			for y := range h {
				for x := range w {
					part := c.part(x, y)
					for k := range 3 {
						seen[3*(y*w+x)+k] = float32(plane(x, y, k))
						if part {
							seen[3*(y*w+x)+k] = [3]float32{90, 150, 160}[k]
						}
					}
				}
			}
			fitted, inside := fitSurface(seen, w, h)
			worst := 0.0
			for i, v := range fitted {
				worst = max(worst, math.Abs(float64(v)-plane(i/3%w, i/3/w, i%3)))
			}
			assert.Less(t, worst, 1.0)
			assert.InDelta(t, 1-c.shares, inside, 0.02)
		})
	}
}

// The ground of a view of any shape is seen, plain or mottled.
func TestSeeGroundTiny(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {1, 5}, {5, 1}, {2, 2}, {5, 1000}, {1000, 5}, {1, 1000}} {
		w, h := size[0], size[1]
		plain, mottled := make([]uint8, 3*w*h), make([]uint8, 3*w*h)
		for i := range plain {
			plain[i] = [3]uint8{200, 128, 134}[i%3]
			mottled[i] = uint8(i * 97)
		}
		v := view{w, h, 1, plain}
		g := seeGround(v)
		for _, at := range [][2]int{{0, 0}, {w - 1, h - 1}, {w / 2, h / 2}} {
			for k, want := range []float32{200, 128, 134} {
				assert.InDelta(t, want, g.at(v, at[0], at[1])[k], 4, "%d × %d at %v", w, h, at)
			}
		}
		assert.NotPanics(t, func() {
			v := view{w, h, 1, mottled}
			stand := seeGround(v).stand(v)
			defer stand.Close()
			assert.Equal(t, []int{h, w}, stand.Size())
		}, "%d × %d", w, h)
	}
}
