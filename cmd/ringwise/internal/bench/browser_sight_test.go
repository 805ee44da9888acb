package bench

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
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
