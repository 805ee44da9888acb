package bench

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// Whoever weighs a part anew by the meter, or leaves a field of the part in hand,
// is at its rings again, where the next key confirms or corrects.
func TestBackToTheRings(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	ring := `document.activeElement.matches('#rings [aria-selected=true]')`
	w.focusHand()
	w.press(kb.ArrowRight, "m")
	w.until(`document.activeElement.id === 'meter'`)
	w.press("5", kb.Escape)
	w.until(ring)
	assert.Equal(t, "ring 2 of 4: ", w.text("#rings [aria-selected=true] .unseen"), "the ring that was held")
	w.click("input[value=out]")
	w.focusHand()
	w.press("m")
	w.until(`document.activeElement.id === 'meter'`)
	w.press(".", "6", "k")
	// An Enter too many, at the moment at which the rings have the focus.
	w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('#rings').addEventListener('focusin', (e) =>
		setTimeout(() => e.target.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true, cancelable: true }))), { once: true })`))
	w.press(kb.Enter)
	w.untilSays("#meter-says", "5.6k")
	w.until(ring)
	w.untilSays("#said", "Not confirmed: this part has only just come or changed.")
	w.confirm()
	w.untilSays("#hand-title", "Part 2 of 5")
}
