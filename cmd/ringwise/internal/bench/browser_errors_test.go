package bench

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// listen has the window write down what it would speak, in spoken.
func (w window) listen() {
	w.t.Helper()
	w.run(chromedp.Evaluate[chromedp.Void](`window.spoken = []; speechSynthesis.speak = (u) => spoken.push(u.text)`))
	w.click("#voice")
	w.until(`spoken.includes('Speaking is on.')`)
}

// cutOff has every request of the window fail, as if the program had ended.
func (w window) cutOff() {
	w.t.Helper()
	w.run(chromedp.Evaluate[chromedp.Void](`window.fetch = () => Promise.reject(new TypeError('no network'))`))
}

// inSight says of an element why it cannot be seen, "" if it can: above or below
// the window, or covered.
func (w window) inSight(element string) string {
	w.t.Helper()
	return value[string](w, `(() => {
		const e = document.querySelector(`+quote(element)+`), b = e.getBoundingClientRect();
		if (b.top < 0 || b.bottom > innerHeight) return 'out of the window: ' + [b.top, b.bottom, innerHeight];
		const on = document.elementFromPoint(b.left + b.width / 2, b.top + b.height / 2);
		return e.contains(on) ? '' : 'covered';
	})()`)
}

// An error is in sight and heard wherever on the page the person is, at 320 × 400
// pixels too, which is 1280 × 1600 at 400 %. It covers nothing that has the focus,
// and Escape or its button takes it away; the focus stays or comes back.
func TestErrorsInSight(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 320, 400)
	w.untilSays("#value", "5.6 kΩ")
	w.listen()
	w.cutOff()
	w.focusHand()
	failed := func() {
		t.Helper()
		w.run(chromedp.Evaluate[chromedp.Void](`spoken.length = 0`))
		w.press("o")
		w.untilSays("#alert", "The bench does not answer.")
		w.until(`spoken.includes('The bench does not answer. Is ringwise bench still running?')`)
		w.until(`parseFloat(document.documentElement.style.scrollPaddingTop) > 0`)
		assert.Empty(t, w.inSight("#alert"))
		assert.Less(t, value[float64](w, `document.querySelector('#alert button').offsetHeight`), 60.0, "its button is one line")
		assert.Empty(t, w.inSight("#rings [role=option]"), "the ring in focus")
	}
	closed := func(how string) {
		t.Helper()
		w.until(`document.querySelector('#alert').hidden`)
		assert.True(t, value[bool](w, `document.activeElement.matches('#rings [role=option]')`), how)
	}
	failed()
	w.picture("error-in-hand")
	w.press(kb.Escape)
	closed("Escape")
	failed()
	w.run(chromedp.Focus(chromedp.CSS("#alert button")))
	w.press(kb.Enter)
	closed("its button")
}

// What is wrong with a field of the part in hand, of the scale or of a question
// as a whole is heard as well as shown, and so is the loss of the bench.
func TestErrorsHeard(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.listen()
	for _, c := range []struct {
		name string
		do   func()
		want string
	}{
		{"the meter", func() {
			w.focusHand()
			w.press("m")
			w.until(`document.activeElement.id === 'meter'`)
			w.press("5", kb.Enter)
		}, "Say first whether the part is out of its circuit"},
		{"the scale", func() {
			w.click("#set-scale")
			w.fill("scale", "length", "long")
		}, "is no length"},
		{"a question", func() {
			w.click("#to-use")
			w.cutOff()
			w.fill("power", "at", "12 V")
		}, "The bench does not answer"},
		{"the bench is lost", func() {
			w.run(chromedp.Evaluate[chromedp.Void](`spoken.length = 0; document.querySelector('#lost').hidden = false`))
		}, "It is tried again and again"},
	} {
		c.do()
		w.until(`spoken.some((s) => s.includes(` + quote(c.want) + `))`)
	}
}

// A long word, such as the name of a file, breaks: nothing of an error is out of the
// window.
func TestErrorsBreak(t *testing.T) {
	w := start(t, Options{}).open(t, 320, 400)
	w.run(chromedp.Evaluate[chromedp.Void](`import('/state.js').then((m) => m.complain('The stock /home/' + 'radioclub'.repeat(9) + '/stock.db is damaged.'))`))
	w.untilSays("#alert", "damaged")
	assert.Empty(t, value[[]string](w, `[...document.querySelectorAll('#alert, #alert *')].filter((e) => e.getBoundingClientRect().right > innerWidth || e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline').map((e) => e.textContent)`))
}
