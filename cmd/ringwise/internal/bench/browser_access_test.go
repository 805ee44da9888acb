package bench

import (
	"fmt"
	"net/netip"
	"os"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// axeFile is axe-core, a general-purpose checker of accessibility, as
// testdata/check installs it.
const axeFile = "../../../../testdata/browser/node_modules/axe-core/axe.min.js"

// pageStates lead a fresh window through every state of the page, the next from
// where the last left off.
var pageStates = []struct {
	name  string
	enter func(r rig, w window)
}{
	{"welcome", func(r rig, w window) { w.until(`!document.querySelector('#welcome').hidden`) }},
	{"error", func(r rig, w window) {
		w.run(chromedp.Evaluate[chromedp.Void](`import('/intake.js').then((m) => m.bringIn([new File(['no photo'], 'notes.jpg')]))`))
		w.untilSays("#alert", "notes.jpg")
	}},
	{"in-hand", func(r rig, w window) {
		w.click("#alert button")
		r.drawn(w.t)
		w.untilSays("#value", "5.6 kΩ")
		w.until(`document.querySelector('#strip').complete && document.querySelector('#photo').complete`)
		w.focusHand()
	}},
	{"marking", func(r rig, w window) {
		w.click("#mark")
		w.until(`document.activeElement.id === 'cross'`)
		w.press(kb.Enter)
		w.untilSays("#said", "Now the other end")
		w.press(kb.ArrowRight, kb.ArrowDown)
	}},
	{"facts-open", func(r rig, w window) {
		w.press(kb.Escape)
		w.until(`document.querySelector('#pointing').hidden`)
		w.click("#facts summary")
		w.click("#cautions summary")
	}},
	{"confirmed", func(r rig, w window) {
		w.focusHand()
		w.confirm()
		w.untilSays("#hand-title", "Part 2 of 5")
		w.press(kb.PageUp)
		w.untilSays("#hand-title", "Part 1 of 5: confirmed")
	}},
	{"corrected", func(r rig, w window) {
		w.press(kb.PageDown)
		w.untilSays("#hand-title", "Part 2 of 5")
		w.press("o")
		w.untilSays("#said", "ring 1 is orange")
		w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('input[value=out]').checked = true; document.querySelector('#meter').value = '820k'; document.querySelector('#meter-form').requestSubmit()`))
		w.untilSays("#meter-says", "820k")
	}},
	{"unreadable", func(r rig, w window) {
		w.focusHand()
		w.press(kb.PageDown, kb.PageDown, kb.PageDown)
		w.untilSays("#value", "No value yet")
	}},
	{"scale", func(r rig, w window) {
		w.click("#set-scale")
		w.until(`document.activeElement.id === 'spot-1'`)
	}},
	{"keys", func(r rig, w window) {
		w.press(kb.Escape)
		w.focusHand()
		w.press("?")
		w.until(`document.querySelector('#keys-dialog').open`)
	}},
	{"values", func(r rig, w window) {
		w.press(kb.Escape)
		w.click("#values")
		w.until(`document.querySelector('#values-dialog').open`)
		w.untilSays("#values-list", "kilo-ohm")
	}},
	{"by-hand", func(r rig, w window) {
		w.press(kb.Escape)
		w.click("#hand-entry")
		w.until(`document.querySelector('#by-hand').open`)
	}},
	{"camera", func(r rig, w window) {
		w.press(kb.Escape)
		w.click("#camera")
		w.until(`document.querySelector('#video').videoWidth > 0`)
	}},
	{"phone", func(r rig, w window) {
		w.click("#camera-close")
		w.click("#phone")
		w.until(`document.querySelector('#invitation svg') !== null`)
	}},
	{"bins", func(r rig, w window) {
		w.press(kb.Escape)
		w.click("#to-bins")
		w.untilSays("#bins-count", "1 bins, 1 part")
		w.click("#cabinet summary")
		w.until(`document.querySelector('#cabinet img').complete`)
	}},
	{"entry-facts", func(r rig, w window) {
		w.click("#cabinet [data-do=facts]")
		w.until(`document.querySelector('#entry-facts').open`)
	}},
	{"use", func(r rig, w window) {
		w.press(kb.Escape)
		w.click("#cabinet [data-do=use]")
		w.untilSays("#use-title", "entry #1")
		w.fill("spread", "low", "-10", "high", "60", "tempco", "100", "measured", "5.58k")
		w.untilSays("#use section:nth-child(1) .says", "inside the tolerance")
		w.fill("stand-in", "value", "5K1", "tolerance", "20", "power", "1/4 W")
		w.untilSays("#use section:nth-child(2) .says", "Only if")
		w.fill("power", "at", "12 V")
		w.untilSays("#use section:nth-child(3) .says", "25.71 mW")
	}},
	{"use-unconfirmed", func(r rig, w window) {
		w.click("#to-use")
		w.untilSays("#use-title", "no value yet")
		w.click("#to-bench")
		w.until(`document.querySelector('#hand').checkVisibility()`)
		w.focusHand()
		w.press(kb.PageUp)
		w.untilSays("#hand-title", "Part 4 of 5")
		w.click("#hand [data-do=use]")
		w.untilSays("#use-doubt", "Nobody has confirmed")
		w.fill("stand-in", "value", "five")
		w.untilSays("#stand-in-value-error", "does not start with a number")
	}},
	{"finding", func(r rig, w window) {
		w.click("#to-finding")
		w.fill("combine", "target", "5K6", "tolerance", "5")
		w.untilSays("#finding section:nth-child(2) .says", "5.6 kΩ")
		w.fill("replace", "value", "5K1", "tolerance", "10")
		w.untilSays("#finding section:nth-child(1) .says", "5.1 kΩ")
		w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('#choice-from').value = 'E24'; document.querySelector('#choice-from').onchange()`))
		w.fill("divider", "in", "12 V", "out", "3.3 V", "load", "10k")
		w.untilSays("#finding section:nth-child(3) .says", "upper")
		w.click("#finding .take button")
		w.untilSays("#finding .take", "Take now")
	}},
	{"project", func(r rig, w window) {
		w.fill("project", "list", "reference,value,kind\nR1,5K6,\nR2,100R,fusible\n")
		w.untilSays("#finding section:nth-child(4) .says", "Of 2 places")
	}},
	{"lesson", func(r rig, w window) {
		w.click("#to-lesson")
		w.fill("lesson", "count", "many")
		w.untilSays("#lesson-count-error", "1 to 60")
		w.run(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll('[name=kinds]').forEach((box) => { box.checked = box.value === 'value'; })`))
		w.fill("lesson", "count", "1", "level", "1")
		w.untilSays("#lesson .says", "1 sheet made")
	}},
}

// schemes are the ways in which people have their screens.
var schemes = map[string][]string{
	"light":  {"prefers-color-scheme:light"},
	"dark":   {"prefers-color-scheme:dark"},
	"forced": {"forced-colors:active", "prefers-color-scheme:dark"},
}

// withNetwork opens the bench to a network that nobody uses (RFC 5737).
var withNetwork = Options{Addresses: []netip.Addr{netip.MustParseAddr("192.0.2.77")}}

// axe-core finds nothing wrong with any state of the page in any scheme at any
// width.
func TestAxe(t *testing.T) {
	source, err := os.ReadFile(axeFile)
	if os.IsNotExist(err) {
		t.Skip("axe-core is not installed: run testdata/check")
	}
	require.NoError(t, err)
	for scheme, features := range schemes {
		t.Run(scheme, func(t *testing.T) {
			r := start(t, withNetwork)
			w := r.open(t, 1440, 900)
			w.scheme(features...)
			w.run(chromedp.Evaluate[chromedp.Void](string(source)))
			for _, state := range pageStates {
				state.enter(r, w)
				for _, width := range []int64{320, 768, 1440} {
					w.run(chromedp.EmulateViewport(width, 900))
					found := get(w, chromedp.Evaluate[[]string](`axe.run(document, {resultTypes: ['violations']}).then((r) => r.violations.flatMap((v) =>
						v.nodes.map((n) => v.impact + ' ' + v.id + ': ' + n.html.slice(0, 160) + ' ' + n.failureSummary)))`, chromedp.EvalAwaitPromise))
					assert.Empty(t, found, "%s, %s, %d pixels wide", state.name, scheme, width)
				}
				w.picture(fmt.Sprintf("%s-1440-%s", state.name, scheme))
			}
		})
	}
}

// Nothing is lost at 320 pixels, which is also 1280 pixels at 400 % (WCAG 2.2,
// 1.4.10), nor with text of twice the size (1.4.4): nothing has to be scrolled
// sideways, and targets stay at least 44 pixels large.
func TestReflow(t *testing.T) {
	for _, size := range []struct {
		width int64
		text  string // size of the letters
	}{{320, "100%"}, {768, "100%"}, {1440, "100%"}, {1280, "212.5%"}} {
		t.Run(fmt.Sprintf("%d at %s", size.width, size.text), func(t *testing.T) {
			r := start(t, withNetwork)
			w := r.open(t, size.width, 800)
			w.run(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.documentElement.style.fontSize = %q`, size.text)))
			for _, state := range pageStates {
				state.enter(r, w)
				assert.LessOrEqual(t, value[int](w, `document.scrollingElement.scrollWidth - document.scrollingElement.clientWidth`), 0, state.name)
				wide := value[[]string](w, `[...document.querySelectorAll('body *')].filter((e) => e.checkVisibility() && !e.closest('.unseen, svg, .skip, .stage') &&
					(e.getBoundingClientRect().right > innerWidth + 1 || e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline' && e.clientWidth > 0 && !e.matches('input, select')))
					.map((e) => e.outerHTML.slice(0, 120))`)
				assert.Empty(t, wide, "%s: wider than its room", state.name)
				assert.False(t, value[bool](w, `(() => {
					scrollTo(0, document.scrollingElement.scrollHeight);
					const [a, b] = ['.sheet', '#hand'].map((e) => document.querySelector(e).getBoundingClientRect());
					return a.right > b.left && b.right > a.left && a.bottom > b.top && b.bottom > a.top;
				})()`), "%s: the photo covers the part in hand", state.name)
				small := value[[]string](w, `[...document.querySelectorAll('button, select, summary, header a, .files a, [role=option], input, textarea')].filter((e) => e.checkVisibility())
					.map((e) => [e, (e.matches('[type=radio], [type=checkbox]') ? e.closest('label') : e).getBoundingClientRect()])
					.filter(([, b]) => b.width < 43.5 || b.height < 43.5).map(([e, b]) => b.width + ' x ' + b.height + ' ' + e.outerHTML.slice(0, 120))`)
				assert.Empty(t, small, "%s: too small to hit", state.name)
				w.picture(fmt.Sprintf("%s-%d-%s", state.name, size.width, size.text[:3]))
			}
		})
	}
}

