package strip

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ringwise/decode"
)

// letters are the texts of shapes.
func letters(shapes []Shape) (list []string) {
	for _, s := range shapes {
		if s.Text != "" {
			list = append(list, s.Text)
		}
	}
	return list
}

// Rows of every length are lettered in order, stay on the strip and keep
// apart.
func TestDraw(t *testing.T) {
	row := []decode.Colour{decode.Green, decode.Blue, decode.Black, decode.Gold, decode.Silver, decode.Pink}
	for n := 1; n <= len(row); n++ {
		for _, style := range []Style{{}, {Grey: true}, {Blank: true}} {
			shapes := Draw(row[:n], style)
			if style.Blank {
				assert.Empty(t, letters(shapes))
			} else {
				assert.Equal(t, []string{"GN", "BU", "BK", "GD", "SR", "PK"}[:n], letters(shapes))
			}
			for _, s := range shapes {
				for _, p := range s.Points {
					assert.True(t, p.X >= 0 && p.X <= Width && p.Y >= 0 && p.Y <= Height, "%v", p)
				}
				assert.Equal(t, style.Blank && s.Dashed, s.Dashed)
				if style.Grey {
					assert.True(t, s.Fill.R == s.Fill.G && s.Fill.G == s.Fill.B)
				}
			}
		}
		for i := 1; i < n; i++ {
			assert.Greater(t, centre(i, n)-centre(i-1, n), tabWidth)
		}
	}
}

// Without colour gold, silver, pink and white are told apart by hatching.
func TestHatching(t *testing.T) {
	marks := map[decode.Colour][]Shape{}
	for _, c := range []decode.Colour{decode.Gold, decode.Silver, decode.Pink, decode.White} {
		marks[c] = hatching(c, 30, true)
		assert.Equal(t, c == decode.White, len(marks[c]) == 0, "%v", c)
		assert.Empty(t, hatching(c, 30, false))
		for other, shapes := range marks {
			assert.Equal(t, other == c, assert.ObjectsAreEqual(shapes, marks[c]), "%v and %v", c, other)
		}
	}
}

// Tabs stand below their rings where there is room, beside them where not,
// and always in order and on the strip.
func TestTabs(t *testing.T) {
	row := []decode.Colour{decode.Green, decode.Blue, decode.Black, decode.Gold, decode.Silver, decode.Pink}
	for _, c := range []struct {
		at    []float64
		below bool
	}{
		{[]float64{0.2, 0.4, 0.6, 0.8}, true},
		{[]float64{0.3, 0.33, 0.36, 0.9}, false},
		{[]float64{0.01, 0.02, 0.03, 0.04, 0.05, 0.06}, false},
		{[]float64{0.94, 0.95, 0.96, 0.97, 0.98, 0.99}, false},
		{nil, true},
	} {
		n := max(len(c.at), 3)
		shapes := Tabs(row[:n], c.at)
		assert.Equal(t, []string{"GN", "BU", "BK", "GD", "SR", "PK"}[:n], letters(shapes))
		last := -tabWidth
		ring := 0
		for _, s := range shapes {
			for _, p := range s.Points {
				assert.True(t, p.X >= 0 && p.X <= Width && p.Y >= 0 && p.Y <= TabsHeight, "%v", p)
			}
			if s.Text == "" {
				continue
			}
			x := s.Points[0].X
			assert.GreaterOrEqual(t, x-last, tabWidth, "%v", c.at)
			if c.below && c.at != nil {
				assert.InDelta(t, c.at[ring]*Width, x, 1e-9)
			}
			last, ring = x, ring+1
		}
	}
}
