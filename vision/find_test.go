package vision

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// Four rings of clear colours and what IEC 60062 makes of them: two digits, a
// multiplier and a tolerance in percent.
var drawnCodes = []struct {
	rings     []decode.Colour
	ohms      string
	tolerance string
}{
	{[]decode.Colour{decode.Green, decode.Blue, decode.Red, decode.Gold}, "5600", "5"},
	{[]decode.Colour{decode.Red, decode.Violet, decode.Orange, decode.Gold}, "27000", "5"},
	{[]decode.Colour{decode.Yellow, decode.Violet, decode.Black, decode.Gold}, "47", "5"},
	{[]decode.Colour{decode.Blue, decode.Grey, decode.Yellow, decode.Gold}, "680000", "5"},
}

// centre is the middle of a part.
func centre(p Part) Point { return p.At(0.5, 0.5) }

// At every angle, a drawn body is found where it was drawn and read as it was
// drawn.
func TestFindDrawnBody(t *testing.T) {
	for angle := 0; angle < 360; angle += 30 {
		code := drawnCodes[angle/30%len(drawnCodes)]
		t.Run(fmt.Sprintf("%d° %v", angle, code.rings), func(t *testing.T) {
			t.Parallel()
			body := drawn{x: 310, y: 245, length: 160, angle: float64(angle), rings: code.rings}
			photo := photographed(t, scene(640, 480, body))
			parts, err := Find(t.Context(), photo)
			require.NoError(t, err)
			require.Len(t, parts, 1)
			part := parts[0]
			assert.InDelta(t, body.x, centre(part).X, body.length/10)
			assert.InDelta(t, body.y, centre(part).Y, body.length/10)
			left, right := part.At(0, 0.5), part.At(1, 0.5)
			assert.InEpsilon(t, body.length, math.Hypot(right.X-left.X, right.Y-left.Y), 0.15, "length")

			ranking := decode.Rank(part.Seen)
			require.NotEmpty(t, ranking.Candidates)
			best := ranking.Candidates[0]
			assert.Equal(t, code.rings, best.Rings)
			assert.Equal(t, code.ohms, best.Ohms.String())
			assert.Equal(t, code.tolerance, best.TolerancePercent.Decimal.String())

			// Each ring seen lies where it was drawn, in the order of reading.
			for i, k := range best.Order {
				seen := part.At(part.Seen.Cuts[best.Cut].Rings[k].Centre, 0.5)
				x, y := body.at((drawnPlaces[i]-0.5)*body.length, 0)
				assert.InDelta(t, x, seen.X, body.length/20, "ring %d", i)
				assert.InDelta(t, y, seen.Y, body.length/20, "ring %d", i)
			}
		})
	}
}

// Of a body that the photo's edge cuts, or may cut, it is told that there may be
// rings beyond the edge: fewer rings than it has can be a code too. Of one that lies
// clear of the edge it is not.
func TestFindAtTheEdge(t *testing.T) {
	const length, width, height = 160, 640, 480
	for _, tt := range []struct {
		name   string
		beyond float64 // of the body's length
		told   bool
	}{
		{"a third beyond", 0.3, true}, {"the last ring beyond", 0.2, true}, {"up to the edge", 0, true}, {"clear of it", -0.15, false},
	} {
		reach := (0.5 - tt.beyond) * length // of its middle from the edge
		for angle, place := range map[float64]Point{0: {width - reach, 240}, 90: {320, height - reach}, 180: {reach, 240}, 270: {320, reach}} {
			t.Run(fmt.Sprintf("%s at %.0f°", tt.name, angle), func(t *testing.T) {
				body := drawn{x: place.X, y: place.Y, length: length, angle: angle, rings: drawnCodes[0].rings}
				parts, err := Find(t.Context(), photographed(t, scene(width, height, body)))
				require.NoError(t, err)
				require.Len(t, parts, 1)
				told := slices.ContainsFunc(parts[0].Seen.Handicap, func(h string) bool { return strings.Contains(h, "edge") })
				assert.Equal(t, tt.told, told, "%v", parts[0].Seen.Handicap)
			})
		}
	}
}

// Of a photo in black and white it is told that it has no colours, before all else.
func TestFindInBlackAndWhite(t *testing.T) {
	for _, code := range drawnCodes {
		coloured := scene(640, 480, drawn{x: 310, y: 245, length: 160, rings: code.rings})
		grey := image.NewGray(coloured.Bounds())
		draw.Draw(grey, grey.Bounds(), coloured, image.Point{}, draw.Src)
		photo, err := Open(t.Context(), asJPEG(t, grey))
		require.NoError(t, err)
		t.Cleanup(func() { photo.Close() })
		parts, err := Find(t.Context(), photo)
		require.NoError(t, err)
		require.Len(t, parts, 1, code.rings)
		require.NotEmpty(t, parts[0].Seen.Handicap, code.rings)
		assert.Contains(t, parts[0].Seen.Handicap[0], "no colours", code.rings)

		parts, err = Find(t.Context(), photographed(t, coloured))
		require.NoError(t, err)
		require.Len(t, parts, 1, code.rings)
		assert.Empty(t, parts[0].Seen.Handicap, code.rings)
	}
}

