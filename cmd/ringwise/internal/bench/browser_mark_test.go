package bench

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/vision"
)

// missing lays a drawn photo on the bench whose first body the reader has
// missed, and returns that body's part.
func (r rig) missing(t *testing.T) *part {
	t.Helper()
	p := drawnPhoto(t, "tin.jpg")
	missed := p.parts[0]
	p.parts = p.parts[1:]
	for i, q := range p.parts {
		q.number = i + 1
	}
	require.NoError(t, r.tray.add(p))
	return missed
}

// on is a place on a drawn photo as fractions of its size.
func on(at vision.Point) (x, y float64) { return at.X / drawnWide, at.Y / drawnHigh }

// A body that the reader missed is marked by keys alone, read, confirmed and
// undone.
func TestMarkByKeys(t *testing.T) {
	r := start(t, Options{})
	missed := r.missing(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#hand-title", "Part 1 of 4")
	w.focusHand()
	w.press(",")
	w.until(`document.activeElement.id === 'cross'`)
	move := func(x, y float64) {
		t.Helper()
		for range 400 {
			place := value[[2]float64](w, `['left', 'top'].map((side) => parseFloat(document.querySelector('#cross').style[side]) / 100)`)
			key := ""
			switch {
			case place[0]-x > 0.004:
				key = kb.ArrowLeft
			case x-place[0] > 0.004:
				key = kb.ArrowRight
			case place[1]-y > 0.004:
				key = kb.ArrowUp
			case y-place[1] > 0.004:
				key = kb.ArrowDown
			default:
				return
			}
			w.press(key)
		}
		require.Fail(t, "the cross does not come there")
	}
	move(on(missed.found.At(0, 0.5)))
	assert.Contains(t, value[string](w, `document.activeElement.getAttribute('aria-label')`), "One end of the body at 12.5 percent across")
	w.press(kb.Enter)
	w.untilSays("#said", "One end of the body kept. Now the other end of the body.")
	w.picture("marking")
	move(on(missed.found.At(1, 0.5)))
	w.press(kb.Enter)
	w.untilSays("#hand-title", "Part 5 of 5")
	w.untilSays("#value", "5.6 kΩ")
	w.untilSays("#trust", "check")
	w.untilSays("#said", "Part 5 of 5: five point six kilo-ohm")
	w.until(`document.activeElement.role === 'option'`)
	w.picture("marked")
	w.confirm()
	w.untilSays("#said", "5.6 kΩ confirmed")
	assert.Equal(t, []string{"5.6 kΩ ±5 %"}, r.inStock(t))

	w.press("z", "z") // the second waits for the first
	w.untilSays("#said", "Undone: part 5 marked")
	w.until(`document.querySelectorAll('#plates button').length === 4`)
	assert.Empty(t, r.inStock(t))
	w.press(kb.Escape, ",", kb.Escape)
	w.until(`document.querySelector('#pointing').hidden && document.activeElement.closest('#hand')`)
}

// By the mouse two clicks mark a body, or a drag from end to end. Where there is
// none its rings are set by hand; a spot that will not do is refused and the
// cross stays.
func TestMarkByMouse(t *testing.T) {
	r := start(t, Options{})
	missed := r.missing(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#hand-title", "Part 1 of 4")
	x, y := on(missed.found.At(0, 0.5))
	u, v := on(missed.found.At(1, 0.5))
	w.click("#mark")
	w.run(chromedp.MouseClickXY(w.at("#pointing", x, y)))
	w.untilSays("#said", "Now the other end")
	w.run(chromedp.MouseClickXY(w.at("#pointing", u, v)))
	w.untilSays("#hand-title", "Part 5 of 5")
	w.untilSays("#value", "5.6 kΩ")
	w.press("z")
	w.until(`document.querySelectorAll('#plates button').length === 4`)

	w.click("#mark")
	w.drag("#pointing", x, y, u, v)
	w.untilSays("#hand-title", "Part 5 of 5")
	w.untilSays("#value", "5.6 kΩ")

	w.click("#mark")
	w.drag("#pointing", 0.2, 0.95, 0.25, 0.95)
	w.untilSays("#hand-title", "Part 6 of 6")
	w.untilSays("#value", "No value yet")
	w.untilSays("#why", "No rings are seen here: set them by hand.")
	for i, key := range []string{"i", "n", "i", "k", "i", "r", "i", "d"} {
		w.press(key)
		w.until(fmt.Sprintf(`document.querySelectorAll('#rings [role=option]').length === %d && document.querySelectorAll('#rings .said').length === %d`, i/2+1, (i+1)/2))
	}
	w.untilSays("#value", "1 kΩ") // BN BK RD GD
	w.confirm()
	w.untilSays("#said", "1 kΩ confirmed")

	w.click("#mark")
	w.drag("#pointing", 0.5, 0.5, 0.516, 0.5)
	w.untilSays("#alert", "too close together")
	w.until(`!document.querySelector('#pointing').hidden && document.activeElement.id === 'cross'`)
	assert.Len(t, r.tray.photos[0].parts, 6)
}

// A ring is moved with the mouse on the strip; a click on one takes it in hand.
func TestDragRing(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.until(`document.querySelector('#strip').complete && document.querySelector('#strip').naturalWidth > 0`)
	along := func(centre float64) float64 { return (centre + vision.CropMargin) / (1 + 2*vision.CropMargin) }
	from := along(places[4][1])
	w.drag(".stage", from, 0.5, from+0.04, 0.5)
	w.untilSays("#said", "ring 2 moved")
	w.untilSays("#ring-title", "Correct ring 2")
	want := places[4][1] + 0.04*(1+2*vision.CropMargin)
	assert.InDelta(t, want, r.tray.photos[0].parts[0].judge().rings[1].centre, 0.01)

	before := r.version(1)
	w.run(chromedp.MouseClickXY(w.at(".stage", along(places[4][3]), 0.5)))
	w.untilSays("#ring-title", "Correct ring 4")
	w.drag(".stage", 0.01, 0.5, 0.5, 0.5) // no ring is there
	assert.Equal(t, before, r.version(1), "neither changed anything")

	// Read from the right end it is dragged the same way as it is seen.
	w.press("f")
	w.until(`document.querySelector('#strip').classList.contains('turned')`)
	first := r.tray.photos[0].parts[0].judge().rings[0].centre // from the left end, which is now at the right
	w.drag(".stage", along(1-first), 0.5, along(1-first)+0.04, 0.5)
	w.untilSays("#said", "ring 1 moved")
	assert.InDelta(t, first-0.04*(1+2*vision.CropMargin), r.tray.photos[0].parts[0].judge().rings[0].centre, 0.01)
}

// What was undone is done again, by button and by key, and said.
func TestRedoOnPage(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.until(`document.querySelector('#redo').ariaDisabled === 'true'`)
	w.focusHand()
	w.press("r")
	w.untilSays("#value", "2.6 kΩ")
	w.confirm()
	w.untilSays("#hand-title", "Part 2 of 5")
	w.press("z")
	w.untilSays("#said", "Undone: part 1: confirmed 2.6 kΩ")
	w.press("z")
	w.untilSays("#said", "Undone: part 1: ring 1 is red")
	w.untilSays("#value", "5.6 kΩ")
	w.until(`document.querySelector('#redo').title === 'Redo: part 1: ring 1 is red'`)
	w.click("#redo")
	w.untilSays("#said", "Done again: part 1: ring 1 is red")
	w.untilSays("#value", "2.6 kΩ")
	w.focusHand()
	w.run(chromedp.KeyEvent("Z", chromedp.KeyModifiers(8)))
	w.untilSays("#said", "Done again: part 1: confirmed 2.6 kΩ")
	w.untilSays("#session", "1 confirmed")
	assert.Equal(t, []string{"2.6 kΩ ±5 %"}, r.inStock(t))
	w.until(`document.querySelector('#redo').ariaDisabled === 'true'`)
}

// An Enter that comes late, when the next part has only just come by itself,
// confirms nothing, and says so; nor does one when another window has just
// changed the part.
func TestLateEnter(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	// At the very moment at which a part comes, Enter is pressed once more.
	const late = `new MutationObserver((_, seen) => {
		if (!('fresh' in document.querySelector('#hand').dataset) || document.querySelector('#hand-title').textContent !== 'TITLE') return;
		seen.disconnect();
		setTimeout(() => document.querySelector('#hand').dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true, cancelable: true })));
	}).observe(document.querySelector('#hand'), { subtree: true, childList: true, characterData: true, attributes: true })`
	w.focusHand()
	w.run(chromedp.Evaluate[chromedp.Void](strings.Replace(late, "TITLE", "Part 2 of 5", 1)))
	w.confirm()
	w.untilSays("#said", "Not confirmed: this part has only just come or changed. Part 2 of 5: forty-seven kilo-ohm")
	assert.Equal(t, []string{"5.6 kΩ ±5 %"}, r.inStock(t))
	assert.Equal(t, "Not confirmed: this part has only just come or changed.", w.text("#refused"), "at the button, too")
	assert.True(t, value[bool](w, `document.querySelector('#refused').checkVisibility()`))
	assert.True(t, value[bool](w, `document.querySelector('#refused').closest('[aria-live], [role=status], [role=alert]') === null`), "it is heard once")
	w.confirm()
	w.untilSays("#hand-title", "Part 3 of 5")
	assert.True(t, value[bool](w, `document.querySelector('#refused').hidden`))
	assert.Equal(t, []string{"5.6 kΩ ±5 %", "47 kΩ ±5 %"}, r.inStock(t))

	w.until(`!('fresh' in document.querySelector('#hand').dataset)`)
	w.run(chromedp.Evaluate[chromedp.Void](strings.Replace(late, "TITLE", "Part 3 of 5", 1)))
	_, _, err := r.tray.changeNow(3, change{Do: "colour", Ring: 0, Colour: "red"})
	require.NoError(t, err)
	w.untilSays("#said", "Not confirmed: this part has only just come or changed. Part 3 of 5")
	assert.Len(t, r.inStock(t), 2)
}
