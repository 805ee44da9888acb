package vision

import (
	"cmp"
	"image"
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/decode"
)

// A drawnMark is a patch of paint on a drawn body: where it lies along and
// across, in shares of the body's length and width from its middle.
type drawnMark struct {
	from, to, top, bottom float64
	paint                 color.RGBA
}

func (d drawn) mark(picture *image.RGBA, marks ...drawnMark) {
	l, w := d.length, d.width()
	for _, m := range marks {
		d.fill(picture, m.paint, [][2]float64{{m.from * l, m.top * w}, {m.to * l, m.top * w}, {m.to * l, m.bottom * w}, {m.from * l, m.bottom * w}})
	}
}

// letters are marks in the middle third of the width, side by side, as printed
// values are.
func letters(n int) []drawnMark {
	var out []drawnMark
	for i := range n {
		at := 0.6 * ((float64(i)+0.5)/float64(n) - 0.5)
		out = append(out, drawnMark{at - 0.04, at + 0.04, -0.16, 0.16, drawnPaint[decode.Black]})
	}
	return out
}

// What is not coded by rings is said so, with what is seen instead, and no value
// is shown. IEC 60062 has no code of two rings, and of one only the black ring
// amid a zero-ohm link. Print, dots and coloured tips as on old parts: from
// memory, common practice, no source.
func TestNotRingCoded(t *testing.T) {
	red, yellow, black := drawnPaint[decode.Red], drawnPaint[decode.Yellow], drawnPaint[decode.Black]
	const across = "marks do not run across"
	for _, c := range []struct {
		name  string
		marks []drawnMark
		why   string
	}{
		{"printed with three letters", letters(3), across},
		{"printed with four letters", letters(4), across},
		{"a dot", []drawnMark{{-0.06, 0.06, -0.18, 0.18, red}}, "only one ring"},
		{"a tip and a dot", []drawnMark{{-0.06, 0.06, -0.18, 0.18, yellow}, {-0.5, -0.33, -0.5, 0.5, red}}, "only 2 rings"},
		{"a band at one end", []drawnMark{{0.22, 0.32, -0.5, 0.5, black}}, "only one ring is seen, as on a diode"},
		{"painted ends and a dot", []drawnMark{{-0.06, 0.08, -0.3, 0.3, yellow}, {-0.5, -0.33, -0.5, 0.5, red}, {0.36, 0.5, -0.5, 0.5, black}}, across},
		{"nothing", nil, "without rings"},
		{"two rings", []drawnMark{{0.25, 0.33, -0.5, 0.5, red}, {-0.25, -0.17, -0.5, 0.5, red}}, "only 2 rings"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			for _, angle := range []float64{0, 70} {
				body := drawn{x: 320, y: 240, length: 170, angle: angle}
				picture := scene(640, 480, body)
				body.mark(picture, c.marks...)
				parts, err := Find(t.Context(), photographed(t, picture))
				require.NoError(t, err)
				require.Len(t, parts, 1)
				assert.InDelta(t, body.x, centre(parts[0]).X, body.length/10)
				assert.InDelta(t, body.y, centre(parts[0]).Y, body.length/10)
				r := decode.Rank(parts[0].Seen)
				assert.Equal(t, decode.Unreadable, r.Verdict)
				assert.Contains(t, r.Why, "not ring-coded, or its rings cannot be seen: enter it by hand")
				assert.Contains(t, r.Why, c.why)
				assert.Empty(t, r.Candidates)
			}
		})
	}
}

// A printed part beside a ringed one says nothing of the light: the other reads
// as if it lay alone.
func TestPrintSaysNothingOfTheLight(t *testing.T) {
	ringed := drawn{x: 200, y: 240, length: 160, rings: drawnCodes[0].rings}
	printed := drawn{x: 640, y: 240, length: 170}
	both := scene(860, 480, ringed, printed)
	printed.mark(both, letters(3)...)
	parts, err := Find(t.Context(), photographed(t, both))
	require.NoError(t, err)
	require.Len(t, parts, 2)
	slices.SortFunc(parts, func(a, b Part) int { return cmp.Compare(centre(a).X, centre(b).X) })
	alone, err := Find(t.Context(), photographed(t, scene(860, 480, ringed)))
	require.NoError(t, err)
	require.Len(t, alone, 1)
	best, was := decode.Rank(parts[0].Seen).Candidates[0], decode.Rank(alone[0].Seen).Candidates[0]
	assert.Equal(t, ringed.rings, best.Rings)
	assert.InDelta(t, was.Confidence, best.Confidence, 0.02)
	assert.NotEmpty(t, parts[1].Seen.Fault)
}

