package bench

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// By one key the values shown are told in rings, letters and words, and so are
// those of an answer by its button; Escape goes back to where one was.
func TestValuesByKeys(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.focusHand()
	w.press("=")
	w.until(`document.querySelector('#values-dialog').open`)
	w.untilSays("#values-list", "5.6 kΩ ±5 %")
	first := w.text("#values-list li")
	for _, want := range []string{"5K6J", "GN", "green", "BU", "RD", "GD", "gold", "five point six kilo-ohm, plus or minus five percent"} {
		assert.Contains(t, first, want)
	}
	w.untilSays("#values-dialog .heard", "5K6J: green blue red gold; five point six kilo-ohm")
	assert.Equal(t, fmt.Sprintf("%d values.", value[int](w, `document.querySelectorAll("#values-list > li").length`)), value[string](w, `document.querySelector("#values-dialog .heard").firstChild.data`), "the rest stands below for those who read")
	w.picture("values")
	w.press(kb.Escape)
	w.until(`!document.querySelector('#values-dialog').open && document.activeElement.closest('#hand')`)

	w.press("j")
	w.untilSays("#use-title", "5.6 kΩ ±5 %")
	w.fill("stand-in", "value", "green blue red gold")
	w.untilSays("#use section:nth-child(2) .says", "5.6 kΩ ±5 % for 5.6 kΩ ±5 %")
	w.picture("use-answer")
	w.click("#use section:nth-child(2) .answer > button")
	w.until(`document.querySelector('#values-dialog').open`)
	w.untilSays("#values-list", "5.88 kΩ")
	w.press(kb.Escape)
	w.until(`document.activeElement.textContent === 'These values in rings, letters and words'`)
}
