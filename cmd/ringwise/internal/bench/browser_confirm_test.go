package bench

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// drawn lays a drawn photo on the bench.
func (r rig) drawn(t testing.TB) {
	t.Helper()
	require.NoError(t, r.tray.add(drawnPhoto(t, "tin.jpg")))
}

// inStock are the meanings of all entries, by value.
func (r rig) inStock(t *testing.T) []string {
	t.Helper()
	parts, err := r.store.Parts(context.Background(), stock.Filter{})
	require.NoError(t, err)
	list := []string{}
	for _, p := range parts {
		list = append(list, stock.Meaning(p.Reading))
	}
	return list
}

// From start to end by keyboard alone: a real photo is chosen, parts are
// corrected, flipped, measured, confirmed, undone and answered otherwise. The
// rings of the first part are set to those that the photo was rendered from.
func TestKeyboardOnly(t *testing.T) {
	r := start(t, Options{})
	w := r.open(t, 1280, 900)

	// Tab until the button that opens the file dialog, then choose.
	w.call(page.SetInterceptFileChooserDialog, page.SetInterceptFileChooserDialogParams{Enabled: true})
	asked := make(chan struct{}, 1)
	require.NoError(t, chromedp.Listen(w.ctx, func(event any) {
		if _, ok := event.(*page.EventFileChooserOpened); ok {
			asked <- struct{}{}
		}
	}))
	w.tabTo("#choose")
	w.press(kb.Enter)
	select {
	case <-asked:
	case <-w.ctx.Done():
		require.Fail(t, "no file dialog opened")
	}
	w.bring(sample)
	w.untilSays("#hand-title", "Part 1 of 6")
	w.until(`document.activeElement.role === 'option'`)
	w.untilSays("#said", "Part 1 of 6:")

	rings := truth(t, r)
	for i, c := range rings {
		w.press(keys[c])
		w.untilSays("#rings [role=option]:nth-child("+string(rune('1'+i))+")", c.Letters())
		w.untilSays("#said", "ring "+string(rune('1'+i))+" is "+c.String())
		w.press(kb.ArrowRight)
	}
	want, err := decode.Readings(rings)
	require.NoError(t, err)
	w.untilSays("#value", want[0].Value())
	w.confirm()
	w.untilSays("#hand-title", "Part 2 of 6")
	w.untilSays("#said", "confirmed")
	assert.Equal(t, []string{stock.Meaning(want[0])}, r.inStock(t))

	w.press("z")
	w.untilSays("#said", "Undone")
	w.untilSays("#hand-title", "Part 1 of 6")
	assert.Empty(t, r.inStock(t))
	w.confirm()
	w.untilSays("#hand-title", "Part 2 of 6")

	w.press("x")
	w.untilSays("#hand-title", "Part 3 of 6")
	w.press("l")
	w.untilSays("#hand-title", "Part 4 of 6")
	w.press(kb.PageUp)
	w.untilSays("#hand-title", "Part 3 of 6: skipped")
	w.untilSays("#session", "1 confirmed, 3 to go, 1 skipped, 1 not a resistor")
}

// truth are the rings from which the first part of the sample was rendered, by
// its place in the photo.
func truth(t *testing.T, r rig) []decode.Colour {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(filepath.Dir(sample), "truth.json"))
	require.NoError(t, err)
	var told struct {
		Photos []struct {
			File      string
			Resistors []struct {
				Bands []string
				Body  struct{ Center [2]float64 }
			}
		}
	}
	require.NoError(t, json.Unmarshal(data, &told))
	first := r.tray.photos[0].parts[0].found.At(0.5, 0.5)
	for _, p := range told.Photos {
		if p.File != filepath.Base(sample) {
			continue
		}
		for _, resistor := range p.Resistors {
			x, y := resistor.Body.Center[0]-first.X, resistor.Body.Center[1]-first.Y
			if x*x+y*y < 400 {
				return colours(t, strings.Join(resistor.Bands, " "))
			}
		}
	}
	require.Fail(t, "the first part is not among those rendered")
	return nil
}

