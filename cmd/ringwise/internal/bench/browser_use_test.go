package bench

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// types types text into the field that has the focus.
func (w window) types(text string) {
	w.t.Helper()
	w.run(chromedp.KeyEvent(text))
}

// From a part in hand to what it is good for, by keyboard alone: an error beside
// its field, then the answers. The arithmetic is that of TestUseSpread and
// TestUsePower.
func TestUseByKeyboard(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.focusHand()
	w.press("j")
	w.untilSays("#use-title", "part 1 of tin.jpg, 5.6 kΩ ±5 %")
	w.until(`document.activeElement.id === 'use-title'`)
	assert.True(t, value[bool](w, `document.querySelector('#use-doubt').checkVisibility()`))

	w.tabTo("#spread-measured")
	w.types("five")
	w.press(kb.Enter)
	w.until(`document.querySelector('#spread-measured').getAttribute('aria-invalid') === 'true' && document.activeElement.id === 'spread-measured'`)
	assert.True(t, value[bool](w, `document.querySelector('#spread-measured').getAttribute('aria-describedby').split(' ').includes('spread-measured-error')`))
	assert.NotEmpty(t, w.text("#spread-measured-error"))
	w.press(kb.Home)
	for range 4 {
		w.press(kb.Delete)
	}
	w.types("5.58k")
	w.press(kb.Enter)
	w.untilSays("#said", "By its tolerance 5.32 kΩ to 5.88 kΩ; the meter's reading is inside the tolerance.")
	assert.False(t, value[bool](w, `document.querySelector('#spread-measured').hasAttribute('aria-invalid')`))
	assert.Empty(t, w.text("#spread-measured-error"))

	w.tabTo("#stand-in-value")
	w.types("5K6")
	w.press(kb.Enter)
	w.untilSays("#said", "Only if")
	w.untilSays("#use section:nth-child(2) .points", "nobody has confirmed it yet")
	w.tabTo("#power-at")
	w.types("12 V")
	w.press(kb.Enter)
	w.untilSays("#said", "25.71 mW of heat")

	// An answer does not outlive what it was about.
	_, _, err := r.tray.changeNow(1, change{Do: "colour", Ring: 2, Colour: "orange"})
	require.NoError(t, err)
	w.untilSays("#use-title", "56 kΩ")
	w.until(`[...document.querySelectorAll('#use .answer')].every((box) => box.hidden)`)

	// A part that is kept in a bin can be asked about there.
	w.tabFromStart("#to-bins")
	_, err = r.tray.confirm(w.ctx, 1, 3, 0)
	require.NoError(t, err)
	w.press(kb.Enter)
	w.hear(r)
	w.untilSays("#bins-count", "1 part")
	w.tabTo("#cabinet summary")
	w.press(kb.Enter)
	w.tabTo("#cabinet [data-do=use]")
	w.press(kb.Enter)
	w.untilSays("#use-title", "entry #1, 10 kΩ ±1 %")
	w.until(`!document.querySelector('#use-doubt').checkVisibility()`)
}

// Who listens hears on what an answer hangs, then what can do harm, and so does
// who has it said again: all that stands below it. Who reads finds it there
// alone. At 230 V, 5.6 kΩ makes 9.446 W (Ohm's law).
func TestAnswersHeard(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	_, err := r.tray.confirm(t.Context(), 1, 3, 0)
	require.NoError(t, err)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.hear(r)
	for _, c := range []struct {
		view, form string
		fields     []string
		heard      []string // in this order
	}{
		{"use", "power", []string{"at", "230 V"}, []string{"9.446 W of heat: it will do only if", "Only if the reading of this part is right: nobody has confirmed it yet.", "Only if its power rating, which is unknown, is ", "Caution: "}},
		{"use", "power", []string{"at", "230 V", "rated", "1/4 W"}, []string{"it will not do", "Because its rating of 0.25 W is below the ", "Caution: "}},
		{"use", "stand-in", []string{"value", "5K6", "voltage", "230 V"}, []string{"for 5.6 kΩ.", "Only if the reading of this part is right", "Only if its limiting element voltage", "Caution: "}},
		{"finding", "replace", []string{"value", "10k", "voltage", "230 V"}, []string{"hold: 10 kΩ", "Only if its power rating", "Caution: "}},
		{"finding", "combine", []string{"target", "10k", "at", "10 V"}, []string{"nearest to 10 kΩ", "Only if ", "Caution: "}},
	} {
		t.Run(c.form+" "+strings.Join(c.fields, " "), func(t *testing.T) {
			w := w
			w.t = t
			w.click("#to-" + c.view)
			w.fill(c.form, c.fields...)
			w.untilSays("#said", c.heard[0])
			said := w.text("#said")
			at := 0
			for _, words := range c.heard {
				i := strings.Index(said[at:], words)
				require.GreaterOrEqual(t, i, 0, "%q is not heard behind %q in %q", words, said[:at], said)
				at += i + len(words)
			}
			answer := fmt.Sprintf("document.querySelector('#%s-form').nextElementSibling", c.form)
			for _, below := range value[[]string](w, fmt.Sprintf("[...(%[1]s.querySelector('.block') || %[1]s).querySelectorAll('.points li'), ...%[1]s.querySelectorAll('.special li')].map((e) => e.textContent)", answer)) {
				if !strings.HasPrefix(below, "All of this rests") { // which is heard as a condition
					assert.Contains(t, said, strings.TrimSuffix(below, "."))
				}
			}
			assert.NotContains(t, value[string](w, `document.querySelector('#said').firstChild.textContent`), "Caution", "it stands in view once")
			w.run(chromedp.Evaluate[chromedp.Void](`window.heard = []; new MutationObserver(() => heard.push(document.querySelector('#said').textContent)).observe(document.querySelector('#said'), { childList: true })`))
			w.run(chromedp.Evaluate[chromedp.Void](`import('/voice.js').then((m) => m.again())`))
			w.until("heard.includes(" + strconv.Quote(said) + ")")
		})
	}
}

