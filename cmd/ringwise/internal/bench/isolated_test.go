package bench

import (
	"bytes"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// killDecoders ends the processes that decode pictures for this program, until
// done is closed, and tells how many they were. Processes are found as proc(5)
// tells it.
func killDecoders(done <-chan struct{}) (killed int) {
	tasks := "/proc/self/task/*/children"
	for {
		select {
		case <-done:
			return killed
		case <-time.After(time.Millisecond):
		}
		lists, _ := filepath.Glob(tasks)
		for _, list := range lists {
			text, _ := os.ReadFile(list)
			for _, word := range bytes.Fields(text) {
				pid, _ := strconv.Atoi(string(word))
				line, _ := os.ReadFile("/proc/" + string(word) + "/cmdline")
				if !bytes.HasSuffix(line, []byte("\x00decode-isolated\x00")) {
					continue
				}
				if process, err := os.FindProcess(pid); err == nil && process.Kill() == nil {
					killed++
				}
			}
		}
	}
}

// A photo that takes its decoder down is refused in one line; what lies on the
// bench stays, and the next photo is read.
func TestBenchOutlivesItsDecoder(t *testing.T) {
	if _, err := os.Stat("/proc/self/task"); err != nil {
		t.Skip("this system has no /proc to find processes by")
	}
	s := newServer(t, Options{})
	send := func() (code int, body string) {
		got := s.answers(own("POST", "/photos?name=odd.jpg", string(asJPEG(t, blank()))))
		return got.Code, got.Body.String()
	}

	done, count := make(chan struct{}), make(chan int)
	go func() { count <- killDecoders(done) }()
	code, body := send()
	close(done)
	require.Positive(t, <-count, "no decoder was found to end")
	assert.Equal(t, http.StatusUnprocessableEntity, code)
	assert.Contains(t, body, "odd.jpg: the photo broke the picture decoder")
	assert.Len(t, s.tray.photos, 1, "what lay on the bench is gone")

	code, body = send()
	assert.Equal(t, http.StatusOK, code, body)
	assert.Len(t, s.tray.photos, 2)
}
