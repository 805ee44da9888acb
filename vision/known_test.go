package vision

import (
	"cmp"
	"context"
	"image"
	"image/color"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// underLamp is a picture as a camera takes it that is set for another lamp: each
// channel of linear RGB, red first, is multiplied by its gain (the diagonal
// model of von Kries, textbook colour science).
func underLamp(p *image.RGBA, gain [3]float64) *image.RGBA {
	for i := range p.Pix {
		if k := i % 4; k != 3 {
			v := math.Min(1, linear[p.Pix[i]]*gain[k])
			if v <= 0.0031308 {
				v *= 12.92
			} else {
				v = 1.055*math.Pow(v, 1/2.4) - 0.055 // IEC 61966-2-1
			}
			p.Pix[i] = uint8(255*v + 0.5)
		}
	}
	return p
}

// taughtCodes are what the parts to be confirmed carry.
var taughtCodes = [][]decode.Colour{
	{decode.Red, decode.Violet, decode.Orange, decode.Gold},
	{decode.Brown, decode.Black, decode.Orange, decode.Gold},
	{decode.Orange, decode.Orange, decode.Brown, decode.Gold},
	{decode.Brown, decode.Red, decode.Black, decode.Gold},
}

// A maker paints rings in colours of its own.
type maker map[decode.Colour]color.RGBA

// onto draws a body in the maker's paints.
func (m maker) onto(p *image.RGBA, d drawn) {
	d.onto(p)
	for i, ring := range d.rings {
		if paint, own := m[ring]; own {
			left := (drawnPlaces[i] - drawnRing/2 - 0.5) * d.length
			right, rise := left+drawnRing*d.length, d.width()/2
			d.fill(p, paint, [][2]float64{{left, -rise}, {right, -rise}, {right, rise}, {left, rise}})
		}
	}
}

// towards are paints a share of the way from the plain ones to the maker's.
func (m maker) towards(share float64) maker {
	out := maker{}
	for ring, paint := range m {
		plain := drawnPaint[ring]
		mix := func(a, b uint8) uint8 { return uint8(float64(a) + share*(float64(b)-float64(a)) + 0.5) }
		out[ring] = color.RGBA{mix(plain.R, paint.R), mix(plain.G, paint.G), mix(plain.B, paint.B), 255}
	}
	return out
}

// left are the parts of a photo with one part of the code.
func (m maker) left(t *testing.T, gain [3]float64, code []decode.Colour) []Part {
	t.Helper()
	p := paper(640, 480)
	m.onto(p, drawn{x: 310, y: 245, length: 170, angle: 20, rings: code})
	left, err := Find(t.Context(), photographed(t, underLamp(p, gain)))
	require.NoError(t, err)
	require.Len(t, left, 1)
	return left
}

// taught are the parts to be confirmed, and the parts of another photo by the
// same lamp with one part of the code.
func (m maker) taught(t *testing.T, gain [3]float64, code []decode.Colour) (confirm, left []Part) {
	t.Helper()
	first := paper(900, 520)
	for i, rings := range taughtCodes {
		m.onto(first, drawn{x: 220 + 440*float64(i%2), y: 140 + 240*float64(i/2), length: 170, rings: rings})
	}
	confirm, err := Find(t.Context(), photographed(t, underLamp(first, gain)))
	require.NoError(t, err)
	require.Len(t, confirm, len(taughtCodes))
	slices.SortFunc(confirm, func(a, b Part) int { // into the order in which they were drawn
		row := func(p Part) float64 { return math.Round(centre(p).Y / 240) }
		return cmp.Or(cmp.Compare(row(a), row(b)), cmp.Compare(centre(a).X, centre(b).X))
	})
	return confirm, m.left(t, gain, code)
}

// confirmed are the four rings of a drawn body, where they were drawn.
func confirmed(rings []decode.Colour) []decode.KnownRing {
	var out []decode.KnownRing
	for i, c := range rings {
		out = append(out, decode.KnownRing{Centre: drawnPlaces[i], Width: drawnRing, Colour: c, Sure: true})
	}
	return out
}

// shareOf is how likely a code is.
func shareOf(p Part, code []decode.Colour) float64 {
	candidates := decode.Rank(p.Seen).Candidates
	i := slices.IndexFunc(candidates, func(c decode.Candidate) bool { return slices.Equal(c.Rings, code) })
	if i < 0 {
		return 0
	}
	return candidates[i].Confidence
}

// What looks like another colour in a bad light, or in a maker's own paint, is
// likelier to be read right once parts that look the same were confirmed, and mostly
// is. Paints are taken as far towards another colour's as it needs for them to be
// misread.
func TestConfirmedPartsResolve(t *testing.T) {
	right := 0
	for _, c := range []struct {
		name  string
		maker maker
		gain  [3]float64
		code  []decode.Colour
	}{
		{"red like orange", maker{decode.Red: {214, 84, 40, 255}, decode.Orange: {236, 142, 60, 255}}, [3]float64{1, 0.8, 0.55}, []decode.Colour{decode.Red, decode.Red, decode.Brown, decode.Gold}},
		{"brown like black", maker{decode.Brown: {58, 41, 34, 255}, decode.Black: {16, 16, 18, 255}}, [3]float64{0.6, 0.6, 0.74}, []decode.Colour{decode.Red, decode.Brown, decode.Orange, decode.Gold}},
		{"black like brown", maker{decode.Brown: {164, 100, 64, 255}, decode.Black: {92, 60, 44, 255}}, [3]float64{1, 0.85, 0.6}, []decode.Colour{decode.Brown, decode.Black, decode.Black, decode.Gold}},
	} {
		t.Run(c.name, func(t *testing.T) {
			read := func(parts []Part) []decode.Colour { return decode.Rank(parts[0].Seen).Candidates[0].Rings }
			m := c.maker.towards(0)
			for share := 0.05; slices.Equal(read(m.left(t, c.gain, c.code)), c.code); share += 0.05 {
				require.LessOrEqual(t, share, 1.5, "nothing is misread")
				m = c.maker.towards(share)
			}
			confirm, left := m.taught(t, c.gain, c.code)
			var light Light
			shares := []float64{shareOf(left[0], c.code)}
			for i, rings := range taughtCodes {
				var err error
				light, err = light.WithPart(confirm[i], confirmed(rings))
				require.NoError(t, err)
				shares = append(shares, shareOf(Under(left, light)[0], c.code))
			}
			assert.NotEqual(t, c.code, read(left), "as it looks")
			assert.Greater(t, shares[len(shares)-1], shares[0]+0.05, "%v", shares)
			if slices.Equal(c.code, read(Under(left, light))) {
				right++
			}
		})
	}
	assert.GreaterOrEqual(t, right, 2, "of three")
}

// A light that was told nothing leaves everything as it was; one that was told
// something leaves what it was given and what it was made from as they were.
func TestLightChangesNothingGiven(t *testing.T) {
	confirm, left := maker{}.taught(t, [3]float64{1, 0.8, 0.5}, taughtCodes[0])
	again, _ := maker{}.taught(t, [3]float64{1, 0.8, 0.5}, taughtCodes[0])
	assert.False(t, Light{}.Known())
	assert.Equal(t, left, Under(left, Light{}))

	var light Light
	var err error
	var steps []Light
	var weighed [][]Part
	for i, rings := range taughtCodes {
		light, err = light.WithPart(confirm[i], confirmed(rings))
		require.NoError(t, err)
		assert.True(t, light.Known())
		steps = append(steps, light)
		weighed = append(weighed, Under(left, light))
	}
	branch, err := steps[1].WithPart(confirm[3], confirmed(taughtCodes[3]))
	require.NoError(t, err)
	assert.NotEqual(t, steps[2], branch)
	for i, step := range steps {
		assert.Equal(t, weighed[i], Under(left, step), "light %d", i)
	}
	assert.Equal(t, again, confirm, "the parts confirmed")
	assert.NotEqual(t, left[0].Seen, weighed[3][0].Seen)
	assert.Equal(t, left[0].Outline, weighed[3][0].Outline)
	assert.Equal(t, left[0].Seen.Handicap, weighed[3][0].Seen.Handicap)
}

// The order in which parts are confirmed does not matter.
func TestOrderOfConfirming(t *testing.T) {
	confirm, left := maker{}.taught(t, [3]float64{1, 0.8, 0.5}, taughtCodes[0])
	var there, back Light
	for i := range taughtCodes {
		k := len(taughtCodes) - 1 - i
		there, _ = there.WithPart(confirm[i], confirmed(taughtCodes[i]))
		back, _ = back.WithPart(confirm[k], confirmed(taughtCodes[k]))
	}
	want, got := Under(left, there)[0].Seen.Cuts, Under(left, back)[0].Seen.Cuts
	require.Equal(t, len(want), len(got))
	for i := range want {
		for r := range want[i].Rings {
			assert.InDeltaSlice(t, want[i].Rings[r].LogLikelihood[:], got[i].Rings[r].LogLikelihood[:], 1e-6)
		}
	}
}

func TestWithPartRefuses(t *testing.T) {
	confirm, _ := maker{}.taught(t, [3]float64{1, 1, 1}, taughtCodes[0])
	rings := confirmed(taughtCodes[0])
	unsure := slices.Clone(rings)
	beyond := slices.Clone(rings)
	for i := range rings {
		unsure[i].Sure = false
		beyond[i].Centre += 2
	}
	for _, c := range []struct {
		name  string
		part  Part
		rings []decode.KnownRing
		want  string
	}{
		{"of no photo", Part{Seen: confirm[0].Seen}, rings, "found in no photo"},
		{"no rings", confirm[0], nil, "no ring of known colour"},
		{"no colours", confirm[0], unsure, "no ring of known colour"},
		{"elsewhere", confirm[0], beyond, "no ring of known colour"},
	} {
		before := Light{whites: []tint{{90, 0, 0}}}
		light, err := before.WithPart(c.part, c.rings)
		assert.ErrorContains(t, err, c.want, c.name)
		assert.Equal(t, before, light, c.name)
	}
}

// One confirmation that is plainly wrong does not undo what many others say.
func TestOneSlipIsBorne(t *testing.T) {
	confirm, left := maker{}.taught(t, [3]float64{1, 0.8, 0.6}, taughtCodes[0])
	var light Light
	for i, rings := range taughtCodes {
		if i == 1 {
			rings = []decode.Colour{decode.Blue, decode.White, decode.Green, decode.Gold}
		}
		light, _ = light.WithPart(confirm[i], confirmed(rings))
	}
	assert.Equal(t, taughtCodes[0], decode.Rank(Under(left, light)[0].Seen).Candidates[0].Rings)
}

// The light follows from a white spot alone: what the camera did to the paper is
// undone, to within what paper may differ by.
func TestWithWhite(t *testing.T) {
	for _, gain := range [][3]float64{{1, 0.75, 0.4}, {0.5, 0.7, 1}, {0.8, 0.8, 0.8}} {
		photo := photographed(t, underLamp(scene(640, 480, drawn{x: 310, y: 245, length: 170, rings: taughtCodes[0]}), gain))
		light, err := Light{}.WithWhite(photo, Point{40.5, 60.2})
		require.NoError(t, err)
		best, _ := light.fit()
		paper := best.light().undo([3]float64{
			linear[drawnPaper.R] * gain[0], linear[drawnPaper.G] * gain[1], linear[drawnPaper.B] * gain[2],
		})
		assert.InDelta(t, 0, distanceOf(tint{0, paper.a, paper.b - whitePaper.mean.b}), 6, "%v: %v", gain, paper)
		parts, err := FindUnder(t.Context(), photo, light)
		require.NoError(t, err)
		require.Len(t, parts, 1)
		assert.Equal(t, taughtCodes[0], decode.Rank(parts[0].Seen).Candidates[0].Rings)
	}
}

func TestWithWhiteRefuses(t *testing.T) {
	p := paper(400, 300)
	fill := func(from, to int, c color.RGBA) {
		for y := range 300 {
			for x := from; x < to; x++ {
				p.SetRGBA(x, y, c)
			}
		}
	}
	fill(0, 100, color.RGBA{255, 255, 250, 255})
	fill(100, 200, color.RGBA{40, 38, 30, 255})
	for x := 200; x < 300; x++ {
		v := uint8(120 + 80*(x/2%2))
		fill(x, x+1, color.RGBA{v, v, v, 255})
	}
	photo, err := Open(t.Context(), asPNG(t, p))
	require.NoError(t, err)
	defer photo.Close()
	for _, c := range []struct {
		at   Point
		want string
	}{
		{Point{50, 150}, "burnt out"},
		{Point{150, 150}, "too dark"},
		{Point{250, 150}, "not of one colour"},
		{Point{-1, 150}, "outside"},
		{Point{400, 150}, "outside"},
		{Point{50, math.NaN()}, "outside"},
		{Point{math.Inf(1), 50}, "outside"},
	} {
		light, err := Light{}.WithWhite(photo, c.at)
		assert.ErrorContains(t, err, c.want, "%v", c.at)
		assert.False(t, light.Known(), "%v", c.at)
	}
	for _, at := range []Point{{350, 150}, {399.9, 299.9}, {390, 0}} { // close to the frame's edge too
		light, err := Light{}.WithWhite(photo, at)
		assert.NoError(t, err, "%v", at)
		assert.True(t, light.Known(), "%v", at)
	}
}

func TestFindUnderStopsWithItsContext(t *testing.T) {
	photo := photographed(t, scene(640, 480, drawn{x: 310, y: 245, length: 170, rings: taughtCodes[0]}))
	_, err := FindUnder(afterwards{t.Context(), new(int)}, photo, Light{})
	assert.ErrorIs(t, err, context.Canceled)
}
