package bench

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
)

// listening is a bench that answers on a port until the test ends, with the
// waits given.
func listening(t *testing.T, w waits) *Server {
	t.Helper()
	store, err := stock.Open(context.Background(), filepath.Join(t.TempDir(), "stock.db"))
	require.NoError(t, err)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	s, err := New(store, listener, Options{})
	require.NoError(t, err)
	server := s.server(context.Background(), w)
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		server.Serve(listener)
	}()
	t.Cleanup(func() {
		s.hub.close()
		server.Close()
		<-ended
		store.Close()
	})
	return s
}

// An attacker that is slow on purpose, in each of the ways that hold a
// connection: it is cut off, however long it would go on.
func TestSlowClientsAreCutOff(t *testing.T) {
	s := listening(t, waits{headers: 200 * time.Millisecond, request: 400 * time.Millisecond, answer: 400 * time.Millisecond, idle: 200 * time.Millisecond})
	host := "127.0.0.1:" + s.port
	head := fmt.Sprintf("Host: %s\r\nOrigin: http://%s\r\n", host, host)
	for name, attack := range map[string]struct{ first, dripped string }{
		"says nothing":          {"", ""},
		"drips its headers":     {"GET / HTTP/1.1\r\n" + head, "X: y\r\n"},
		"drips its question":    {"POST /undo HTTP/1.1\r\n" + head + "Content-Length: 4000\r\n\r\n", " "},
		"stays after an answer": {"GET /icon.svg HTTP/1.1\r\n" + head + "\r\n", ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			connection, err := net.Dial("tcp", host)
			require.NoError(t, err)
			defer connection.Close()
			_, err = io.WriteString(connection, attack.first)
			require.NoError(t, err)
			gone := make(chan struct{})
			go func() {
				defer close(gone)
				io.Copy(io.Discard, connection)
			}()
			drip := time.NewTicker(50 * time.Millisecond)
			defer drip.Stop()
			for end := time.After(20 * time.Second); ; {
				select {
				case <-gone:
					return
				case <-drip.C:
					io.WriteString(connection, attack.dripped)
				case <-end:
					t.Fatal("the connection is held for as long as the attacker likes")
				}
			}
		})
	}
}

// The waits that the bench really has: none is without end, and each is short
// enough that a slow client does not matter.
func TestWaitsHaveAnEnd(t *testing.T) {
	s := newServer(t, Options{})
	server := s.server(context.Background(), usualWaits)
	for name, wait := range map[string]time.Duration{
		"headers": server.ReadHeaderTimeout, "request": server.ReadTimeout, "answer": server.WriteTimeout, "idle": server.IdleTimeout,
		"photo": uploadTime, "reading": readingTime, "search": findingTime, "sheets": makingTime,
	} {
		assert.Positive(t, wait, name)
		assert.LessOrEqual(t, wait, 2*time.Minute, name)
	}
	assert.Positive(t, server.MaxHeaderBytes)
}

// Headers without end are refused.
func TestEndlessHeaders(t *testing.T) {
	s := listening(t, usualWaits)
	connection, err := net.Dial("tcp", "127.0.0.1:"+s.port)
	require.NoError(t, err)
	defer connection.Close()
	go func() {
		io.WriteString(connection, "GET / HTTP/1.1\r\n")
		for i := 0; ; i++ {
			if _, err := fmt.Fprintf(connection, "X-%d: %s\r\n", i, strings.Repeat("y", 1000)); err != nil {
				return
			}
		}
	}()
	connection.SetReadDeadline(time.Now().Add(20 * time.Second))
	answer, err := http.ReadResponse(bufio.NewReader(connection), nil)
	if err == nil { // or the connection is reset before the answer is read
		assert.Equal(t, http.StatusRequestHeaderFieldsTooLarge, answer.StatusCode)
		return
	}
	assert.NotErrorIs(t, err, context.DeadlineExceeded)
	assert.False(t, strings.Contains(err.Error(), "timeout"), "%v", err)
}

// A device that was not let in cannot have the bench take in its photo: it is
// refused before the body is read.
func TestUploadsOfStrangersAreNotRead(t *testing.T) {
	s := newServer(t, Options{})
	r := own("POST", "/photos?name=tin.jpg", "")
	r.RemoteAddr = "192.168.1.9:50000"
	body := &counted{Reader: endless{}}
	r.Body = io.NopCloser(body)
	assert.Equal(t, http.StatusUnauthorized, s.answers(r).Code)
	assert.Zero(t, body.read)
}

// counted counts what is read of it.
type counted struct {
	io.Reader
	read int
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.Reader.Read(p)
	c.read += n
	return n, err
}
