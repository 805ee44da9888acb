package main

import (
	"bufio"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// asProgram makes this test the program itself.
const asProgram = "RINGWISE_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	os.Exit(m.Run())
}

// Lines of strace -f -y, which writes the file or socket behind each number:
//
//	812 read(9<socket:[4711]>, "POST /by-hand HTTP/1.1\r\n"..., 4096) = 231
//	813 fdatasync(7</a/stock.db-wal>)   = 0
//	813 fdatasync(7</a/stock.db-wal> <unfinished ...>
//	813 <... fdatasync resumed>)            = 0
var (
	logWritten   = regexp.MustCompile(`^(\d+) +pwrite64\(\d+<[^>]*-wal>`)
	logFlushed   = regexp.MustCompile(`^(\d+) +f(?:data)?sync\(\d+<[^>]*-wal>\) += 0`)
	flushBegun   = regexp.MustCompile(`^(\d+) +f(?:data)?sync\(\d+<[^>]*-wal> <unfinished`)
	flushResumed = regexp.MustCompile(`^(\d+) +<\.\.\. f(?:data)?sync resumed>.*\) += 0`)
)

// flushedFirst checks that between the line that has the request and the next one
// that has the answer the write-ahead log was written and then flushed to the
// disk. It returns how many lines it went through.
func flushedFirst(trace []string, request, answer string) (lines int, err error) {
	asked, written, flushed := false, false, false
	begun := map[string]bool{} // flushes of the log that are under way, by thread
	for i, line := range trace {
		switch {
		case strings.Contains(line, request):
			asked = true
		case !asked:
		case strings.Contains(line, answer):
			switch {
			case !written:
				return i + 1, fmt.Errorf("line %d answers, and the log was not written", i+1)
			case !flushed:
				return i + 1, fmt.Errorf("line %d answers, and what was written to the log was not flushed", i+1)
			}
			return i + 1, nil
		case logWritten.MatchString(line):
			written, flushed = true, false
			clear(begun)
		case logFlushed.MatchString(line):
			flushed = written
		case flushBegun.MatchString(line):
			begun[flushBegun.FindStringSubmatch(line)[1]] = written
		case flushResumed.MatchString(line):
			flushed = flushed || begun[flushResumed.FindStringSubmatch(line)[1]]
		}
	}
	return 0, fmt.Errorf("there is no answer to %q", request)
}

func TestFlushedFirst(t *testing.T) {
	const (
		request = `12 read(9<socket:[1]>, "POST /by-hand HTTP/1.1\r\n"..., 4096) = 231`
		written = `13 pwrite64(7</a/stock.db-wal>, ""..., 24, 0) = 24`
		flushed = `13 fdatasync(7</a/stock.db-wal>) = 0`
		begun   = `13 fdatasync(7</a/stock.db-wal> <unfinished ...>`
		resumed = `13 <... fdatasync resumed>)       = 0`
		other   = `14 fdatasync(8</a/stock.db>) = 0`
		failing = `13 fdatasync(7</a/stock.db-wal>) = -1 EIO (Input/output error)`
		answer  = `12 write(9<socket:[1]>, "HTTP/1.1 200 OK\r\n"..., 400) = 400`
	)
	for _, c := range []struct {
		trace []string
		want  string
	}{
		{[]string{request, written, flushed, answer}, ""},
		{[]string{request, written, begun, other, resumed, answer}, ""},
		{[]string{request, written, flushed, written, flushed, answer}, ""},
		{[]string{request, written, answer}, "not flushed"},
		{[]string{request, written, other, answer}, "not flushed"},
		{[]string{request, written, failing, answer}, "not flushed"},
		{[]string{request, written, begun, answer, resumed}, "not flushed"},
		{[]string{request, written, answer, flushed}, "not flushed"},
		{[]string{request, written, flushed, written, answer}, "not flushed"},
		{[]string{request, begun, written, resumed, answer}, "not flushed"},
		{[]string{written, flushed, request, answer}, "not written"},
		{[]string{request, written, flushed}, "no answer"},
	} {
		_, err := flushedFirst(c.trace, "POST /by-hand", "HTTP/1.1 200")
		if c.want == "" {
			assert.NoError(t, err, "%q", c.trace)
		} else {
			assert.ErrorContains(t, err, c.want, "%q", c.trace)
		}
	}
}