// What made rings hard to see is named, and rings that are well seen have no
// such excuse.
func TestHindrance(t *testing.T) {
	glare := []drawnMark{{-0.4, 0.4, -0.16, 0.05, color.RGBA{255, 255, 255, 255}}}
	same := func(*image.RGBA) {}
	for _, c := range []struct {
		name   string
		length float64
		marks  []drawnMark
		spoil  func(p *image.RGBA)
		want   string
	}{
		{"well seen", 170, nil, same, ""},
		{"small", 52, nil, same, "pixels long: take the photo closer"},
		{"blurred", 170, nil, blurred(5), "the rings are blurred: hold the camera still"},
		{"glare", 170, glare, same, "burnt out by glare: use softer light"},
		{"dark", 170, nil, darkened(0.05), "too dark: use more light"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			body := drawn{x: 320, y: 240, length: c.length, angle: 10, rings: drawnCodes[1].rings}
			picture := scene(640, 480, body)
			body.mark(picture, c.marks...)
			c.spoil(picture)
			l := plainLook(t, picture, body)
			if c.want == "" {
				assert.Empty(t, l.hindrance())
			}
			assert.Contains(t, l.hindrance(), c.want)
		})
	}
}

// TestSeenAsWithoutRings checks that where a network is sure enough of a resistor
// without rings, one is told of, and no reading is.
func TestSeenAsWithoutRings(t *testing.T) {
	body := drawn{x: 320, y: 240, length: 180, angle: 10, rings: drawnCodes[1].rings}
	photo := photographed(t, scene(640, 480, body))
	pixels := picture{photo.Pixels}
	v := newView(pixels)
	g := seeGround(v)
	stand := g.stand(v)
	defer stand.Close()
	mask := plane{v.width, v.height, stand.ToBytes()}
	at := box{x: body.x, y: body.y, half: body.length / 2, rise: body.width() / 2, angle: body.angle * math.Pi / 180}.scaled(v.scale)
	ringed := func(chance float64) []look {
		return []look{{fit: fit{box: at, chance: chance}, fitted: at, rings: 4}}
	}
	for _, c := range []struct {
		name  string
		bare  float64 // how likely it has no rings
		looks []look
		want  []bool // whether each body is said to be without rings
	}{
		{"nothing else seen", 0.8, nil, []bool{true}},
		{"not sure", 0.3, nil, nil},
		{"likelier than with rings", 0.8, ringed(0.6), []bool{true}},
		{"likelier with rings", 0.6, ringed(0.8), []bool{false}},
		{"not sure, and rings are seen", 0.4, ringed(0), []bool{false}},
	} {
		got := unringed(pixels, v, mask, g, nil, []fit{{box: at, chance: c.bare}}, c.looks)
		require.Len(t, got, len(c.want), c.name)
		for i, want := range c.want {
			assert.Equal(t, want, strings.Contains(got[i].fault(), kindWithoutRings), c.name)
		}
	}
}

// plainLook is a look at a body where it was drawn, found or not.
func plainLook(t *testing.T, drawing *image.RGBA, body drawn) look {
	t.Helper()
	photo := photographed(t, drawing)
	pixels := picture{photo.Pixels}
	v := newView(pixels)
	g := seeGround(v)
	stand := g.stand(v)
	defer stand.Close()
	at := box{x: body.x, y: body.y, half: body.length / 2, rise: body.width() / 2, angle: body.angle * math.Pi / 180}
	strip, ground, f, ok := lit(pixels, v, plane{v.width, v.height, stand.ToBytes()}, g, fit{box: at.scaled(v.scale)}, nil)
	require.True(t, ok)
	return lookOnce(strip, ground, f, nil)
}

// blurred smears a picture with a Gaussian of so many pixels.
func blurred(sigma float64) func(p *image.RGBA) {
	return func(p *image.RGBA) {
		m, err := gocv.NewMatFromBytes(p.Rect.Dy(), p.Rect.Dx(), gocv.MatTypeCV8UC4, p.Pix)
		if err != nil {
			panic(err) // the picture's sizes are its own
		}
		defer m.Close()
		gocv.GaussianBlur(m, &m, image.Point{}, sigma, sigma, gocv.BorderReplicate)
		copy(p.Pix, m.ToBytes())
	}
}

// darkened leaves a share of each value.
func darkened(share float64) func(p *image.RGBA) {
	return func(p *image.RGBA) {
		for i := range p.Pix {
			if i%4 != 3 {
				p.Pix[i] = uint8(share * float64(p.Pix[i]))
			}
		}
	}
}
