package bench

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
)

// newServer is a server with a drawn photo that never listens: requests go
// straight to its handler, as from any address.
func newServer(t *testing.T, options Options) *Server {
	t.Helper()
	store, err := stock.Open(context.Background(), filepath.Join(t.TempDir(), "stock.db"))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { listener.Close() })
	s, err := New(store, listener, options)
	require.NoError(t, err)
	s.port = "7350"
	require.NoError(t, s.tray.add(drawnPhoto(t, "tin.jpg")))
	return s
}

// own is a request as this computer's own page makes it.
func own(method, path, body string) *http.Request {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Host, r.RemoteAddr = "127.0.0.1:7350", "127.0.0.1:50000"
	if method != http.MethodGet {
		r.Header.Set("Origin", "http://127.0.0.1:7350")
	}
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	return r
}

func (s *Server) answers(r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	s.handler().ServeHTTP(w, r)
	return w
}

// The bench answers its own pages alone. Attacks are those that a page of
// another site, or another device, can make: a name bent to this address,
// requests across origins with and without the headers that give them away, and
// addresses of the local network.
func TestGuard(t *testing.T) {
	s := newServer(t, Options{})
	const undo = `{"undo":1}`
	for _, w := range []struct {
		name   string
		method string
		path   string
		change func(*http.Request)
		want   int
	}{
		{"own page", "GET", "/", nil, 200},
		{"own page by name", "GET", "/", func(r *http.Request) { r.Host = "localhost:7350" }, 200},
		{"own page by IPv6", "GET", "/", func(r *http.Request) { r.Host, r.RemoteAddr = "[::1]:7350", "[::1]:50000" }, 200},
		{"own photo", "GET", "/photos/1", nil, 200},
		{"own change", "POST", "/undo", nil, 200},
		{"typed address", "GET", "/", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "none") }, 200},
		{"link from another site", "GET", "/", func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", "navigate")
			r.Header.Set("Sec-Fetch-Dest", "document")
		}, 200},

		{"bent name", "GET", "/", func(r *http.Request) { r.Host = "evil.example:7350" }, 421},
		{"bent name, change", "POST", "/undo", func(r *http.Request) {
			r.Host = "evil.example:7350"
			r.Header.Set("Origin", "http://evil.example:7350")
		}, 421},
		{"name that only starts alike", "GET", "/", func(r *http.Request) { r.Host = "127.0.0.1.evil.example:7350" }, 421},
		{"no port", "GET", "/", func(r *http.Request) { r.Host = "127.0.0.1" }, 421},
		{"other port", "GET", "/", func(r *http.Request) { r.Host = "127.0.0.1:80" }, 421},
		{"no host", "GET", "/", func(r *http.Request) { r.Host = "" }, 421},
		{"address of the network without --lan", "GET", "/", func(r *http.Request) { r.Host = "192.168.1.7:7350" }, 421},

		{"change from another site", "POST", "/undo", func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }, 403},
		{"change from another port", "POST", "/undo", func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:8000") }, 403},
		{"change from a sandbox", "POST", "/undo", func(r *http.Request) { r.Header.Set("Origin", "null") }, 403},
		{"change by TLS", "POST", "/undo", func(r *http.Request) { r.Header.Set("Origin", "https://127.0.0.1:7350") }, 403},
		{"change without an origin", "POST", "/undo", func(r *http.Request) { r.Header.Del("Origin") }, 403},
		{"use from another site", "POST", "/use/spread", func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }, 403},
		{"stand-in from another port", "POST", "/use/stand-in", func(r *http.Request) { r.Header.Set("Origin", "http://127.0.0.1:8000") }, 403},
		{"power from a sandbox", "POST", "/use/power", func(r *http.Request) { r.Header.Set("Origin", "null") }, 403},
		{"search from another site", "POST", "/find/combine", func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }, 403},
		{"divider without an origin", "POST", "/find/divider", func(r *http.Request) { r.Header.Del("Origin") }, 403},
		{"list from another site", "POST", "/find/project", func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }, 403},
		{"parts taken from another site", "POST", "/find/take", func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }, 403},
		{"parts taken by a bent name", "POST", "/find/take", func(r *http.Request) { r.Host = "evil.example:7350" }, 421},
		{"sheets from another site", "POST", "/sheets", func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }, 403},
		{"file made, in another site's page", "GET", "/made/1", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, 403},
		{"link from another site to a file made", "GET", "/made/1", func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", "navigate")
			r.Header.Set("Sec-Fetch-Dest", "document")
		}, 403},
		{"use from another device", "POST", "/use/power", func(r *http.Request) { r.RemoteAddr = "192.168.1.9:50000" }, 401},
		{"file made, to another device", "GET", "/made/1", func(r *http.Request) { r.RemoteAddr = "192.168.1.9:50000" }, 401},
		{"photo in another site's page", "GET", "/photos/1", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, 403},
		{"stock from another port's page", "GET", "/bins", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") }, 403},
		{"stock from another origin", "GET", "/bins", func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }, 403},
		{"link from another site to a photo", "GET", "/photos/1", func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", "navigate")
			r.Header.Set("Sec-Fetch-Dest", "document")
		}, 403},
		{"page in another site's frame", "GET", "/", func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", "navigate")
			r.Header.Set("Sec-Fetch-Dest", "iframe")
		}, 403},
		{"another device", "GET", "/", func(r *http.Request) { r.RemoteAddr = "192.168.1.9:50000" }, 401},
		{"another device that claims to be here", "GET", "/", func(r *http.Request) {
			r.RemoteAddr = "192.168.1.9:50000"
			r.Header.Set("X-Forwarded-For", "127.0.0.1")
		}, 401},
		{"join without --lan", "POST", "/join", nil, 404},
		{"invitation without --lan", "GET", "/invitation", nil, 403},
	} {
		body := undo
		if w.path == "/join" {
			body = `{"secret":""}`
		}
		r := own(w.method, w.path, body)
		if w.change != nil {
			w.change(r)
		}
		got := s.answers(r)
		assert.Equal(t, w.want, got.Code, "%s: %s", w.name, got.Body)
		assert.Contains(t, got.Header().Get("Content-Security-Policy"), "default-src 'none'", w.name)
		assert.NotContains(t, got.Header().Get("Content-Security-Policy"), "unsafe", w.name)
		assert.Empty(t, got.Header().Get("Access-Control-Allow-Origin"), w.name)
		if w.want == 200 && w.path == "/undo" {
			require.NoError(t, s.tray.add(drawnPhoto(t, "tin.jpg")))
			s.tray.photos[0].id, s.tray.done[0].number = 1, 1
		}
	}
}

