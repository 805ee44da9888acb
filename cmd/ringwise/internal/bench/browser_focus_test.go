package bench

import (
	"context"
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
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

// held names what has the focus: by its id, what it does, or what it is.
const held = `(() => { const e = document.activeElement; return e.id || e.dataset.do || (e.matches('summary') ? e.innerText.split('\n')[0].trim() : e.getAttribute('role') || e.tagName); })()`

// pressOn puts the focus on an element, as Tab does, and presses Enter there.
func (w window) pressOn(element string) {
	w.t.Helper()
	w.run(chromedp.Focus(chromedp.CSS(element)))
	w.press(kb.Enter)
}

// Undo and Redo keep the focus when there is nothing left to undo or to redo, and
// say so when they are pressed once more.
func TestUndoKeepsTheFocus(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.focusHand()
	w.press("o")
	w.untilSays("#said", "ring 1 is orange")
	for _, c := range []struct {
		button string
		said   []string
	}{
		{"#undo", []string{"Undone: part 1", "Undone: photo tin.jpg", "There is nothing to undo."}},
		{"#redo", []string{"Done again: photo tin.jpg", "Done again: part 1", "There is nothing to redo."}},
	} {
		w.run(chromedp.Focus(chromedp.CSS(c.button)))
		for _, said := range c.said {
			w.press(kb.Enter)
			w.untilSays("#said", said)
			assert.Equal(t, c.button, "#"+value[string](w, held), said)
		}
		assert.Equal(t, "true", value[string](w, `document.activeElement.ariaDisabled`))
	}
}

// A photo that is chosen brings its first open part in hand, says it and gives its
// rings the focus. One that is cleared away is said; when the last is gone, the
// focus is where the next can be chosen.
func TestPhotoByKeys(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	_, _, err := r.tray.changeNow(1, change{Do: "not a resistor"})
	require.NoError(t, err)
	w.untilSays("#photos", "1 of 5 done")
	w.pressOn("#photos li:nth-child(2) button")
	w.untilSays("#said", "Part 1 of 5: five point six")
	assert.Equal(t, "option", value[string](w, held))
	w.pressOn("#photos li:nth-child(1) button")
	w.untilSays("#hand-title", "Part 2 of 5")
	w.untilSays("#said", "Part 2 of 5: forty-seven")
	for left := 1; left >= 0; left-- {
		w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('#said').textContent = ''`))
		w.pressOn("#clear")
		w.until(fmt.Sprintf(`document.querySelector('#photos').children.length === %d`, left))
		w.untilSays("#said", "tin.jpg is cleared away")
	}
	w.until(`document.querySelector('#hand').hidden`)
	assert.Equal(t, "choose", value[string](w, held))
	w.pressOn("#undo")
	w.untilSays("#photos", "tin.jpg")
}

// What another window does to the bins changes neither the drawer that stands open
// nor the entry that has the focus. When that entry goes, no key acts on the next:
// its drawer has the focus, the drawer in its place, or the search.
func TestBinsKeepTheFocus(t *testing.T) {
	r := start(t, Options{})
	w := r.open(t, 1280, 900)
	put := func(ohms ...int64) {
		for _, o := range ohms {
			_, err := r.store.Confirm(context.Background(), stock.Part{Count: 1, Origin: stock.ByHand, Reading: decode.Reading{Ohms: decimal.NewFromInt(o)}})
			require.NoError(t, err)
		}
		w.hear(r)
	}
	put(220, 220, 470) // entries 1 to 3
	w.click("#to-bins")
	w.untilSays("#bins-count", "2 bins, 3 parts")
	w.click("#cabinet li:nth-child(1) summary")
	w.run(chromedp.Focus(chromedp.CSS("#cabinet [data-entry='2'] [data-do=remove]")))
	put(100)
	w.untilSays("#bins-count", "3 bins, 4 parts")
	assert.Equal(t, "Remove of entry 2", value[string](w, `document.activeElement.ariaLabel`))
	assert.True(t, value[bool](w, `document.activeElement.checkVisibility()`), "its drawer stays open")
	for _, c := range []struct{ entry, count, want string }{
		{"2", "3 bins, 3 parts", "220R"},
		{"1", "2 bins, 2 parts", "470R"},
		{"3", "1 bins, 1 part", "100R"},
		{"4", "Nothing is in the stock", "find"},
	} {
		w.run(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll('#cabinet details').forEach((d) => { d.open = true; })`))
		w.pressOn("#cabinet [data-entry='" + c.entry + "'] [data-do=remove]")
		w.untilSays("#bins-count", c.count)
		assert.Equal(t, c.want, value[string](w, held), c.entry)
	}
}
