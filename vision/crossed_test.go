package vision

import (
	"image/color"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A wire, lead or tape that lies across a body looks like a ring, hides one or changes
// its colour; it runs on past the body's sides, which rings do not.
func TestFindCrossed(t *testing.T) {
	for _, tt := range []struct {
		name  string
		paint color.RGBA
		place float64 // along the body, as a share of its length
		slant float64 // how far along it runs for each pixel across
		reach float64 // half its length, in half widths of the body
		under bool    // the body lies over it
		told  bool
	}{
		{"red wire over a ring", color.RGBA{186, 30, 30, 255}, drawnPlaces[2], 0, 3, false, true},
		{"black wire in a gap", color.RGBA{26, 26, 28, 255}, 0.62, 0, 3, false, true},
		{"lead at a slant", drawnLead, 0.62, 0.2, 3, false, true},
		{"lead at a steep slant", drawnLead, 0.62, 0.9, 3, false, true},
		{"lead over the last ring", drawnLead, drawnPlaces[3], 0.4, 3, false, true},
		{"lead over a bare end", drawnLead, 0.94, 0.3, 3, false, true},
		{"clear tape over a ring", color.RGBA{12, 36, 90, 115}, drawnPlaces[1], 0, 3, false, true}, // premultiplied, 45 %
		{"a ring more", color.RGBA{186, 30, 30, 255}, 0.62, 0, 1, false, false},
		{"lead under the body", drawnLead, 0.62, 0.2, 3, true, false},
		{"lead under a ring", drawnLead, drawnPlaces[2], 0, 3, true, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			body := drawn{x: 310, y: 245, length: 160, angle: 20, rings: drawnCodes[0].rings}
			p := scene(640, 480, body)
			rise, half := tt.reach*body.width()/2, drawnRing*body.length/2
			middle := (tt.place - 0.5) * body.length
			body.fill(p, tt.paint, [][2]float64{
				{middle - half - tt.slant*rise, -rise}, {middle + half - tt.slant*rise, -rise},
				{middle + half + tt.slant*rise, rise}, {middle - half + tt.slant*rise, rise},
			})
			if tt.under {
				body.onto(p)
			}
			parts, err := Find(t.Context(), photographed(t, p))
			require.NoError(t, err)
			require.Len(t, parts, 1)
			told := slices.ContainsFunc(parts[0].Seen.Handicap, func(h string) bool { return strings.Contains(h, "across the body") })
			assert.Equal(t, tt.told, told, "%v", parts[0].Seen.Handicap)
		})
	}
}