// No request opens a file: paths that climb or name files of the program are
// not found.
func TestNoPathIsOpened(t *testing.T) {
	s := newServer(t, Options{})
	for _, path := range []string{
		"/../server.go", "/..%2fserver.go", "/%2e%2e/server.go", "/page/index.html", "/index.html", "/photos/..%2f..%2fserver.go",
		"/photos/1/..%2f..%2fpage", "/photos/-1", "/photos/1/-5", "/photos/1/99", "/photos/99999999999999999999", "/bins/../../etc/passwd/crop",
		"/made/..%2f..%2fserver.go", "/made/../../etc/passwd", "/made/", "/made/stock.db",
		"/bins/1/crop", "/photos/", "/main.go", "//etc/passwd",
	} {
		got := s.answers(own("GET", path, ""))
		assert.Contains(t, []int{301, 307, 404, 400}, got.Code, path)
		assert.NotContains(t, got.Body.String(), "package bench", path)
	}
	for name, want := range map[string]string{
		"../../etc/passwd": "passwd", `C:\photos\tin.jpg`: "tin.jpg", "a\x00b\n.jpg": "ab.jpg", strings.Repeat("é", 300): strings.Repeat("é", 100) + "…",
		"<script>.jpg": "<script>.jpg",
	} {
		assert.Equal(t, want, plainName(name))
	}
	assert.Contains(t, plainName("///"), "photo of")
}

// Bodies that are no plain question are refused.
func TestBodies(t *testing.T) {
	s := newServer(t, Options{})
	for _, body := range []string{"", "{", "[]", `{"undo":1}{"undo":1}`, `{"undo":1,"path":"/etc/passwd"}`, `{"undo":"` + strings.Repeat("x", mostBody) + `"}`} {
		assert.Equal(t, 400, s.answers(own("POST", "/undo", body)).Code, "%.40s", body)
	}
	for path, most := range map[string]int{
		"/use/spread": mostBody, "/use/stand-in": mostBody, "/use/power": mostBody, "/find/combine": mostBody, "/find/divider": mostBody,
		"/find/project": mostProject, "/find/take": mostTakings, "/sheets": mostBody,
	} {
		for _, body := range []string{"", "[]", "{}{}", `{"path":"/etc/passwd"}`, `{"list":"` + strings.Repeat("x", most) + `"}`} {
			assert.Equal(t, 400, s.answers(own("POST", path, body)).Code, "%s %.40s", path, body)
		}
		assert.Equal(t, 405, s.answers(own("GET", path, "")).Code, path)
	}
	assert.Equal(t, 422, s.answers(own("POST", "/undo", `{"undo":77}`)).Code)
	assert.Equal(t, 405, s.answers(own("PUT", "/undo", `{"undo":1}`)).Code)
	assert.Equal(t, 409, s.answers(own("POST", "/photos/1/1", `{"version":5,"do":"flip"}`)).Code)
	assert.Equal(t, 404, s.answers(own("POST", "/photos/1/9", `{"version":0,"do":"flip"}`)).Code)
}