// Corrections on drawn parts, whose meaning is given by IEC 60062.
func TestCorrections(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#hand-title", "Part 1 of 5")
	w.untilSays("#value", "5.6 kΩ")
	w.untilSays("#trust", "sure")
	w.untilSays("#span", "5.32 kΩ to 5.88 kΩ") // 5.6 kΩ less and more 5 %
	w.untilSays("#bin", "5K6J")
	w.click("#rings [role=option]:nth-child(3)")
	w.untilSays("#ring-title", "Correct ring 3")
	w.until(`document.querySelector('#palette [data-colour=red]').getAttribute('aria-pressed') === 'true'`)
	w.press("o")
	w.untilSays("#value", "56 kΩ")
	w.untilSays("#said", "fifty-six kilo-ohm")

	// An added ring makes a code of five; dropping it brings four back.
	w.press("i")
	w.until(`document.querySelectorAll('#rings [role=option]').length === 5`)
	w.press(kb.Delete)
	w.until(`document.querySelectorAll('#rings [role=option]').length === 4`)
	before := value[string](w, `document.querySelector('#stems path:nth-child(4)').getAttribute('d')`)
	w.press("]")
	w.until(`document.querySelector('#stems path:nth-child(4)').getAttribute('d') !== ` + quote(before))

	// The second part: take another candidate, then let the meter decide.
	w.press(kb.PageDown)
	w.untilSays("#value", "47 kΩ")
	w.untilSays("#said", "second ring may be orange; check: not certain enough")
	w.press("2")
	w.untilSays("#value", "43 kΩ")
	w.untilSays("#trust", "taken by you")
	w.press("a")
	w.untilSays("#value", "47 kΩ")
	w.press("m")
	w.until(`document.activeElement.id === 'meter'`)
	w.press(strings.Split("42.8k", "")...)
	w.press(kb.Enter)
	w.untilSays("#meter-error", "Say first whether the part is out of its circuit")
	w.click("input[value=out]")
	w.click("#meter-form button")
	w.untilSays("#value", "43 kΩ") // 42.8 kΩ is below 47 kΩ - 5 %
	w.untilSays("#meter-says", "within tolerance")

	// The third may be a four-ring code with a failure-rate ring (MIL practice).
	w.focusHand()
	w.press(kb.PageDown)
	w.untilSays("#value", "10 kΩ ±1 %")
	w.click("#means summary")
	w.click("#means li:nth-child(2) button")
	w.untilSays("#value", "10 Ω ±2 %, 1 %/1000 h") // BN BK BK RD BN: 10 × 1 Ω
	w.press("a")

	// The fourth reads both ways: from the other end it is 12 Ω.
	w.focusHand()
	w.press(kb.PageDown)
	w.untilSays("#value", "1 kΩ")
	w.press("f")
	w.untilSays("#value", "12 Ω")
	w.until(`document.querySelector('#strip').classList.contains('turned')`)
	w.press(kb.Home, "r") // RD RD BK BN
	w.untilSays("#value", "22 Ω")

	// The fifth could not be read: there is nothing to confirm until its rings
	// are told.
	w.press(kb.PageDown)
	w.untilSays("#value", "No value yet")
	w.until(`document.querySelector('#confirm').disabled`)
	w.press(kb.Enter)
	for _, key := range []string{"i", "r", "i", "r", "i", "n", "i", "d"} {
		n := value[int](w, `document.querySelectorAll('#rings .said').length + document.querySelectorAll('#rings [role=option]').length`)
		w.press(key)
		w.until(`document.querySelectorAll('#rings .said').length + document.querySelectorAll('#rings [role=option]').length > ` + quote(n))
	}
	w.untilSays("#value", "220 Ω") // RD RD BN GD
	w.confirm()
	w.untilSays("#said", "220 Ω confirmed")
	assert.Equal(t, []string{"220 Ω ±5 %"}, r.inStock(t))
}

