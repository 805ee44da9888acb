package page

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/color"
	imagedraw "image/draw"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/score"
	"ringwise/cmd/ringwise/internal/sheet/axetest"
	"ringwise/decode"
	"ringwise/vision"
)

// bench is a made-up score of a made-up photo: a part that was read wrongly
// though sure, one read wrongly, one right, one missed with its outline and
// one without, a diode that was read, and one part of a photo that is gone.
func bench(t *testing.T) *score.Card {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "bench")
	require.NoError(t, os.Mkdir(folder, 0o700))
	body := func(x int, more string) string {
		return fmt.Sprintf(`{"bands": ["brown", "black", "red", "gold"], "body_colour": "tan & old", "body": {"center": [%d, 100], "length_px": 100%s}}`, x, more)
	}
	outline := func(x int) string {
		return fmt.Sprintf(`, "axis_deg": 0, "polygon": [[%d, 80], [%d, 80], [%d, 120], [%d, 120]]`, x-50, x+50, x+50, x-50)
	}
	text := `{"photos": [{"file": "bench.png", "scene": {"ground": "felt", "illuminant_K": 2900}, "resistors": [` + strings.Join([]string{
		strings.Replace(body(100, outline(100)), `"body":`, `"ring_spans": [[0.1, 0.2], [0.3, 0.4], [0.5, 0.6], [0.8, 0.9]], "body":`, 1),
		body(250, ""), body(400, ""), body(550, outline(550)), body(700, "")}, ",") +
		`], "distractors": [{"kind": "diode", "center": [400, 300], "length_px": 80}]},
		{"file": "gone.png", "resistors": [` + body(100, "") + `]}]}`
	require.NoError(t, os.WriteFile(filepath.Join(folder, "truth.json"), []byte(text), 0o600))

	mat := image.NewRGBA(image.Rect(0, 0, 800, 400))
	imagedraw.Draw(mat, mat.Rect, image.NewUniform(color.RGBA{0x40, 0x60, 0x50, 0xff}), image.Point{}, imagedraw.Src)
	for _, x := range []int{100, 250, 400, 550, 700} {
		imagedraw.Draw(mat, image.Rect(x-50, 80, x+50, 120), image.NewUniform(color.RGBA{0xd0, 0xb0, 0x80, 0xff}), image.Point{}, imagedraw.Src)
	}
	var picture bytes.Buffer
	require.NoError(t, png.Encode(&picture, mat))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "bench.png"), picture.Bytes(), 0o600))

	sets, err := score.LoadSets([]string{filepath.Join(folder, "truth.json")})
	require.NoError(t, err)
	photo, gone := &sets[0].Photos[0], &sets[0].Photos[1]
	reported := func(x, y float64, verdict decode.Verdict, confidence float64, first decode.Colour) photoread.Part {
		rings := []decode.Colour{first, decode.Black, decode.Red, decode.Gold}
		cut := decode.Cut{}
		for i := range rings {
			cut.Rings = append(cut.Rings, decode.SeenRing{Centre: 0.15 + 0.2*float64(i), Width: 0.1})
		}
		return photoread.Part{
			Part: vision.Part{Outline: [4]vision.Point{{X: x - 48, Y: y - 18}, {X: x + 48, Y: y - 18}, {X: x + 48, Y: y + 18}, {X: x - 48, Y: y + 18}},
				Seen: decode.Sighting{Cuts: []decode.Cut{cut}}},
			Ranking: decode.Ranking{Verdict: verdict, Candidates: []decode.Candidate{
				{Reading: decode.Reading{Rings: rings}, Confidence: confidence, Order: []int{0, 1, 2, 3}}}},
		}
	}
	part := func(i int) score.Labelled { return score.Labelled{Photo: photo, Truth: photo.Resistors[i]} }
	found := func(i int, r photoread.Part) score.Labelled {
		l := part(i)
		l.Found, l.Reported = true, r
		return l
	}
	set := &score.Card{Name: "bench", Photos: 2, Things: 1,
		Labelled: []score.Labelled{
			found(0, reported(100, 100, decode.Sure, 0.9996, decode.Red)),
			found(1, reported(250, 100, decode.Check, 0.625, decode.Orange)),
			found(2, reported(400, 100, decode.Sure, 0.97, decode.Brown)),
			part(3), part(4),
			{Photo: gone, Truth: gone.Resistors[0]},
		},
		False:    []score.FalseBody{{Photo: photo, Distractor: &photo.Distractors[0], Reported: reported(400, 300, decode.Check, 0.5, decode.Green)}},
		Unopened: []score.Unopened{{Photo: "gone.png", Err: errors.New("no such file")}},
	}
	all := *set
	all.Name, all.Sets = "", []*score.Card{set, {Name: "empty <set>"}}
	all.Effort = &score.Effort{Read: 30 * time.Second, Floor: 4 * time.Second, Peak: 300 << 20, FloorPeak: 200 << 20}
	return &all
}

