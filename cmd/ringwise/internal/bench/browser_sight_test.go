package bench

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/lucasb-eyer/go-colorful"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shift has a key pressed with Shift.
func (w window) shift(key string) {
	w.t.Helper()
	w.run(chromedp.KeyEvent(key, chromedp.KeyModifiers(8)))
}

// What is moved over the photo by arrows stays in sight, at 320 × 200 pixels too,
// which is 1280 × 800 at 400 %.
func TestPointingInSight(t *testing.T) {
	for _, c := range []struct{ button, cross string }{{"#mark", "#cross"}, {"#set-scale", "#spot-1"}} {
		t.Run(c.button, func(t *testing.T) {
			r := start(t, Options{})
			r.drawn(t)
			w := r.open(t, 320, 200)
			w.untilSays("#value", "5.6 kΩ")
			w.pressOn(c.button)
			w.until(`document.activeElement.matches(` + quote(c.cross) + `)`)
			top := 0.5
			for _, key := range []string{kb.ArrowDown, kb.ArrowUp} {
				for range 18 {
					w.shift(key)
					assert.Empty(t, w.inSight(c.cross), key)
				}
				now := value[float64](w, `parseFloat(document.querySelector(`+quote(c.cross)+`).style.top) / 100`)
				assert.Greater(t, (now-top)*map[string]float64{kb.ArrowDown: 1, kb.ArrowUp: -1}[key], 0.3, "it was moved far")
				top = now
			}
		})
	}
}

// What stands in an empty field as an example can be read: at least 4.5 : 1 against
// the field (WCAG 2.2, 1.4.3), in every scheme. It is told from what was typed by
// its slant.
func TestExamplesReadable(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	for scheme, features := range schemes {
		w.scheme(features...)
		got := value[[]string](w, `['#meter', '#find', '#power-at', '#project-list'].flatMap((e) => {
			const field = document.querySelector(e), example = getComputedStyle(field, '::placeholder');
			return [example.color, getComputedStyle(field).backgroundColor, example.fontStyle];
		})`)
		for i := 0; i < len(got); i += 3 {
			assert.Greater(t, contrast(t, got[i], got[i+1]), 4.5, "%s: %s on %s", scheme, got[i], got[i+1])
			assert.Equal(t, "italic", got[i+2])
		}
	}
}

// contrast is the contrast ratio of two opaque colours as browsers write them
// (WCAG 2.2, "contrast ratio" and "relative luminance").
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	luminance := func(text string) float64 {
		var red, green, blue float64
		_, err := fmt.Sscanf(text, "rgb(%g, %g, %g)", &red, &green, &blue)
		require.NoError(t, err, text)
		red, green, blue = colorful.Color{R: red / 255, G: green / 255, B: blue / 255}.LinearRgb()
		return 0.2126*red + 0.7152*green + 0.0722*blue
	}
	light, dark := luminance(a), luminance(b)
	return (max(light, dark) + 0.05) / (min(light, dark) + 0.05)
}

// The letters, the name and the role of every ring can be read in full at 320 pixels,
// however many rings there are: none runs into that of its neighbour, nor with
// letters, words and lines spaced out (WCAG 2.2, 1.4.12).
func TestRingsReadable(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 320, 800)
	w.untilSays("#hand-title", "Part 1 of 5")
	w.focusHand()
	w.press("o", kb.End)
	w.until(`document.activeElement.matches('#rings :nth-child(4)')`)
	for count := 4; count <= 6; count++ {
		if count > 4 {
			w.press("i", "v")
		}
		w.until(fmt.Sprintf(`document.querySelectorAll('#rings [role=option]').length === %d && document.querySelector('#rings :last-child .letters').textContent !== '?'`, count))
		for _, spacing := range []string{"", "* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important }"} {
			w.run(chromedp.Evaluate[chromedp.Void](`(() => { const sheet = new CSSStyleSheet(); sheet.replaceSync(` + quote(spacing) + `); document.adoptedStyleSheets = [sheet]; })()`))
			cut := value[[]string](w, `[...document.querySelectorAll('#rings [role=option] > span:not(.unseen, .swatch)')].filter((e) => {
				const text = document.createRange();
				text.selectNodeContents(e);
				const b = text.getBoundingClientRect(), marker = e.parentElement.getBoundingClientRect();
				return b.left < marker.left - 2 || b.right > marker.right + 2 || b.bottom > marker.bottom; // 2 lie between markers
			}).map((e) => e.textContent)`)
			assert.Empty(t, cut, "%d rings, spaced out: %t", count, spacing != "")
		}
		w.picture(fmt.Sprintf("rings-320-%d", count))
	}
}

// On paper, where browsers leave out grounds, the white numbers of parts keep their
// black one, and rings their paint; the foot of the page covers nothing.
func TestPrinted(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	_, err := chromedp.Call(w.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	require.NoError(t, err)
	for _, kept := range []string{"#plates span", "#rings .swatch"} {
		assert.Equal(t, "exact", value[string](w, `getComputedStyle(document.querySelector(`+quote(kept)+`)).printColorAdjust`), kept)
	}
	assert.Equal(t, "static", value[string](w, `getComputedStyle(document.querySelector('footer')).position`))
}