// The keys of letters and numbers act only with the focus in the part in hand,
// never in a field, and can be switched off (WCAG 2.2, 2.1.4).
func TestLetterKeys(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	version := func() int { return r.version(1) }
	w.run(chromedp.Focus(chromedp.CSS("#choose")))
	w.press("o", "2", "f")
	w.run(chromedp.Focus(chromedp.CSS("#meter")))
	w.press("1", "k")
	assert.Equal(t, "1k", value[string](w, `document.querySelector('#meter').value`))
	assert.Equal(t, 0, version(), "nothing was changed")

	w.press("?")
	assert.Equal(t, "1k?", value[string](w, `document.querySelector('#meter').value`))
	assert.False(t, value[bool](w, `document.querySelector('#keys-dialog').open`), "it is typed")

	w.click("#keys")
	w.click("#letters")
	w.press(kb.Escape)
	w.until(`!document.querySelector('#keys-dialog').open`)
	w.run(chromedp.Focus(chromedp.CSS("#choose")))
	w.press("?")
	assert.False(t, value[bool](w, `document.querySelector('#keys-dialog').open`), "it is off with the letters")
	w.focusHand()
	w.press("o", "2", "f")
	w.press(kb.ArrowRight)
	w.until(`document.querySelector('#rings [aria-selected=true]') === document.querySelector('#rings').children[1]`)
	assert.Equal(t, 0, version(), "letters are off, arrows are not")
	w.run(chromedp.Reload())
	w.untilSays("#value", "5.6 kΩ")
	assert.False(t, value[bool](w, `document.querySelector('#letters').checked`), "the choice is kept")
}