func written(t *testing.T, worst int) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, Write(t.Context(), &out, bench(t), time.Date(2026, 4, 11, 9, 0, 0, 0, time.UTC), worst))
	return out.String()
}

// within is the text of one section of the page.
func within(t *testing.T, text, id string) string {
	t.Helper()
	_, rest, ok := strings.Cut(text, `<section aria-labelledby="`+id+`">`)
	require.True(t, ok, id)
	part, _, ok := strings.Cut(rest, "</section>")
	require.True(t, ok, id)
	return part
}

func TestPage(t *testing.T) {
	text := written(t, 24)
	for id, wants := range map[string][]string{
		"figures": {
			`<th scope="row">found</th><td>3</td><td>6</td><td>50.0</td>`,
			`<th scope="row">wrong among sure</th><td>1</td><td>2</td><td>50.0</td>`,
			`7.5`, `100 MB`, `empty &lt;set&gt;`, `gone.png: no such file`,
		},
		"confidence": {
			`<svg `, `<th scope="row">90 to 100</th><td>2</td><td>98.5</td><td>1</td><td>50.0</td>`,
			`<th scope="row">60 to 70</th><td>1</td><td>62.5</td><td>0</td><td>0.0</td>`,
		},
		"colours": {
			`Of 12 rings 10 were right (83.3 %)`,
			`<th scope="row">BN brown</th><td>0</td><td class="right">1</td><td class="taken">1</td><td class="taken">1</td>`,
		},
		"groups": {`<caption>ground</caption>`, `<th scope="row">felt</th><td>5</td>`},
		"sure": {
			"Shown: 1 of 1.", "1. bench.png at 100, 100", "tan &amp; old body", "lamp of 2900 K",
			"BN BK RD GD (brown black red gold)", "over 99.9 %", "True outline, with the true rings", "As found, with the rings read",
		},
		"wrong":  {"Shown: 1 of 1.", "1. bench.png at 250, 100", "OG BK RD GD", "62.5 %"},
		"missed": {"Shown: 3 of 3.", "Nothing was reported here.", "True outline", `alt="Surroundings of bench.png at 700, 100"`, "No picture: "},
		"other":  {"Shown: 1 of 1.", "1. bench.png at 400, 300", "<strong>diode</strong>"},
	} {
		part := within(t, text, id)
		for _, want := range wants {
			assert.Contains(t, part, want, id)
		}
	}
	assert.Equal(t, 2, strings.Count(within(t, text, "sure"), "<image "))
	assert.Equal(t, 1, strings.Count(within(t, text, "wrong"), "<image "), "its true outline is not known")
	assert.Equal(t, 1, strings.Count(within(t, text, "missed"), "<image "))
	assert.Less(t, strings.Index(text, `id="sure"`), strings.Index(text, `id="wrong"`))
	assert.Less(t, strings.Index(text, `id="wrong"`), strings.Index(text, `id="missed"`))
}

// A page that is sent to someone else must be whole.
func TestPageNeedsNothingElse(t *testing.T) {
	text := written(t, 24)
	assert.NotContains(t, text, "<script")
	assert.NotContains(t, text, "<link")
	for _, source := range regexp.MustCompile(`(?:src|href)="([^"]*)"`).FindAllStringSubmatch(text, -1) {
		assert.Regexp(t, `^(#|data:image/jpeg;base64,)`, source[1])
	}

	decoder := xml.NewDecoder(strings.NewReader(text))
	decoder.Strict, decoder.AutoClose, decoder.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		if _, err := decoder.Token(); errors.Is(err, io.EOF) {
			break
		} else {
			require.NoError(t, err)
		}
	}
}

func TestPageShowsNoMoreThanAsked(t *testing.T) {
	text := written(t, 1)
	assert.Contains(t, within(t, text, "missed"), "Shown: 1 of 3.")
	text = written(t, 0)
	assert.NotContains(t, text, "<article")
	assert.Contains(t, within(t, text, "sure"), "Shown: 0 of 1.")
}

func TestPageStops(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	assert.ErrorIs(t, Write(ctx, io.Discard, bench(t), time.Now(), 24), context.Canceled)
}

func TestPageIsAccessible(t *testing.T) {
	axetest.New(t).Check(t, []byte(written(t, 24)))
}