// straced is a command line of this program under strace, and the file of the
// trace. It skips the test where no process may be traced.
func straced(t *testing.T, args ...string) (*exec.Cmd, string) {
	t.Helper()
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("no strace here: install strace to see what is flushed to the disk")
	}
	if out, err := exec.Command(strace, "-o", os.DevNull, "true").CombinedOutput(); err != nil {
		t.Skipf("no process may be traced here: %s", out)
	}
	self, err := os.Executable()
	require.NoError(t, err)
	trace := filepath.Join(t.TempDir(), "trace")
	// With -D it is the program that is started, and strace that looks on.
	all := append([]string{"-D", "-f", "-y", "-s", "64", "-o", trace, "-e", "trace=read,write,pwrite64,fsync,fdatasync", self}, args...)
	command := exec.Command(strace, all...)
	command.Env = append(os.Environ(), asProgram+"=1")
	return command, trace
}

// linesOf are the lines of a trace once it is whole.
func linesOf(t *testing.T, path string) []string {
	t.Helper()
	var lines []string
	require.Eventually(t, func() bool {
		data, err := os.ReadFile(path)
		lines = strings.Split(strings.TrimSpace(string(data)), "\n")
		return err == nil && strings.HasSuffix(lines[len(lines)-1], "+++ exited with 0 +++")
	}, patience, 10*time.Millisecond)
	return lines
}

// What the bench answers for is on the disk before it answers: seen from outside,
// by the system calls of the program itself. Killing it would not show that, for
// what was written lives on in the system's memory.
func TestBenchFlushesBeforeItAnswers(t *testing.T) {
	stock := filepath.Join(t.TempDir(), "stock.db")
	command, trace := straced(t, "bench", "--port", "0", "--stock", stock)
	out, err := command.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, command.Start())
	t.Cleanup(func() { command.Process.Kill() }) // if it goes on for a test that failed
	lines := bufio.NewScanner(out)
	require.True(t, lines.Scan())
	address := strings.TrimPrefix(lines.Text(), "The bench is at ")

	sample, err := os.ReadFile(filepath.Join("internal", "doctor", "sample.jpg"))
	require.NoError(t, err)
	status, text := ask(t, "POST", address, "/photos?name=tin.jpg", string(sample), nil)
	require.Equal(t, http.StatusOK, status, text)
	status, text = ask(t, "POST", address, "/photos/1/1", `{"version":0,"do":"confirm"}`, nil)
	require.Equal(t, http.StatusOK, status, text)
	const byHand = 5
	for range byHand {
		status, text = ask(t, "POST", address, "/by-hand", `{"value":"5K6"}`, nil)
		require.Equal(t, http.StatusOK, status, text)
	}
	status, text = ask(t, "POST", address, "/bins/2", `{"do":"take","step":2,"count":1}`, nil)
	require.Equal(t, http.StatusOK, status, text)
	require.NoError(t, command.Process.Signal(os.Interrupt))
	require.NoError(t, command.Wait())

	// net/http may read the first byte of a request by itself.
	rest := linesOf(t, trace)
	for _, request := range append([]string{"OST /photos/1/1 "}, append(slices.Repeat([]string{"OST /by-hand "}, byHand), "OST /bins/2 ")...) {
		n, err := flushedFirst(rest, request, `"HTTP/1.1 200`)
		require.NoError(t, err, request)
		rest = rest[n:]
	}
}

// And so does the terminal before it says that a part is in the stock.
func TestTerminalFlushesBeforeItSays(t *testing.T) {
	stock := filepath.Join(t.TempDir(), "stock.db")
	command, trace := straced(t, "read", "--confirm", "--stock", stock, filepath.Join("internal", "doctor", "sample.jpg"))
	command.Stdin = strings.NewReader("\n")
	out, err := command.CombinedOutput()
	require.NoError(t, err, string(out))
	require.Contains(t, string(out), "onfirmed", string(out))
	_, err = flushedFirst(linesOf(t, trace), `read(0<`, "onfirmed")
	assert.NoError(t, err)
}
