package bench

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
)

// With loadVariable set to a time such as 5m, TestLoad goes on for that long.
const (
	loadVariable = "RINGWISE_LOAD"
	usualLoad    = 4 * time.Second
	loadClients  = 20
)

// Bounds under load, far above what was measured, for the machine may be busy:
// what the process may hold above where it began, and how long after it is asked
// for a window may hear of a change.
const (
	mostLoadMemory = 400 << 20
	mostLoadDelay  = 15 * time.Second
)

// A tally is what became of the requests of all clients.
type tally struct {
	mu                       sync.Mutex
	uploads, confirmed, busy int
	wrong                    []string
	asked                    map[int]time.Time // when a part of a photo was confirmed
	delays                   []time.Duration
}

func (l *tally) do(change func()) {
	l.mu.Lock()
	defer l.mu.Unlock()
	change()
}

// Twenty clients send photos and confirm what was read of them, all at once on two
// cores. Every answer is as it should be or an explicit "busy, try again"; every
// acknowledged part is in the stock, and none other; memory and the delay of the
// live view keep within bounds; and afterwards no goroutine and no picture is left.
func TestLoad(t *testing.T) {
	lasting := usualLoad
	if text := os.Getenv(loadVariable); text != "" {
		var err error
		lasting, err = time.ParseDuration(text)
		require.NoError(t, err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	photo, err := os.ReadFile(filepath.Join("..", "doctor", "sample.jpg")) // one part
	require.NoError(t, err)
	_, err = readPhoto(t.Context(), file("once", photo)) // what is made only once
	require.NoError(t, err)
	goroutines, pictures, before := runtime.NumGoroutine(), openPictures(), resident(t)

	store, err := stock.Open(context.Background(), filepath.Join(t.TempDir(), "stock.db"))
	require.NoError(t, err)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	s, err := New(store, listener, Options{})
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	served := make(chan error, 1)
	go func() { served <- s.Serve(ctx) }()

	l := &tally{asked: map[int]time.Time{}}
	window, err := http.Get(s.Address() + "/events")
	require.NoError(t, err)
	var listening sync.WaitGroup
	listening.Go(func() { l.listen(window) })
	var peak uint64
	watching, enough := context.WithCancel(ctx)
	listening.Go(func() {
		for beat := time.NewTicker(100 * time.Millisecond); ; {
			select {
			case <-beat.C:
				peak = max(peak, resident(t))
			case <-watching.Done():
				beat.Stop()
				return
			}
		}
	})
	over := time.Now().Add(lasting)
	var clients sync.WaitGroup
	for n := range loadClients {
		clients.Go(func() {
			c := client{tally: l, at: s.Address(), http: &http.Client{Transport: &http.Transport{}}, name: fmt.Sprintf("client-%d.jpg", n)}
			defer c.http.CloseIdleConnections()
			for time.Now().Before(over) {
				c.once(photo)
			}
		})
	}
	clients.Wait()
	enough()
	kept, err := store.Parts(ctx, stock.Filter{})
	require.NoError(t, err)
	stop()
	require.NoError(t, <-served)
	window.Body.Close()
	listening.Wait()
	require.NoError(t, store.Close())
	http.DefaultClient.CloseIdleConnections()

	slices.Sort(l.delays)
	at := func(share float64) time.Duration {
		if len(l.delays) == 0 {
			return 0
		}
		return l.delays[int(share*float64(len(l.delays)-1))]
	}
	t.Logf("%v, %d clients: %d photos read, %d parts confirmed, %d times busy, %d wrong; resident %d MB before, %d MB at most; a window heard of a part %v after it was confirmed in the middle, %v in 95 of 100, %v at most (%d heard)",
		lasting, loadClients, l.uploads, l.confirmed, l.busy, len(l.wrong), before>>20, peak>>20, at(0.5).Round(time.Millisecond), at(0.95).Round(time.Millisecond), at(1).Round(time.Millisecond), len(l.delays))
	assert.Empty(t, l.wrong[:min(5, len(l.wrong))])
	assert.Positive(t, l.uploads)
	assert.Positive(t, l.busy, "twenty clients are more than the bench takes in at a time")
	assert.Len(t, kept, l.confirmed, "what was answered for is what is kept")
	assert.NotEmpty(t, l.delays)
	assert.Less(t, at(1), mostLoadDelay)
	assert.Less(t, peak, before+mostLoadMemory)
	for end := time.Now().Add(20 * time.Second); runtime.NumGoroutine() > goroutines && time.Now().Before(end); {
		time.Sleep(10 * time.Millisecond)
	}
	assert.LessOrEqual(t, runtime.NumGoroutine(), goroutines, "goroutines are left")
	assert.Equal(t, pictures, openPictures(), "pictures are left open")
}

// listen hears at a window that parts are in the stock, and notes how long after
// they were confirmed.
func (l *tally) listen(window *http.Response) {
	events := bufio.NewScanner(window.Body)
	events.Buffer(nil, 8<<20)
	for events.Scan() {
		data, found := strings.CutPrefix(events.Text(), "data: ")
		if !found || !strings.Contains(data, `"status":"stocked"`) {
			continue
		}
		var photo struct{ ID int }
		if json.Unmarshal([]byte(data), &photo) != nil || photo.ID == 0 {
			continue
		}
		now := time.Now()
		l.do(func() {
			if asked, known := l.asked[photo.ID]; known {
				l.delays = append(l.delays, now.Sub(asked))
				delete(l.asked, photo.ID)
			}
		})
	}
}

// A client is one of many.
type client struct {
	*tally
	at, name string
	http     *http.Client
}

// once sends a photo, confirms its parts and clears it away.
func (c client) once(photo []byte) {
	var taken struct{ ID, Parts int }
	if !c.send("POST", "/photos?name="+c.name, photo, &taken) {
		return
	}
	c.do(func() { c.uploads++ })
	for part := range taken.Parts {
		c.do(func() { c.asked[taken.ID] = time.Now() })
		if c.send("POST", fmt.Sprintf("/photos/%d/%d", taken.ID, part+1), []byte(`{"version":0,"do":"confirm"}`), nil) {
			c.do(func() { c.confirmed++ })
		}
	}
	c.send("DELETE", fmt.Sprintf("/photos/%d", taken.ID), nil, nil)
}

// send sends a request until it is no longer answered with busy, waiting as it is
// told. It tells whether it went well.
func (c client) send(method, path string, body []byte, into any) bool {
	for {
		r, err := http.NewRequest(method, c.at+path, strings.NewReader(string(body)))
		if err != nil {
			panic(err) // the addresses are this test's own
		}
		r.Header.Set("Origin", c.at)
		answer, err := c.http.Do(r)
		if err != nil {
			c.do(func() { c.wrong = append(c.wrong, err.Error()) })
			return false
		}
		var told struct{ Error string }
		raw := json.RawMessage{}
		err = json.NewDecoder(answer.Body).Decode(&raw)
		answer.Body.Close()
		json.Unmarshal(raw, &told)
		wait, _ := strconv.Atoi(answer.Header.Get("Retry-After"))
		switch {
		case answer.StatusCode == http.StatusOK && err == nil:
			if into != nil {
				json.Unmarshal(raw, into)
			}
			return true
		case (answer.StatusCode == http.StatusTooManyRequests || answer.StatusCode == http.StatusServiceUnavailable) && wait > 0 && told.Error != "":
			c.do(func() { c.busy++ })
			time.Sleep(time.Duration(wait) * time.Second)
			if method == "POST" && strings.HasPrefix(path, "/photos?") {
				return false // the next round sends it again
			}
		default:
			c.do(func() {
				c.wrong = append(c.wrong, fmt.Sprintf("%s %s: %d %s %v", method, path, answer.StatusCode, raw, err))
			})
			return false
		}
	}
}

// resident is how much memory this process holds, that of OpenCV included, in
// bytes: the second field of statm, in pages (proc(5)). 0 where there is no /proc.
func resident(t *testing.T) uint64 {
	t.Helper()
	text, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		return 0
	}
	var all, pages uint64
	_, err = fmt.Sscan(string(text), &all, &pages)
	require.NoError(t, err)
	return pages * uint64(os.Getpagesize())
}

// With photosVariable set, TestManyPhotos reads so many.
const (
	photosVariable = "RINGWISE_PHOTOS"
	usualPhotos    = 12
	// mostSlope is how much memory may grow over 1,000 photos, in bytes, once the
	// first are read. It is checked only where there are enough to tell.
	mostSlope    = 24 << 20
	enoughPhotos = 1000
)

// One process reads photo after photo as the bench does, and its memory stays
// where it was.
func TestManyPhotos(t *testing.T) {
	number := usualPhotos
	if text := os.Getenv(photosVariable); text != "" {
		var err error
		number, err = strconv.Atoi(text)
		require.NoError(t, err)
	}
	photo, err := os.ReadFile(filepath.Join("..", "doctor", "sample.jpg"))
	require.NoError(t, err)
	pictures := openPictures()
	var at, held []float64
	for i := range number {
		_, err := readPhoto(t.Context(), file("one", photo))
		require.NoError(t, err)
		if i >= number/5 && (i+1)%max(1, number/100) == 0 {
			debug.FreeOSMemory() // what Go keeps for later is no growth
			at, held = append(at, float64(i)), append(held, float64(resident(t)))
		}
	}
	slope := 1000 * slopeOf(at, held)
	t.Logf("%d photos: resident %.0f MB at the end, slope %+.2f MB over 1,000 photos", number, held[len(held)-1]/(1<<20), slope/(1<<20))
	assert.Equal(t, pictures, openPictures(), "pictures are left open")
	if number >= enoughPhotos {
		assert.Less(t, slope, float64(mostSlope))
	}
}

// slopeOf is the slope of the straight line through points, by least squares.
func slopeOf(x, y []float64) float64 {
	n := float64(len(x))
	var sx, sy, sxy, sxx float64
	for i := range x {
		sx, sy, sxy, sxx = sx+x[i], sy+y[i], sxy+x[i]*y[i], sxx+x[i]*x[i]
	}
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}

func TestSlopeOf(t *testing.T) {
	assert.InDelta(t, 2, slopeOf([]float64{1, 2, 3, 4}, []float64{5, 7, 9, 11}), 1e-12)
	assert.InDelta(t, 0, slopeOf([]float64{0, 1, 2, 3}, []float64{1, 2, 2, 1}), 1e-12)
}
