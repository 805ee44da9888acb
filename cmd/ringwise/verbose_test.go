package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// logLine is all that a line of the log may look like: no text but words of the
// program's own.
var logLine = regexp.MustCompile(`^time=[0-9T:.Z+-]+ level=(DEBUG|INFO|WARN|ERROR) msg=("[a-z ]+"|[a-z]+)( [a-z]+=(-?[0-9.]+(ns|µs|ms|s|m[0-9.]+s)?|true|false|[a-z]+|"[a-z ]+"|"(GET|POST|DELETE) /[a-z/{}.$-]*"))*$`)

// timed are the parts of a line whose digits fall as they will: any value of four
// digits stands in one of them now and then.
var timed = regexp.MustCompile(`(^| )(time|took|bytes)=\S+`)

// impersonal checks that a log says something, and nothing of what is personal.
func impersonal(t *testing.T, log string, personal ...string) {
	t.Helper()
	require.NotEmpty(t, log)
	for line := range strings.Lines(log) {
		line = strings.TrimSuffix(line, "\n")
		assert.Regexp(t, logLine, line)
		for _, word := range personal {
			assert.NotContains(t, timed.ReplaceAllString(line, ""), word)
		}
	}
}

func TestVerboseReadTellsNothingPersonal(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("internal", "doctor", "sample.jpg"))
	require.NoError(t, err)
	folder := filepath.Join(t.TempDir(), "grandmother")
	require.NoError(t, os.Mkdir(folder, 0o700))
	write(t, filepath.Join(folder, "una-tin.jpg"), data)
	write(t, filepath.Join(folder, "broken-una.jpg"), []byte("the green set"))

	code, out, errs := ringwise("read", "--verbose", filepath.Join(folder, "una-tin.jpg"))
	require.Equal(t, allWell, code, errs)
	require.Contains(t, out, "4.12 kΩ", "the value that the log must not have")
	impersonal(t, errs, "grandmother", "una", "4.12", "4120", "4K12", "YE")
	assert.Contains(t, errs, "msg=photo number=1 outcome=read")
	assert.Contains(t, errs, "parts=1")

	_, _, errs = ringwise("read", "--verbose", "--json", filepath.Join(folder, "una-tin.jpg"), filepath.Join(folder, "broken-una.jpg"))
	var log strings.Builder
	for line := range strings.Lines(errs) {
		if strings.HasPrefix(line, "time=") {
			log.WriteString(line)
		}
	}
	impersonal(t, log.String(), "grandmother", "una")
	assert.Contains(t, log.String(), "number=2 outcome=refused")
}

// startBench runs the bench until the test ends, and returns its address.
func startBench(t *testing.T, args ...string) (address string, errs *shared, stop func()) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	out, errs := new(shared), new(shared)
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, append([]string{"bench", "--port", "0"}, args...), strings.NewReader(""), out, errs)
	}()
	at := regexp.MustCompile(`http://127\.0\.0\.1:[0-9]+`)
	require.Eventually(t, func() bool { return at.MatchString(out.String()) }, patience, 10*time.Millisecond, errs)
	stopped := false
	stop = func() {
		if !stopped {
			stopped = true
			cancel()
			assert.Equal(t, allWell, <-code)
		}
	}
	t.Cleanup(stop)
	return at.FindString(out.String()), errs, stop
}

// ask sends a request as the bench's own page does, but for what change changes.
func ask(t *testing.T, method, address, path, body string, change func(*http.Request)) (status int, text string) {
	t.Helper()
	r, err := http.NewRequest(method, address+path, strings.NewReader(body))
	require.NoError(t, err)
	if method != http.MethodGet {
		r.Header.Set("Origin", address)
	}
	if change != nil {
		change(r)
	}
	answer, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	return answer.StatusCode, string(data)
}

// An evening at the bench, with attacks among it: the log tells of all of them,
// and of no name, value, note, address, path, cookie or secret.
func TestVerboseBenchTellsNothingPersonal(t *testing.T) {
	path := filepath.Join(t.TempDir(), "unas-stock.db")
	address, errs, stop := startBench(t, "--verbose", "--stock", path)
	sample, err := os.ReadFile(filepath.Join("internal", "doctor", "sample.jpg"))
	require.NoError(t, err)
	cookie := func(r *http.Request) { r.Header.Set("Cookie", "ringwise-7350=WALDEMARTOKEN") }

	status, text := ask(t, "POST", address, "/photos?name=grandmothers-tin.jpg", string(sample), cookie)
	require.Equal(t, http.StatusOK, status, text)
	status, text = ask(t, "POST", address, "/photos/1/1", `{"version":0,"do":"confirm"}`, nil)
	require.Equal(t, http.StatusOK, status, text)
	require.Contains(t, text, "4.12 kΩ", "the value that the log must not have")
	for _, w := range []struct {
		method, path, body string
		change             func(*http.Request)
		want               int
	}{
		{"POST", "/by-hand", `{"value":"4.99k","tolerance":"1","facts":{"note":"Waldemar's drawer"}}`, cookie, 200},
		{"POST", "/by-hand", `{"value":"waldemar"}`, nil, 422},
		{"POST", "/photos?name=waldemar.jpg", "the green set", nil, 422},
		{"POST", "/join", `{"secret":"waldemar"}`, nil, 404},
		{"GET", "/made/waldemar", "", nil, 404},
		{"GET", "/waldemar", "", nil, 404},
		{"GET", "/bins", "", nil, 200},
		{"GET", "/bins", "", func(r *http.Request) { r.Host = "waldemar.example" }, 421},
		{"POST", "/undo", `{"undo":1}`, func(r *http.Request) { r.Header.Set("Origin", "http://waldemar.example") }, 403},
		{"GET", "/", "", func(r *http.Request) { r.Header.Set("User-Agent", "waldemar\" level=ERROR msg=\"x") }, 200},
	} {
		status, text := ask(t, w.method, address, w.path, w.body, w.change)
		assert.Equal(t, w.want, status, "%s %s: %s", w.method, w.path, text)
	}
	events, err := http.Get(address + "/events")
	require.NoError(t, err)
	_, err = bufio.NewReader(events.Body).ReadString('\n')
	require.NoError(t, err)
	require.NoError(t, events.Body.Close())
	stop()

	_, port, _ := strings.Cut(strings.TrimPrefix(address, "http://"), ":")
	impersonal(t, errs.String(), "grandmother", "aldemar", "WALDEMAR", "4.12", "4120", "4K12", "4.99", "4990", "4K99", "unas-stock", "127.0.0.1", "="+port, ":"+port, filepath.Dir(path))
	for _, want := range []string{
		`msg="the bench opens" network=false camera=false`, `msg=photo outcome=read`, `msg=photo outcome=refused`, `refused="another host"`, `refused="another page"`,
		`route="POST /photos/{photo}/{part}" from="this computer" status=200`, `route="POST /by-hand" from="this computer" status=422`,
		`route=none from="this computer" status=404`, `route="GET /made/{name}" from="this computer" status=404`, `msg="the bench is closed"`,
	} {
		assert.Contains(t, errs.String(), want)
	}
}

// Without --verbose what goes well is not logged.
func TestQuietBench(t *testing.T) {
	address, errs, stop := startBench(t, "--stock", filepath.Join(t.TempDir(), "stock.db"))
	ask(t, "GET", address, "/", "", nil)
	ask(t, "GET", address, "/nothing", "", nil)
	stop()
	assert.Empty(t, errs.String())
}
