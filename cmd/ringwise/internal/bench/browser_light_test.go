package bench

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// By keys alone a white spot is pointed at, moved, kept and undone; a spot that
// cannot be white is refused and the cross stays.
func TestWhiteSpotByKeys(t *testing.T) {
	r := start(t, Options{})
	w := r.open(t, 1280, 900)
	w.bring(eveningLamp)
	w.until(`document.querySelectorAll('#plates button').length > 3`)
	w.focusHand()
	w.press(".")
	w.until(`document.activeElement.id === 'cross'`)
	assert.Contains(t, value[string](w, `document.activeElement.getAttribute('aria-label')`), "50 percent across, 50 percent down")
	w.press(kb.ArrowRight, kb.ArrowUp)
	assert.Contains(t, value[string](w, `document.activeElement.getAttribute('aria-label')`), "51 percent across, 49 percent down")
	w.press(kb.Escape)
	w.until(`document.querySelector('#pointing').hidden && document.activeElement.closest('#hand')`)

	w.press(".")
	for range 47 {
		w.press(kb.ArrowRight, kb.ArrowUp)
	}
	w.press(kb.Enter)
	w.untilSays("#said", "white spot kept")
	w.until(`document.querySelector('#pointing').hidden && document.activeElement.closest('#hand')`)
	w.press("z")
	w.untilSays("#said", "Undone: white spot")

	// By the mouse.
	w.click("#white")
	w.until(`!document.querySelector('#pointing').hidden`)
	w.picture("white-spot")
	w.press(kb.Escape)
	w.until(`document.activeElement.id === 'white'`)

	// A second photo may share the light of the first.
	w.until(`document.querySelector('#same-light-row').hidden`)
	w.bring(eveningLamp)
	w.until(`document.querySelectorAll('#photos button').length === 2`)
	w.click("#photos li:nth-child(2) button")
	w.until(`!document.querySelector('#same-light-row').hidden && !document.querySelector('#same-light').checked`)
	w.click("#same-light")
	w.untilSays("#said", "same light as the photo before")
	w.until(`document.querySelector('#same-light').checked`)
}