// In a low window, such as 1600 × 1200 at 400 %, the ring in focus and the value
// that Enter confirms are both in view, whichever part comes and whichever way.
func TestLowWindow(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 400, 300)
	w.untilSays("#value", "5.6 kΩ")
	w.focusHand()
	for i, act := range []struct {
		name string
		do   func()
		want string
	}{
		{"the next part", func() { w.press(kb.PageDown) }, "Confirm 47 kΩ ±5 %"},
		{"another ring", func() { w.press(kb.End) }, "Confirm 47 kΩ ±5 %"},
		{"back", func() { w.press(kb.PageUp) }, "Confirm 5.6 kΩ ±5 %"},
		{"confirmed", w.confirm, "Confirm 47 kΩ ±5 %"},
		{"too soon", func() {
			w.until(`!('fresh' in document.querySelector('#hand').dataset)`)
			w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('#hand').dataset.fresh = ''`))
			w.press(kb.Enter)
			w.until(`document.querySelector('#refused').checkVisibility()`)
		}, "Confirm 47 kΩ ±5 %"},
	} {
		act.do()
		w.untilSays("#confirm", act.want)
		seen := value[string](w, `(() => {
			const ring = document.activeElement.getBoundingClientRect(), value = document.querySelector('#confirm'), b = value.getBoundingClientRect();
			if (!document.activeElement.matches('#rings [role=option]')) return 'no ring has the focus';
			const top = value.parentElement.getBoundingClientRect().top;
			if (ring.top < 0 || ring.bottom > top) return 'the ring is cut off: ' + [ring.top, ring.bottom, top];
			if (b.bottom > innerHeight || document.elementFromPoint(b.left + b.width / 2, b.top + b.height / 2) !== value) return 'the value is out of sight';
			return '';
		})()`)
		assert.Empty(t, seen, "%d: %s", i, act.name)
	}
	w.picture("low") // last, for it takes the whole page in view
}

// The numbers on the photo grow with the letters that the person has set.
func TestPlatesGrow(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	for _, size := range []int{17, 32} {
		w.run(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.documentElement.style.fontSize = '%dpx'`, size)))
		w.until(fmt.Sprintf(`[...document.querySelectorAll('#plates span')].every((e) => getComputedStyle(e).fontSize === '%dpx' && e.offsetHeight > 1.5 * %[1]d && e.offsetHeight < 2 * %[1]d)`, size))
	}
}

