package main

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"net/netip"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shared is output that is read while it is written.
type shared struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (s *shared) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

func (s *shared) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// The bench prints its address, answers there, and stops when it is told to.
func TestBenchCommand(t *testing.T) {
	path := filepath.Join(t.TempDir(), "club.db")
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	out, errs := new(shared), new(shared)
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, []string{"bench", "--port", "0", "--stock", path}, strings.NewReader(""), out, errs)
	}()
	address := regexp.MustCompile(`http://127\.0\.0\.1:[0-9]+`)
	require.Eventually(t, func() bool { return address.MatchString(out.String()) }, patience, 10*time.Millisecond, errs)
	assert.Contains(t, out.String(), "Stock: "+path)

	answer, err := http.Get(address.FindString(out.String()))
	require.NoError(t, err)
	page, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	require.NoError(t, answer.Body.Close())
	assert.Equal(t, http.StatusOK, answer.StatusCode)
	assert.Contains(t, string(page), "<title>Ringwise bench</title>")
	stop()
	assert.Equal(t, allWell, <-code)
	assert.Empty(t, errs.String())
}

// Without --lan another device cannot even connect: from each of this computer's own
// addresses on a network the port is closed.
func TestBenchAnswersThisComputerAlone(t *testing.T) {
	address, _, _ := startBench(t, "--stock", filepath.Join(t.TempDir(), "club.db"))
	_, port, found := strings.Cut(strings.TrimPrefix(address, "http://"), ":")
	require.True(t, found)
	all, err := net.InterfaceAddrs()
	require.NoError(t, err)
	tried := 0
	for _, a := range all {
		at, err := netip.ParsePrefix(a.String())
		if err != nil || at.Addr().IsLoopback() || at.Addr().IsLinkLocalUnicast() {
			continue
		}
		tried++
		connection, err := net.DialTimeout("tcp", net.JoinHostPort(at.Addr().String(), port), patience)
		if !assert.Error(t, err, "%s is open", at) {
			connection.Close()
		}
	}
	if tried == 0 {
		t.Skip("this computer is on no network")
	}
}

func TestBenchErrors(t *testing.T) {
	folder := t.TempDir()
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer taken.Close()
	_, port, err := net.SplitHostPort(taken.Addr().String())
	require.NoError(t, err)
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"bench", "photo.jpg"}, wrongUse, "photos are brought in on the page"},
		{[]string{"bench", "--port", "70000"}, wrongUse, "no port 70000"},
		{[]string{"bench", "--port", "many"}, wrongUse, `"many" for --port`},
		{[]string{"bench", "--stock", filepath.Join(folder, "club.db"), "--port", port}, failed, "port " + port + " is taken"},
		{[]string{"bench", "--stock", filepath.Join(folder, "missing", "club.db")}, failed, "there is no folder"},
		{[]string{"bench", "--stock", filepath.Join(folder, "club.db"), "--port", "0", "--camera", "missing.avi"}, failed, "there is no video file missing.avi"},
	} {
		code, out, errs := ringwise(c.args...)
		assert.Equal(t, c.code, code, "%q", c.args)
		assert.Empty(t, out)
		assert.Contains(t, errs, c.want)
		assert.Equal(t, 1, strings.Count(errs, "\n"), "one line: %s", errs)
	}
}
