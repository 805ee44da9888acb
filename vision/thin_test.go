package vision

import (
	"fmt"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A photo may be some pixels high and very long, such as a torn one or a ruler's
// edge: looking for bodies in it, or where a person points, finds none and breaks
// nothing.
func TestThinPhotos(t *testing.T) {
	for _, size := range [][2]int{{12000, 16}, {16, 12000}, {30000, 16}, {5000, 16}, {9000, 20}, {16, 30000}, {40, 3000}} {
		t.Run(fmt.Sprintf("%d × %d", size[0], size[1]), func(t *testing.T) {
			p := paper(size[0], size[1])
			for x := 0; x < size[0]; x += 7 {
				for y := 0; y < size[1]; y += 3 {
					p.Set(x, y, color.RGBA{uint8(x), uint8(31 * y), 90, 255})
				}
			}
			photo := photographed(t, p)
			parts, err := Find(t.Context(), photo)
			require.NoError(t, err)
			assert.Empty(t, parts)

			far := Point{X: float64(size[0]) - 1, Y: float64(size[1]) - 1}
			part, err := At(t.Context(), photo, Point{}, far, nil)
			require.NoError(t, err)
			assert.NotEmpty(t, part.Seen.Fault)
		})
	}
}