// Wherever Tab goes there is a visible sign of it, it is on the screen and
// nothing covers it (WCAG 2.2, 2.4.7 and 2.4.11), and every part of the page is
// reached.
func TestFocus(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1024, 700)
	w.untilSays("#value", "5.6 kΩ")
	for _, colour := range []string{"red", "orange"} {
		_, _, err := r.tray.changeNow(1, change{Do: "colour", Ring: 0, Colour: colour})
		require.NoError(t, err)
	}
	r.tray.undoLast(t) // so that there is something to undo and to do again
	w.until(`document.querySelector('#redo').ariaDisabled === 'false'`)
	w.run(chromedp.Evaluate[chromedp.Void](`document.activeElement.blur(); scrollTo(0, 0)`))
	reached := map[string]bool{}
	for range 90 {
		w.press(kb.Tab)
		got := get(w, chromedp.Evaluate[[]string](`new Promise((done) => requestAnimationFrame(() => {
			const e = document.activeElement, b = e.getBoundingClientRect(), style = getComputedStyle(e);
			const on = document.elementFromPoint(b.left + b.width / 2, b.top + b.height / 2);
			const covered = !(on && (e.contains(on) || on.contains(e)));
			const sign = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
			done([e.id || e.dataset.do || e.dataset.part || e.dataset.colour || e.getAttribute('role') || e.tagName, sign ? '' : 'no sign of the focus', covered ? 'covered' : '', e.outerHTML.slice(0, 80)]);
		}))`, chromedp.EvalAwaitPromise))
		if got[0] == "BODY" {
			break
		}
		reached[got[0]] = true
		assert.Empty(t, got[1]+got[2], got[3])
	}
	for _, want := range []string{"choose", "camera", "undo", "redo", "mark", "voice", "keys", "to-bins", "1", "5", "clear", "option", "confirm", "black", "pink", "flip", "meter", "not a resistor", "use", "to-use", "to-finding", "to-lesson", "next"} {
		assert.True(t, reached[want], "Tab does not reach %s", want)
	}
}