// The keys that change nothing act on every view, with and without a part in
// hand, and in dialogs.
func TestKeysAnywhere(t *testing.T) {
	r := start(t, Options{})
	w := r.open(t, 1280, 900)
	listed := func(where string) {
		t.Helper()
		w.press("?")
		w.until(`document.querySelector('#keys-dialog').open`)
		assert.Contains(t, w.text("#key-table"), "these keys", where)
		w.press("?", kb.Escape)
		w.until(`!document.querySelector('#keys-dialog').open`)
	}
	assert.Equal(t, "BODY", value[string](w, `document.activeElement.tagName`))
	listed("empty")
	w.press("b")
	w.untilSays("#said", "0 confirmed")
	r.drawn(t)
	w.untilSays("#value", "5.6 kΩ")
	for _, view := range []string{"#to-bins", "#to-use", "#to-finding", "#to-lesson", "#to-bench"} {
		w.click(view)
		listed(view)
	}
	w.focusHand()
	listed("in hand")
	w.press("=")
	w.until(`document.querySelector('#values-dialog').open`)
	listed("in a dialog")
	assert.True(t, value[bool](w, `document.querySelector('#values-dialog').open`), "the dialog below stays")
	w.press(kb.Escape)
	w.until(`!document.querySelector('#values-dialog').open`)
	for _, c := range []struct{ key, dialog, said string }{
		{"?", "#keys-dialog", "0 confirmed"},
		{"=", "#values-dialog", "0 confirmed"},
	} {
		w.focusHand()
		w.press(c.key)
		w.until(`document.querySelector('` + c.dialog + `').open`)
		w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('` + c.dialog + `').scrollTo(0, 9999)`))
		w.press("b")
		w.untilSays(c.dialog+" .heard", c.said)
		assert.Empty(t, w.inSight(c.dialog+" .heard"), "what lies behind a dialog is neither seen nor heard")
		w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('` + c.dialog + ` .heard').textContent = ''`))
		w.press("q")
		w.untilSays(c.dialog+" .heard", c.said)
		w.press(kb.Escape)
		w.until(`document.querySelector('` + c.dialog + ` .heard').textContent === ''`)
	}
	w.click("#to-use")
	w.fill("power", "at", "12 V")
	w.untilSays("#said", "25.71 mW of heat")
	w.run(chromedp.Focus(chromedp.CSS("#power-form button")))
	w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('#said').textContent = ''`))
	w.press("q")
	w.untilSays("#said", "25.71 mW of heat")
}

// version is how often a part of the first photo was changed.
func (r rig) version(number int) int {
	r.tray.mu.Lock()
	defer r.tray.mu.Unlock()
	return r.tray.photos[0].parts[number-1].version
}

// What a person has said survives loading the page again, and so does the part
// in hand.
func TestReload(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.focusHand()
	w.press(kb.PageDown)
	w.untilSays("#hand-title", "Part 2 of 5")
	w.press("g")
	w.untilSays("#value", "57 kΩ") // GN VT OG GD
	w.run(chromedp.Reload())
	w.untilSays("#hand-title", "Part 2 of 5")
	w.untilSays("#value", "57 kΩ")
	w.until(`document.querySelector('#rings .said .letters').textContent === 'GN'`)
	w.click("#undo")
	w.untilSays("#value", "47 kΩ")
}

// Two windows show the same; what one changes under the other's hands is not
// changed by the other unseen; what another program does to the stock shows.
func TestTwoWindows(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	a := r.open(t, 1280, 900)
	b := r.open(t, 1280, 900)
	a.untilSays("#value", "5.6 kΩ")
	b.untilSays("#value", "5.6 kΩ")
	a.focusHand()
	a.press("r")
	a.untilSays("#value", "2.6 kΩ") // RD BU RD GD
	b.untilSays("#value", "2.6 kΩ")
	b.focusHand()
	b.confirm()
	b.untilSays("#said", "confirmed")
	a.untilSays("#hand-title", "Part 1 of 5: confirmed")
	a.untilSays("#session", "1 confirmed")
	a.click("#to-bins")
	a.untilSays("#cabinet", "2.6 kΩ ±5 %")
	b.click("#undo")
	b.untilSays("#said", "Undone")
	a.untilSays("#bins-count", "Nothing is in the stock")

	// Another program on the same stock.
	other, err := stock.Open(context.Background(), r.stock)
	require.NoError(t, err)
	_, err = other.Confirm(context.Background(), stock.Part{Count: 2, Origin: stock.ByHand, Reading: decode.Reading{Ohms: decode.UsualMeter.Percent}})
	require.NoError(t, err)
	require.NoError(t, other.Close())
	a.untilSays("#cabinet", "1 Ω")
	a.untilSays("#cabinet", "2 parts")
}

// The stock on the page: found by what is written on it, taken from, put back,
// removed and undone.
func TestBins(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.focusHand()
	w.confirm()
	w.untilSays("#hand-title", "Part 2 of 5")
	w.confirm()
	w.untilSays("#hand-title", "Part 3 of 5")
	w.click("#to-bins")
	w.untilSays("#bins-count", "2 of 2 bins, 2 parts")
	w.click("#find")
	w.press(strings.Split("yellow", "")...)
	w.untilSays("#bins-count", "1 of 2 bins")
	w.untilSays("#cabinet", "47 kΩ ±5 %")
	w.click("#cabinet summary")
	w.click("#cabinet [data-do=facts]")
	w.click("#entry-form [name=count]")
	w.press(kb.ArrowUp, kb.ArrowUp, kb.Enter)
	w.untilSays("#bins-count", "1 of 2 bins, 3 parts")
	for _, step := range []struct{ do, left string }{{"take", "2 parts"}, {"take", "1 part"}, {"put", "2 parts"}, {"take", "1 part"}} {
		w.click("#cabinet [data-do=" + step.do + "]")
		w.untilSays("#bins-count", "1 of 2 bins, "+step.left)
	}
	w.click("#cabinet [data-do=facts]")
	w.click("#entry-form [name=size]")
	w.press(strings.Split("0207", "")...)
	w.press(kb.Enter)
	w.untilSays("#cabinet", "size 0207 (said)")
	w.click("#undo")
	w.until(`!document.querySelector('#cabinet').textContent.includes('0207')`)
	w.click("#cabinet [data-do=remove]")
	w.untilSays("#bins-count", "0 of 1 bins")
	w.click("#undo")
	w.untilSays("#bins-count", "1 of 2 bins, 1 part")

	w.click("#bins-entry")
	w.press(strings.Split("3K3", "")...)
	w.press(kb.Tab, "1", "0", kb.Enter)
	w.untilSays("#said", "confirmed 3.3 kΩ ±10 %")
	assert.Equal(t, []string{"3.3 kΩ ±10 %", "5.6 kΩ ±5 %", "47 kΩ ±5 %"}, r.inStock(t))
}

// A value by hand that the meter contradicts is asked about once more, and anew
// once it is another.
func TestByHandAgainstMeterOnPage(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.click("input[value=out]")
	w.click("#meter")
	w.press("1", "6", "2", kb.Enter)
	w.untilSays("#said", "no reading to trust: rings say 5.6 kilo-ohm plus or minus 5 percent, the meter says 162 ohm")
	assert.NotContains(t, w.text("#said"), "162 Ω", "it is said once")
	w.focusHand()
	w.press("h")
	w.until(`document.activeElement.name === 'value'`)
	w.press("4", "k", "7", kb.Enter)
	w.untilSays("#by-hand .error", "It is said to be 4.7 kΩ, the meter says 162 Ω")
	w.until(`document.querySelector('#despite').checkVisibility()`)
	assert.Empty(t, r.inStock(t))
	w.click("#despite input")
	w.click("#by-hand [name=value]")
	w.press("0")
	w.until(`!document.querySelector('#despite').checkVisibility()`)
	w.press(kb.Enter)
	w.untilSays("#by-hand .error", "It is said to be 4.7 kΩ, the meter says 162 Ω") // 4k70
	w.click("#despite input")
	w.click("#by-hand .main")
	w.untilSays("#said", "confirmed 4.7 kΩ")
	assert.Equal(t, []string{"4.7 kΩ"}, r.inStock(t))
}

// What cannot be read is told in the page as on the command line, and stays
// until it is closed.
func TestUploadErrorsOnPage(t *testing.T) {
	r := start(t, Options{})
	w := r.open(t, 1280, 900)
	folder := t.TempDir()
	files := map[string][]byte{"notes.jpg": []byte("Bench notes"), "empty.jpg": nil, "blank.png": asPNG(t, blank())}
	var paths []string
	for name, data := range files {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, data, 0o600))
		paths = append(paths, path)
	}
	w.bring(paths...)
	w.untilSays("#alert", "notes.jpg: this is no JPEG, PNG")
	w.untilSays("#alert", "empty.jpg: the file is empty")
	w.untilSays("#alert", "blank.png: no parts found")
	w.click("#alert button")
	w.until(`document.querySelector('#alert').hidden`)
}

// The camera of the browser takes a photo that is read like any other.
func TestBrowserCamera(t *testing.T) {
	r := start(t, Options{})
	w := r.open(t, 1280, 900)
	w.click("#camera")
	w.until(`document.querySelector('#video').videoWidth > 0`)
	w.click("#shoot")
	w.until(`document.querySelector('#reading').textContent === '' && !document.querySelector('#camera-dialog').open`)
	w.until(`!document.querySelector('#alert').hidden || document.querySelector('#photos').children.length > 0`)
	assert.Contains(t, w.text("#alert")+w.text("#photos"), "camera ")
}

// With speaking switched on, everything that is announced and every ring that
// is walked to is spoken. The voice is replaced by one that writes down.
func TestVoice(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.run(chromedp.Evaluate[chromedp.Void](`window.spoken = []; speechSynthesis.speak = (u) => spoken.push(u.text)`))
	w.focusHand()
	w.press(kb.ArrowRight)
	assert.Empty(t, value[[]string](w, `spoken`), "it is off at first")
	w.click("#voice")
	w.focusHand()
	w.press(kb.ArrowRight)
	w.until(`spoken.includes('ring 3 of 4: red, RD, × 100')`)
	w.confirm()
	w.until(`spoken.some((s) => s.startsWith('5.6 kΩ confirmed') && s.includes('Part 2 of 5: forty-seven kilo-ohm'))`)
	w.press("b")
	w.until(`spoken.some((s) => s.includes('1 confirmed, 4 to go'))`)
	w.run(chromedp.Reload())
	w.untilSays("#voice", "Speak: on")
}

// A photo that comes in leaves what a person works on as it is: the focus, what
// is typed and the part that keys mean. It says that it came. Its first part is
// taken in hand only where there is nothing to do. The sample has 6 parts.
func TestPhotoComesAmidWork(t *testing.T) {
	for _, c := range []struct {
		name string
		work func(r rig, w window)
		kept string // holds before and after the photo came in
		said string
	}{
		{"a meter's reading is typed", func(r rig, w window) {
			r.drawn(t)
			w.untilSays("#value", "5.6 kΩ")
			w.focusHand()
			w.press(kb.PageDown, kb.PageDown, "m")
			w.until(`document.activeElement.id === 'meter'`)
			w.press("4", ".", "1")
		}, `document.activeElement.id === 'meter' && document.activeElement.value === '4.1' && document.querySelector('#hand-title').textContent === 'Part 3 of 5'`, "came in: 6 parts."},
		{"a ring has the focus", func(r rig, w window) {
			r.drawn(t)
			w.untilSays("#value", "5.6 kΩ")
			w.focusHand()
			w.press(kb.PageDown, kb.ArrowRight)
		}, `document.activeElement.matches('#rings [role=option]:nth-child(2)') && document.querySelector('#hand-title').textContent === 'Part 2 of 5'`, "came in: 6 parts."},
		{"a part is skipped, the others have their answers", func(r rig, w window) {
			r.drawn(t)
			w.untilSays("#value", "5.6 kΩ")
			w.focusHand()
			w.press("x", "x", "x", "x", "l")
			w.untilSays("#said", "Every part is done but 1 skipped.")
		}, `document.querySelector('#hand-title').textContent === 'Part 5 of 5: skipped'`, "came in: 6 parts."},
		{"nothing lies there, a dialog is open", func(r rig, w window) {
			w.click("#hand-entry")
			w.until(`document.activeElement.name === 'value'`)
			w.press("4", "k")
		}, `document.querySelector('#by-hand').open && document.activeElement.value === '4k'`, "came in: 6 parts."},
		{"nothing lies there", func(r rig, w window) {}, `true`, "Part 1 of 6"},
		{"every part has its answer", func(r rig, w window) {
			r.drawn(t)
			w.untilSays("#value", "5.6 kΩ")
			w.focusHand()
			w.press("x", "x", "x", "x", "x")
			w.untilSays("#said", "Every part is done.")
		}, `true`, "Part 1 of 6"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := start(t, Options{})
			w := r.open(t, 1280, 900)
			c.work(r, w)
			w.until(c.kept)
			w.bring(sample)
			w.untilSays("#said", c.said)
			assert.True(t, value[bool](w, c.kept))
			if strings.HasPrefix(c.said, "Part") {
				w.untilSays("#hand-title", c.said)
				w.until(`document.activeElement.role === 'option'`)
			}
		})
	}
}

// Photos can be dropped anywhere and pasted, too.
func TestDropAndPaste(t *testing.T) {
	r := start(t, Options{})
	w := r.open(t, 1280, 900)
	const carried = `(() => { const d = new DataTransfer(); d.items.add(new File(['no photo'], 'NAME')); return d; })()`
	w.run(chromedp.Evaluate[chromedp.Void](`document.body.dispatchEvent(new DragEvent('dragover', {dataTransfer: ` + strings.Replace(carried, "NAME", "dropped.jpg", 1) + `, bubbles: true, cancelable: true}))`))
	w.until(`!document.querySelector('#drop').hidden`)
	w.run(chromedp.Evaluate[chromedp.Void](`document.body.dispatchEvent(new DragEvent('drop', {dataTransfer: ` + strings.Replace(carried, "NAME", "dropped.jpg", 1) + `, bubbles: true, cancelable: true}))`))
	w.untilSays("#alert", "dropped.jpg: this is no JPEG")
	w.until(`document.querySelector('#drop').hidden`)
	w.run(chromedp.Evaluate[chromedp.Void](`document.body.dispatchEvent(new ClipboardEvent('paste', {clipboardData: ` + strings.Replace(carried, "NAME", "pasted.jpg", 1) + `, bubbles: true}))`))
	w.untilSays("#alert", "pasted.jpg: this is no JPEG")
}

// A body on the photo, its number and its line in the list all take it in hand.
func TestMouse(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.click("#plates button:nth-child(3)")
	w.untilSays("#hand-title", "Part 3 of 5")
	w.click("#parts li:nth-child(2) button")
	w.untilSays("#hand-title", "Part 2 of 5")
	w.click("#outlines g:nth-child(4) polygon")
	w.untilSays("#hand-title", "Part 4 of 5")
	w.click("[data-do='not a resistor']")
	w.untilSays("#hand-title", "Part 5 of 5")
	w.click("#previous")
	w.untilSays("#hand-title", "Part 4 of 5: not a resistor")
	w.click("#reopen")
	w.until(`document.querySelector('#hand-title').textContent === 'Part 4 of 5'`)
	w.click("#candidates li:nth-child(2) button")
	w.until(`document.querySelector('#candidates li:nth-child(2) button').getAttribute('aria-pressed') === 'true'`)
	w.click("#palette [data-colour=violet]")
	w.untilSays("#rings [aria-selected=true]", "VT")
	w.click("#clear")
	w.until(`document.querySelector('#hand').hidden && !document.querySelector('#welcome').hidden`)
	w.click("#undo")
	w.until(`document.querySelectorAll('#plates button').length === 5 && !document.querySelector('#hand').hidden`)
	w.click("#plates button:nth-child(4)")
	w.untilSays("#hand-title", "Part 4 of 5")
	w.untilSays("#rings", "VT")
}

// Keys take effect in order, however quick they are; but however often it is
// asked for at once, one part is confirmed, not the next unseen.
func TestQuickFingers(t *testing.T) {
	r := start(t, Options{})
	r.drawn(t)
	w := r.open(t, 1280, 900)
	w.untilSays("#value", "5.6 kΩ")
	w.focusHand()
	w.run(chromedp.KeyEvent("n" + kb.ArrowRight + "k" + kb.ArrowRight + "r" + kb.ArrowRight + "s"))
	w.untilSays("#said", "ring 4 is silver")
	w.untilSays("#value", "1 kΩ ±10 %") // BN BK RD SR
	w.until(`!('fresh' in document.querySelector('#hand').dataset)`)
	w.run(chromedp.Evaluate[chromedp.Void](`for (let i = 0; i < 5; i++) document.querySelector('#confirm').click()`))
	w.untilSays("#hand-title", "Part 2 of 5")
	w.until(`!('fresh' in document.querySelector('#hand').dataset)`)
	// Keys from outside may come late, and then mean the next part: these come
	// at once.
	w.run(chromedp.Evaluate[chromedp.Void](`for (let i = 0; i < 3; i++) document.querySelector('#hand').dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true, cancelable: true }))`))
	w.untilSays("#hand-title", "Part 3 of 5")
	assert.Equal(t, []string{"1 kΩ ±10 %", "47 kΩ ±5 %"}, r.inStock(t))
	assert.Empty(t, w.text("#alert"))
}