// Of a body an end of which something covers it is told, since there may be rings: what
// is left can be a code, too. Leads cover nothing.
func TestFindCoveredEnd(t *testing.T) {
	const reach = 4 // of what covers, in half widths of the body
	for _, tt := range []struct {
		name  string
		paint color.RGBA
		until float64 // along the body, as a share of its length
		told  bool
	}{
		{"a finger to behind the first ring", color.RGBA{222, 150, 122, 255}, 0.24, true},
		{"a dark thing up to the body", color.RGBA{52, 54, 58, 255}, 0.04, true},
		{"a finger on the lead alone", color.RGBA{222, 150, 122, 255}, -0.25, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			body := drawn{x: 330, y: 245, length: 160, angle: -15, rings: drawnCodes[0].rings}
			p := scene(640, 480, body)
			rise, left, right := reach*body.width()/2, -1.5*body.length, (tt.until-0.5)*body.length
			body.fill(p, tt.paint, [][2]float64{{left, -rise}, {right, -rise}, {right, rise}, {left, rise}})
			parts, err := Find(t.Context(), photographed(t, p))
			require.NoError(t, err)
			require.Len(t, parts, 1)
			told := slices.ContainsFunc(parts[0].Seen.Handicap, func(h string) bool { return strings.Contains(h, "an end of the body") })
			assert.Equal(t, tt.told, told, "%v", parts[0].Seen.Handicap)
		})
	}
}

// A spot of glare on a ring hides what colour it has; beside the rings it hides none.
func TestFindGlareOnARing(t *testing.T) {
	for _, tt := range []struct {
		name  string
		place float64 // along the body, as a share of its length
		told  bool
	}{
		{"on the second ring", drawnPlaces[1], true}, {"on the last ring", drawnPlaces[3], true}, {"between rings", 0.62, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			body := drawn{x: 310, y: 245, length: 160, angle: 30, rings: drawnCodes[1].rings}
			p := scene(640, 480, body)
			var spot [][2]float64
			for step := range 24 {
				s, c := math.Sincos(float64(step) * math.Pi / 12)
				spot = append(spot, [2]float64{(tt.place-0.5)*body.length + drawnRing*body.length*c, 0.6 * body.width() / 2 * s})
			}
			body.fill(p, color.RGBA{255, 255, 255, 255}, spot)
			parts, err := Find(t.Context(), photographed(t, p))
			require.NoError(t, err)
			require.Len(t, parts, 1)
			assert.Equal(t, tt.told, slices.Contains(parts[0].Seen.Handicap, burntRing), "%v", parts[0].Seen.Handicap)
		})
	}
}

// Where no body was drawn none is found.
func TestFindNothing(t *testing.T) {
	ink, blue := color.RGBA{60, 60, 70, 255}, color.RGBA{150, 180, 220, 255}
	same := func(x, y float64) (float64, float64) { return x, y }
	ruled, squared, crossed := paper(640, 480), paper(640, 480), paper(640, 480)
	for y := 20.0; y < 480; y += 24 {
		line := [][2]float64{{0, y}, {640, y}, {640, y + 1.5}, {0, y + 1.5}}
		fillOutline(ruled, blue, line, same)
		fillOutline(squared, blue, line, same)
	}
	for x := 10.0; x < 640; x += 24 {
		fillOutline(squared, blue, [][2]float64{{x, 0}, {x, 480}, {x + 1.5, 480}, {x + 1.5, 0}}, same)
	}
	for i := range 7 {
		x := 80 * float64(i)
		fillOutline(crossed, ink, [][2]float64{{x, 0}, {x + 3, 0}, {640 - x, 480}, {637 - x, 480}}, same)
	}
	for name, p := range map[string]*Photo{
		"blank sheet": photographed(t, paper(640, 480)), "ruled sheet": photographed(t, ruled),
		"squared sheet": photographed(t, squared), "crossing lines": photographed(t, crossed),
		"smallest": photographed(t, paper(MinSide, MinSide)),
		"strip":    photographed(t, paper(3000, MinSide)),
	} {
		parts, err := Find(t.Context(), p)
		require.NoError(t, err)
		assert.Empty(t, parts, name)
	}
}