// hear has the window fetch the stock, as a change made on the page does.
func (w window) hear(r rig) { r.hub.send("stock", struct{}{}) }

// tabFromStart goes by Tab from the start of the page to an element.
func (w window) tabFromStart(element string) {
	w.t.Helper()
	w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('.skip').focus()`))
	w.tabTo(element)
}

// Parts are found, taken after one more question, and put back, by keyboard
// alone; a list is looked up; a sheet is made and comes down. 6.6 kΩ is 5.6 kΩ
// and 1 kΩ in series.
func TestFindByKeyboard(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	r.confirmAll(t)
	w := r.open(t, 1280, 900)
	w.until(`document.querySelector('#choice-from')?.value === 'stock'`)
	w.tabTo("#to-finding")
	w.press(kb.Enter)
	w.tabTo("#combine-target")
	w.types("6K6")
	w.press(kb.Enter)
	w.untilSays("#said", "nearest to 6.6 kΩ")
	w.tabTo("#finding .block:nth-of-type(n+2) .take button")
	w.press(kb.Enter)
	w.until(`document.activeElement.matches('.take p')`)
	w.untilSays(".take p", "Undo puts")
	w.tabTo(".take .main")
	assert.Equal(t, map[int64]int{1: 1, 2: 1, 3: 1, 4: 1}, r.counts(t))
	w.press(kb.Enter)
	w.untilSays("#said", "out of the stock. Undo puts")
	total := 0
	for _, n := range r.counts(t) {
		total += n
	}
	assert.Less(t, total, 4)
	w.run(chromedp.KeyEvent("z", chromedp.KeyModifiers(2))) // Ctrl
	w.untilSays("#said", "Undone: took")
	assert.Equal(t, map[int64]int{1: 1, 2: 1, 3: 1, 4: 1}, r.counts(t))

	for form, fields := range map[string][]string{"combine": {"target", "6K6"}, "divider": {"in", "12 V", "out", "5 V"}} {
		w.fill(form, append(fields, "margin", "none")...)
		w.untilSays("#"+form+"-margin-error", "no margin")
		assert.Equal(t, form+"-margin", value[string](w, `document.activeElement.id`))
	}

	// The list is invented. Its file is dropped on the page as photos are.
	w.run(chromedp.Evaluate[chromedp.Void](`(() => {
		const data = new DataTransfer();
		data.items.add(new File(['reference,value\nR1,5K6\nR2,330k\n'], 'evening receiver.csv', { type: 'text/csv' }));
		document.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
	})()`))
	w.untilSays("#said", "evening receiver.csv is in the field")
	w.until(`document.activeElement.id === 'project-list' && document.activeElement.value.startsWith('reference')`)
	w.press(kb.Tab, kb.Enter)
	w.untilSays("#said", "Of 2 places, 1 have parts")
	w.untilSays("#said", "Nothing was taken.")
	assert.Equal(t, map[int64]int{1: 1, 2: 1, 3: 1, 4: 1}, r.counts(t))
	assert.True(t, value[bool](w, `document.querySelector('.view:not([hidden]) .files a').target === '_blank'`))
	pick := value[string](w, `document.querySelector('.view:not([hidden]) .files a').href`)

	w.tabFromStart("#to-lesson")
	w.press(kb.Enter)
	w.tabTo("#lesson-title")
	w.types("Radio club")
	w.tabTo("#lesson-form button[type=submit]")
	w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('#lesson-count').value = '3'`))
	w.press(kb.Enter)
	w.untilSays("#said", "1 sheet made, with 3 questions.")
	w.untilSays("#lesson .files li:first-child a", "questions, PDF A4")
	assert.True(t, value[bool](w, `document.querySelector('#lesson .files a').hasAttribute('download')`))
	data := get(w, chromedp.Evaluate[string](`fetch(document.querySelector('#lesson .files a').href).then((r) => r.text()).then((text) => text.slice(0, 5))`, chromedp.EvalAwaitPromise))
	assert.Equal(t, "%PDF-", data)

	// The pick sheet shows as it is to be printed: its one style is let through.
	w.run(chromedp.Navigate(pick))
	w.untilSays("h1", "Pick sheet: evening receiver")
	assert.Equal(t, "collapse", value[string](w, `getComputedStyle(document.querySelector('table')).borderCollapse`))
}