// What is no photo gets the errors of the command line.
func TestBadUploads(t *testing.T) {
	s := newServer(t, Options{})
	jpg := asJPEG(t, blank())
	huge := bytes.Clone(jpg)
	// ITU-T T.81, B.2.2: SOF0 is FF C0, length, precision, height, width.
	copy(huge[bytes.Index(huge, []byte{0xff, 0xc0})+5:], []byte{0x75, 0x30, 0x75, 0x30})
	for _, w := range []struct {
		name string
		data []byte
		want string
	}{
		{"notes.jpg", []byte("Bench notes: the brown ones are in the second tin.\n"), "notes.jpg: this is no JPEG, PNG"},
		{"empty.jpg", nil, "empty.jpg: the file is empty"},
		{"half.jpg", jpg[:len(jpg)/2], "half.jpg: the jpeg is cut short"},
		{"huge.jpg", huge, "30000 × 30000 pixels"},
	} {
		r := own("POST", "/photos?name="+w.name, string(w.data))
		got := s.answers(r)
		assert.Equal(t, 422, got.Code, w.name)
		var told struct{ Error string }
		require.NoError(t, json.Unmarshal(got.Body.Bytes(), &told))
		assert.Contains(t, told.Error, w.want)
	}
	r := own("POST", "/photos?name=endless.jpg", "")
	r.Body = io.NopCloser(endless{})
	got := s.answers(r)
	assert.Equal(t, http.StatusRequestEntityTooLarge, got.Code)
	assert.Contains(t, got.Body.String(), "larger than 64 MB")
	assert.Len(t, s.tray.photos, 1, "nothing of it lies on the bench")
}

// endless is a body without an end.
type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

// Photos that come in too fast are put off.
func TestIntakeBounds(t *testing.T) {
	in := newIntake()
	now := time.Now()
	for range mostWaiting {
		_, err := in.enter(now)
		require.NoError(t, err)
	}
	_, err := in.enter(now)
	assert.ErrorIs(t, err, errBusy)

	in = newIntake()
	for range mostAMinute {
		leave, err := in.enter(now)
		require.NoError(t, err)
		leave()
	}
	_, err = in.enter(now)
	assert.ErrorIs(t, err, errBusy)
	_, err = in.enter(now.Add(2 * time.Minute))
	assert.NoError(t, err)
}