// Bodies that lie close together are told apart.
func TestFindSideBySide(t *testing.T) {
	for _, angle := range []float64{0, 35, 90} {
		first := drawn{x: 320, y: 240, length: 160, angle: angle, rings: drawnCodes[0].rings}
		second := first
		second.x, second.y = first.at(0, 1.5*first.width())
		second.rings = drawnCodes[1].rings
		parts, err := Find(t.Context(), photographed(t, scene(640, 480, first, second)))
		require.NoError(t, err)
		require.Len(t, parts, 2, "%v°", angle)
		for _, body := range []drawn{first, second} {
			nearest := math.Inf(1)
			for _, p := range parts {
				nearest = min(nearest, math.Hypot(centre(p).X-body.x, centre(p).Y-body.y))
			}
			assert.Less(t, nearest, body.length/10)
		}
	}
}

// Bodies a fifth of their width apart are told apart.
func TestFindClose(t *testing.T) {
	for _, c := range []struct {
		lengths []float64
		angle   float64 // degrees
	}{
		{[]float64{200, 200, 200}, 0},
		{[]float64{200, 200, 200}, 25},
		{[]float64{140, 140, 140, 140}, 50},
		{[]float64{220, 150}, 90},
	} {
		turned := drawn{x: 500, y: 260, angle: c.angle}
		sheet := paper(1000, 750)
		var bodies []drawn
		across := 0.0
		for i, length := range c.lengths {
			b := drawn{length: length, angle: c.angle, rings: drawnCodes[i%len(drawnCodes)].rings}
			if i > 0 {
				across += b.width() / 2
			}
			b.x, b.y = turned.at(0, across)
			across += 0.7 * b.width()
			b.onto(sheet)
			b.shade(sheet)
			bodies = append(bodies, b)
		}
		parts, err := Find(t.Context(), photographed(t, sheet))
		require.NoError(t, err)
		for i, b := range bodies {
			at := func(p Part) bool { return span(centre(p), Point{b.x, b.y}) < 0.25*b.length }
			assert.True(t, slices.ContainsFunc(parts, at), "body %d of %v at %g degrees", i+1, c.lengths, c.angle)
		}
	}
}

// Parts come from top to bottom, and the same photo gives the same answer each
// time.
func TestFindOrder(t *testing.T) {
	var bodies []drawn
	for i, place := range [][2]float64{{700, 600}, {220, 150}, {240, 620}, {680, 170}, {460, 390}} {
		bodies = append(bodies, drawn{x: place[0], y: place[1], length: 160, angle: 37 * float64(i), rings: drawnCodes[i%len(drawnCodes)].rings})
	}
	photo := photographed(t, scene(920, 780, bodies...))
	parts, err := Find(t.Context(), photo)
	require.NoError(t, err)
	require.Len(t, parts, len(bodies))
	for i, want := range []int{1, 3, 4, 0, 2} {
		assert.InDelta(t, bodies[want].x, centre(parts[i]).X, 16, "part %d", i)
		assert.InDelta(t, bodies[want].y, centre(parts[i]).Y, 16, "part %d", i)
	}
	again, err := Find(t.Context(), photo)
	require.NoError(t, err)
	assert.Equal(t, parts, again)
}

func TestFindCancelled(t *testing.T) {
	photo := photographed(t, scene(640, 480, drawn{x: 320, y: 240, length: 160, rings: drawnCodes[0].rings}))
	cancelled, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := Find(cancelled, photo)
	assert.ErrorIs(t, err, context.Canceled)
	_, err = Find(afterwards{t.Context(), new(int)}, photo)
	assert.ErrorIs(t, err, context.Canceled, "while finding")
}

func TestOneLookPerBody(t *testing.T) {
	at := func(x, gain float64) look {
		return look{fit: fit{box: box{x: x, y: 50, half: 40, rise: 15}, fill: 1}, solid: 1, gain: gain}
	}
	for _, c := range []struct {
		name  string
		looks []look
		want  []float64 // gains
	}{
		{"one", []look{at(100, 50)}, []float64{50}},
		{"side by side", []look{at(100, 50), at(190, 60)}, []float64{50, 60}},
		{"ends crossing", []look{at(100, 50), at(160, 60)}, []float64{50, 60}},
		{"the same, better first", []look{at(100, 60), at(104, 50)}, []float64{60}},
		{"the same, better last", []look{at(100, 50), at(300, 55), at(104, 60)}, []float64{60, 55}},
	} {
		var got []float64
		for _, l := range oneLookPerBody(c.looks) {
			got = append(got, l.gain)
		}
		assert.Equal(t, c.want, got, c.name)
	}
}
