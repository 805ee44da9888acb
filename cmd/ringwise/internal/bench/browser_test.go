package bench

import (
	"context"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
)

// patience is how long a browser may take for anything, on a busy machine.
const patience = 40 * time.Second

// sample is a demo photo of known parts; the second, of 12 marked parts.
const sample = "../../../../samples/cleanout-01-biscuit-tin.jpg"

var browser context.Context // shared by all tests, nil if there is none

func TestMain(m *testing.M) {
	os.Exit(func() int {
		path, err := exec.LookPath("chromium")
		if err != nil {
			return m.Run()
		}
		options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path),
			chromedp.NoSandbox, chromedp.Flag("use-fake-device-for-media-stream", true),
			chromedp.Flag("use-fake-ui-for-media-stream", true))
		allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
		defer stop()
		ctx, end := chromedp.NewContext(allocator)
		defer end()
		if err := chromedp.Do(ctx); err != nil {
			fmt.Fprintln(os.Stderr, "chromium does not start:", err)
			return 1
		}
		browser = ctx
		return m.Run()
	}())
}

// A bench under test.
type rig struct {
	*Server
	address string
	stock   string // its file
}

// start runs a bench with an empty stock until the test ends.
func start(t testing.TB, options Options) rig {
	t.Helper()
	return startOn(t, "127.0.0.1:0", options)
}

func startOn(t testing.TB, at string, options Options) rig {
	t.Helper()
	path := filepath.Join(t.TempDir(), "stock.db")
	store, err := stock.Open(context.Background(), path)
	require.NoError(t, err)
	listener, err := net.Listen("tcp", at)
	require.NoError(t, err)
	server, err := New(store, listener, options)
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(ctx) }()
	t.Cleanup(func() {
		stop()
		require.NoError(t, <-ended)
		require.NoError(t, store.Close())
	})
	return rig{server, server.Address(), path}
}

// A window is a browser window of its own on the bench.
type window struct {
	t   testing.TB
	ctx context.Context
	// troubles are errors of the page's own code.
	troubles *troubles
}

// troubles are told by the browser from another goroutine.
type troubles struct {
	sync.Mutex
	list []string
}

func (t *troubles) add(e *runtime.ExceptionDetails) {
	t.Lock()
	defer t.Unlock()
	text := e.Text
	if e.Exception != nil {
		text += " " + e.Exception.Description
	}
	t.list = append(t.list, text)
}

// open opens a window of so many pixels. Windows share nothing with those of
// other tests.
func (r rig) open(t testing.TB, width, height int64, more ...chromedp.ContextOption) window {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes a while")
	}
	if browser == nil {
		t.Skip("chromium is not installed")
	}
	if len(more) == 0 {
		more = []chromedp.ContextOption{chromedp.WithNewBrowserContext()}
	}
	ctx, stop := chromedp.NewContext(browser, more...)
	t.Cleanup(stop)
	w := window{t, ctx, new(troubles)}
	require.NoError(t, chromedp.Listen(ctx, func(event any) {
		if e, ok := event.(*runtime.EventExceptionThrown); ok {
			w.troubles.add(e.ExceptionDetails)
		}
	}))
	t.Cleanup(func() {
		w.troubles.Lock()
		defer w.troubles.Unlock()
		assert.Empty(t, w.troubles.list, "the page's code has errors")
	})
	w.run(chromedp.EmulateViewport(width, height), chromedp.Navigate(r.address))
	w.until(`document.querySelector('#session')?.textContent`)
	return w
}

func (w window) run(actions ...chromedp.Action[chromedp.Void]) {
	w.t.Helper()
	ctx, stop := context.WithTimeout(w.ctx, patience)
	defer stop()
	require.NoError(w.t, chromedp.Do(ctx, actions...))
}

// get runs an action and returns its result.
func get[T any](w window, action chromedp.Action[T]) T {
	w.t.Helper()
	ctx, stop := context.WithTimeout(w.ctx, patience)
	defer stop()
	result, err := chromedp.Run(ctx, action)
	require.NoError(w.t, err)
	return result
}

// until waits until an expression is true on the page, whichever page that is
// by then.
func (w window) until(expression string) {
	w.t.Helper()
	ctx, stop := context.WithTimeout(w.ctx, patience)
	defer stop()
	for ctx.Err() == nil {
		_, err := chromedp.Run(ctx, chromedp.Poll[chromedp.Void](expression,
			chromedp.WithPollingInterval(30*time.Millisecond), chromedp.WithPollingTimeout(patience/4)))
		if err == nil {
			return
		}
	}
	require.Fail(w.t, "this does not come true on the page: "+expression, "the page says %q, errors %q", w.text("#said"),
		value[[]string](w, `[...document.querySelectorAll('#alert, .error')].map((e) => e.textContent)`))
}

// untilSays waits until an element's text contains the words.
func (w window) untilSays(element, words string) {
	w.t.Helper()
	w.until(fmt.Sprintf("document.querySelector(%q)?.textContent.includes(%q)", element, words))
}

// value is what an expression comes to on the page.
func value[T any](w window, expression string) T {
	w.t.Helper()
	return get(w, chromedp.Evaluate[T](expression))
}