// With --lan a device is let in by the secret of one invitation, once.
func TestDoor(t *testing.T) {
	invited := 0
	s := newServer(t, Options{Addresses: []netip.Addr{netip.MustParseAddr("192.168.1.7")}, Invited: func(string) { invited++ }})
	device := func(method, path, body, cookie string) *httptest.ResponseRecorder {
		r := own(method, path, body)
		r.Host, r.RemoteAddr = "192.168.1.7:7350", "192.168.1.9:40000"
		if method != http.MethodGet {
			r.Header.Set("Origin", "http://192.168.1.7:7350")
		}
		if cookie != "" {
			r.Header.Set("Cookie", cookie)
		}
		return s.answers(r)
	}
	address, secret, _ := strings.Cut(s.Invitation(), "#")
	assert.Equal(t, "http://192.168.1.7:7350/join", address)
	assert.GreaterOrEqual(t, len(secret), 26, "26 letters of 5 bits are 128 bits and more")

	for _, path := range []string{"/", "/events", "/photos/1", "/bins", "/main.js"} {
		assert.Equal(t, 401, device("GET", path, "", "").Code, path)
		assert.Equal(t, 401, device("GET", path, "", "ringwise-7350=guess").Code, path)
	}
	for _, path := range []string{"/undo", "/use/spread", "/use/stand-in", "/use/power", "/find/combine", "/find/divider", "/find/project", "/find/take", "/sheets"} {
		assert.Equal(t, 401, device("POST", path, `{}`, "").Code, path)
	}
	assert.Equal(t, 401, device("GET", "/made/1", "", "").Code)
	assert.Equal(t, 200, device("GET", "/join", "", "").Code)
	assert.Equal(t, 403, device("POST", "/join", `{"secret":"guess"}`, "").Code)
	assert.Equal(t, 403, device("POST", "/join", `{"secret":""}`, "").Code)
	assert.Equal(t, 401, device("GET", "/invitation", "", "").Code)

	got := device("POST", "/join", fmt.Sprintf(`{"secret":%q}`, secret), "")
	require.Equal(t, 200, got.Code, got.Body)
	cookies := got.Result().Cookies()
	require.Len(t, cookies, 1)
	assert.True(t, cookies[0].HttpOnly)
	assert.Equal(t, http.SameSiteStrictMode, cookies[0].SameSite)
	assert.Empty(t, cookies[0].Domain)
	assert.NotContains(t, cookies[0].Value, secret)
	assert.Equal(t, 1, invited)
	cookie := cookies[0].Name + "=" + cookies[0].Value
	assert.Equal(t, 200, device("GET", "/", "", cookie).Code)
	assert.Equal(t, 200, device("GET", "/photos/1", "", cookie).Code)
	assert.Equal(t, 403, device("GET", "/invitation", "", cookie).Code, "only this computer invites")
	assert.Equal(t, 403, device("POST", "/join", fmt.Sprintf(`{"secret":%q}`, secret), "").Code, "the secret is good once")
	assert.NotContains(t, s.Invitation(), secret)

	r := own("POST", "/undo", `{"undo":1}`)
	r.Host, r.RemoteAddr = "192.168.1.7:7350", "192.168.1.9:40000"
	r.Header.Set("Cookie", cookie)
	r.Header.Set("Origin", "http://evil.example")
	assert.Equal(t, 403, s.answers(r).Code, "a cookie does not help another site")

	assert.Equal(t, 200, s.answers(own("GET", "/invitation", "")).Code)
	other := newServer(t, Options{Addresses: s.addresses})
	s = other
	assert.Equal(t, 401, device("GET", "/", "", cookie).Code, "a new start lets all devices go")
}

// Guessing is slowed down.
func TestDoorTries(t *testing.T) {
	d := newDoor()
	now := time.Now()
	for range mostTries {
		_, err := d.exchange("guess", now)
		assert.ErrorContains(t, err, "used already")
	}
	_, err := d.exchange(d.invitation(), now)
	assert.ErrorContains(t, err, "too many tries")
	_, err = d.exchange(d.invitation(), now.Add(2*time.Minute))
	assert.NoError(t, err)
}

// A window hears what happens long after the time that the server gives other
// requests.
func TestEventsLast(t *testing.T) {
	s := newServer(t, Options{})
	quick := httptest.NewUnstartedServer(s.handler())
	quick.Config.ReadTimeout, quick.Config.WriteTimeout = 50*time.Millisecond, 50*time.Millisecond
	quick.Start()
	defer quick.Close()
	defer s.hub.close()
	_, port, err := net.SplitHostPort(quick.Listener.Addr().String())
	require.NoError(t, err)
	s.port = port
	answer, err := http.Get(quick.URL + "/events")
	require.NoError(t, err)
	defer answer.Body.Close()
	events := bufio.NewScanner(answer.Body)
	events.Buffer(nil, 1<<20)
	require.True(t, events.Scan())
	assert.Equal(t, "event: bench", events.Text())
	<-time.After(4 * quick.Config.ReadTimeout)
	s.hub.send("stock", struct{}{})
	var lines []string
	for range 4 {
		require.True(t, events.Scan(), events.Err())
		lines = append(lines, events.Text())
	}
	assert.Equal(t, "event: stock", lines[2])
}

// A window that does not listen is cut off rather than held in memory, and all
// are when the bench stops.
func TestHub(t *testing.T) {
	h := newHub()
	slow, ok := h.join()
	require.True(t, ok)
	for range backlog + 1 {
		h.send("session", 1)
	}
	n := 0
	for range slow {
		n++
	}
	assert.Equal(t, backlog, n)
	quick, ok := h.join()
	require.True(t, ok)
	h.close()
	_, open := <-quick
	assert.False(t, open)
	_, ok = h.join()
	assert.False(t, ok)
	assert.Equal(t, "event: photo\ndata: {\"id\":1}\n\n", string(encode("photo", map[string]int{"id": 1})), "HTML Living Standard, 9.2.5")
}
