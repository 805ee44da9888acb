package vision

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPictureLevels(t *testing.T) {
	p := pictureOf(photographed(t, paper(2500, 1300)).Pixels)
	defer p.close()
	var sizes [][2]int
	for _, m := range p {
		sizes = append(sizes, [2]int{m.Cols(), m.Rows()})
	}
	assert.Equal(t, [][2]int{{2500, 1300}, {1250, 650}, {625, 325}}, sizes)
	for _, c := range []struct{ scale, want float64 }{{1.4, 1}, {1, 1}, {0.6, 1}, {0.5, 0.5}, {0.3, 0.5}, {0.25, 0.25}, {0.1, 0.25}} {
		m, shrunk := p.level(c.scale)
		assert.Equal(t, c.want, shrunk, "scale %g", c.scale)
		assert.Equal(t, int(2500*shrunk), m.Cols())
	}
}

// A strip looks the same whether it is sampled from the photo or from a copy.
func TestSampleFromCopy(t *testing.T) {
	body := drawn{x: 1200, y: 900, length: 1400, angle: 25, rings: drawnCodes[0].rings}
	photo := photographed(t, scene(2400, 1800, body))
	p := pictureOf(photo.Pixels)
	defer p.close()
	b := box{x: body.x, y: body.y, half: body.length / 2, rise: body.width() / 2, angle: 25 * math.Pi / 180}
	whole, ok := straighten(picture{photo.Pixels}, b)
	require.True(t, ok)
	fromCopy, ok := straighten(p, b)
	require.True(t, ok)
	m, _ := p.levelFor(b)
	require.Less(t, m.Cols(), photo.Pixels.Cols())
	assert.Equal(t, whole.detail, fromCopy.detail)
	apart := func(a, b *strip, shift int) float64 {
		sum := 0.0
		for r := range a.pixels {
			for c := range stripColumns - shift {
				for k := range 3 {
					d := float64(a.pixels[r][c][k] - b.pixels[r][c+shift][k])
					sum += d * d
				}
			}
		}
		return sum
	}
	assert.Less(t, apart(whole, fromCopy, 0), apart(whole, whole, 1)/8, "much nearer than one column beside")
}
