package bench

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// By keys alone the scale of a photo is set: two spots, a distance, Enter. The
// part in hand then says its size and what to count on, marked as estimated. The
// mouse does the same.
func TestScaleByKeys(t *testing.T) {
	r := start(t, Options{})
	w := r.open(t, 1280, 900)
	w.bring(eveningLamp)
	w.until(`document.querySelectorAll('#plates button').length > 3`)
	w.until(`document.querySelector('#body-size').hidden`)
	w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('#set-scale').focus()`))
	w.press(kb.Enter)
	w.until(`document.activeElement.id === 'spot-1'`)
	w.press(kb.ArrowLeft, kb.ArrowUp)
	assert.Contains(t, value[string](w, `document.activeElement.getAttribute('aria-label')`), "Spot 1 at 39.8 percent across, 49.8 percent down")
	w.press(kb.Enter)
	w.until(`document.activeElement.id === 'spot-2'`)
	w.press(kb.Enter)
	w.until(`document.activeElement.id === 'scale-length'`)
	w.types("lots")
	w.press(kb.Enter)
	w.untilSays("#scale-error", "is no length")
	w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('#scale-length').value = ''`))
	w.types("12.5")
	w.picture("scale")
	w.press(kb.Enter)
	w.until(`document.querySelector('#measuring').hidden && document.activeElement.id === 'set-scale'`)
	w.untilSays("#said", "pixels in a millimetre")
	w.untilSays("#body-size", "estimated")
	w.untilSays("#set-scale", "12.5 mm between two spots")
	w.picture("scale-set")

	// By the mouse: a click moves the nearer spot. Escape leaves all as it was.
	w.click("#set-scale")
	w.until(`document.activeElement.id === 'spot-1' && document.querySelector('#scale-length').value === '12.5'`)
	w.press(kb.Escape)
	w.until(`document.activeElement.id === 'set-scale'`)
	w.click("#set-scale")
	w.click("#scale-none")
	w.until(`document.querySelector('#body-size').hidden`)
}
