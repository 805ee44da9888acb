package vision

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// A drawn body is read where a person points at its ends, roughly and from
// whichever end; what is read is right by IEC 60062 but never sure.
func TestAt(t *testing.T) {
	for i, code := range drawnCodes {
		t.Run(fmt.Sprint(code.rings), func(t *testing.T) {
			body := drawn{x: 310, y: 245, length: 150, angle: 50 * float64(i), rings: code.rings}
			photo := photographed(t, scene(640, 480, body))
			defer photo.Close()
			end := func(along, off float64) Point {
				x, y := body.at(along*body.length, off*body.length)
				return Point{x, y}
			}
			for _, ends := range [][2]Point{{end(-0.5, 0), end(0.5, 0)}, {end(0.46, 0.04), end(-0.53, -0.03)}} {
				part, err := At(t.Context(), photo, ends[0], ends[1], nil)
				require.NoError(t, err)
				assert.InDelta(t, body.x, centre(part).X, body.length/10)
				assert.InDelta(t, body.y, centre(part).Y, body.length/10)
				assert.InEpsilon(t, body.length, span(part.At(0, 0.5), part.At(1, 0.5)), 0.2, "length")
				pointed := math.Atan2(ends[1].Y-ends[0].Y, ends[1].X-ends[0].X)
				found := math.Atan2(part.At(1, 0.5).Y-part.At(0, 0.5).Y, part.At(1, 0.5).X-part.At(0, 0.5).X)
				assert.Greater(t, math.Cos(pointed-found), 0.98, "the first end pointed at is the left one")
				ranking := decode.Rank(part.Seen)
				require.NotEmpty(t, ranking.Candidates)
				assert.Equal(t, code.rings, ranking.Candidates[0].Rings)
				assert.Equal(t, code.ohms, ranking.Candidates[0].Ohms.String())
				assert.Equal(t, decode.Check, ranking.Verdict)
				assert.Contains(t, ranking.Why, "where you pointed")
			}
		})
	}
}

// Where there are no rings the part lies where it was pointed at, and a person
// can say what its rings are.
func TestAtNothing(t *testing.T) {
	photo := photographed(t, scene(640, 480))
	defer photo.Close()
	part, err := At(t.Context(), photo, Point{200, 100}, Point{300, 100}, nil)
	require.NoError(t, err)
	assert.InDelta(t, 200, part.At(0, 0.5).X, 1)
	assert.InDelta(t, 300, part.At(1, 0.5).X, 1)
	ranking := decode.Rank(part.Seen)
	assert.Equal(t, decode.Unreadable, ranking.Verdict)
	assert.Contains(t, ranking.Why, "set them by hand")
	known := decode.Known{From: decode.LeftEnd}
	for i, c := range drawnCodes[0].rings {
		known.Rings = append(known.Rings, decode.KnownRing{Centre: drawnPlaces[i], Width: drawnRing, Colour: c, Sure: true})
	}
	ranking, _ = decode.RankKnown(part.Seen, known)
	require.NotEmpty(t, ranking.Candidates)
	assert.Equal(t, drawnCodes[0].ohms, ranking.Candidates[0].Ohms.String())
}

func TestAtRefuses(t *testing.T) {
	photo := photographed(t, scene(640, 480))
	defer photo.Close()
	_, err := At(t.Context(), photo, Point{200, 100}, Point{700, 100}, nil)
	assert.ErrorContains(t, err, "outside the photo")
	_, err = At(t.Context(), photo, Point{200, 100}, Point{205, 100}, nil)
	assert.ErrorContains(t, err, "too close together")
	_, err = At(t.Context(), photo, Point{math.NaN(), 100}, Point{205, 100}, nil)
	assert.Error(t, err)
}

// Of a body that the photo's edge may cut it is said where a person points at it, too.
func TestAtTheEdge(t *testing.T) {
	body := drawn{x: 60, y: 240, length: 160, rings: drawnCodes[0].rings}
	photo := photographed(t, scene(640, 480, body))
	part, err := At(t.Context(), photo, Point{2, 240}, Point{140, 240}, nil)
	require.NoError(t, err)
	require.NotEmpty(t, part.Seen.Handicap)
	assert.Contains(t, part.Seen.Handicap[0], "edge")
}