func (w window) text(element string) string {
	w.t.Helper()
	return value[string](w, fmt.Sprintf("document.querySelector(%q)?.textContent || ''", element))
}

// press presses keys, one after the other, wherever the focus is.
func (w window) press(keys ...string) {
	w.t.Helper()
	for _, key := range keys {
		w.run(chromedp.KeyEvent(key))
	}
}

// bring brings files in by the file field, as choosing them does.
func (w window) bring(paths ...string) {
	w.t.Helper()
	for i, path := range paths {
		absolute, err := filepath.Abs(path)
		require.NoError(w.t, err)
		paths[i] = absolute
	}
	w.run(chromedp.SetUploadFiles(chromedp.CSS("#files"), paths))
}

// picture writes a picture of the whole page, for people to look at, where
// RINGWISE_PICTURES names a folder.
func (w window) picture(name string) {
	w.t.Helper()
	folder := os.Getenv("RINGWISE_PICTURES")
	if folder == "" {
		return
	}
	data := get(w, chromedp.FullScreenshot(100))
	require.NoError(w.t, os.MkdirAll(folder, 0o755))
	require.NoError(w.t, os.WriteFile(filepath.Join(folder, name+".png"), data, 0o644))
}

// scheme sets what the person prefers, by CSS media features.
func (w window) scheme(features ...string) {
	w.t.Helper()
	var list []*emulation.MediaFeature
	for _, f := range features {
		name, value, _ := strings.Cut(f, ":")
		list = append(list, &emulation.MediaFeature{Name: name, Value: value})
	}
	_, err := chromedp.Call(w.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: list})
	require.NoError(w.t, err)
}

// call sends the browser a command that has no result.
func (w window) call(command cdp.Command[page.SetInterceptFileChooserDialogParams, cdp.Empty], params page.SetInterceptFileChooserDialogParams) {
	w.t.Helper()
	_, err := chromedp.Call(w.ctx, command, params)
	require.NoError(w.t, err)
}

// click scrolls an element into the middle and clicks it with the mouse.
func (w window) click(element string) {
	w.t.Helper()
	w.run(chromedp.Evaluate[chromedp.Void](fmt.Sprintf("document.querySelector(%q).scrollIntoView({block: 'center'})", element)),
		chromedp.Click(chromedp.CSS(element)))
}

// focusHand puts the focus into the part in hand.
func (w window) focusHand() {
	w.t.Helper()
	w.run(chromedp.Evaluate[chromedp.Void](`(document.querySelector('#rings [aria-selected=true]') || document.querySelector('#hand')).focus()`))
}

// confirm presses Enter in the part in hand, once it has lain there for a moment.
func (w window) confirm() {
	w.t.Helper()
	w.until(`!('fresh' in document.querySelector('#hand').dataset)`)
	w.press(kb.Enter)
}

// at is the middle of an element, moved by parts of its size, in pixels of the
// window.
func (w window) at(element string, x, y float64) (float64, float64) {
	w.t.Helper()
	place := value[[2]float64](w, fmt.Sprintf(`(() => {
		const e = document.querySelector(%q);
		e.scrollIntoView({block: 'nearest'}); // not at all if it is in view
		const b = e.getBoundingClientRect();
		return [b.left + %g * b.width, b.top + %g * b.height];
	})()`, element, x, y))
	return place[0], place[1]
}

// drag drags the mouse from one place in an element to another, which are given
// as fractions of its size.
func (w window) drag(element string, fromX, fromY, toX, toY float64) {
	w.t.Helper()
	x, y := w.at(element, fromX, fromY)
	u, v := w.at(element, toX, toY)
	mouse := func(kind input.DispatchMouseEventType, x, y float64) {
		_, err := chromedp.Call(w.ctx, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: kind, X: x, Y: y, Button: input.MouseButtonLeft, ClickCount: 1})
		require.NoError(w.t, err)
	}
	mouse(input.DispatchMouseEventTypeMousePressed, x, y)
	for i := 1; i <= 4; i++ {
		mouse(input.DispatchMouseEventTypeMouseMoved, x+(u-x)*float64(i)/4, y+(v-y)*float64(i)/4)
	}
	mouse(input.DispatchMouseEventTypeMouseReleased, u, v)
}

// tabTo presses Tab until the element has the focus.
func (w window) tabTo(element string) {
	w.t.Helper()
	for range 60 {
		if value[bool](w, fmt.Sprintf("document.activeElement.matches(%q)", element)) {
			return
		}
		w.press(kb.Tab)
	}
	require.Fail(w.t, "Tab does not reach "+element)
}

// fill fills fields of a form, given as pairs of name and text, and sends it.
func (w window) fill(form string, pairs ...string) {
	w.t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		w.run(chromedp.Evaluate[chromedp.Void](fmt.Sprintf("document.querySelector(%q).value = %q", "#"+form+"-"+pairs[i], pairs[i+1])))
	}
	w.run(chromedp.Evaluate[chromedp.Void](fmt.Sprintf("document.querySelector(%q).requestSubmit()", "#"+form+"-form")))
}

func quote(v any) string { return fmt.Sprintf("%#v", v) }
