package bench

import (
	"encoding/json"
	"fmt"
	"net/http"
	"sync"
	"time"
)

// A hub sends events to every window that listens.
type hub struct {
	mu      sync.Mutex
	windows map[chan []byte]struct{}
	closed  bool
}

// backlog is how many events a window may lag behind before it is cut off. Its
// browser then connects anew and is told everything.
const backlog = 64

// mostWindows is how many windows may listen at a time.
const mostWindows = 64

// heartbeat is how often a line is sent to a silent window, so that a broken
// connection is noticed at both ends.
const heartbeat = 20 * time.Second

func newHub() *hub { return &hub{windows: map[chan []byte]struct{}{}} }

// join adds a window; false if there are too many or the program ends.
func (h *hub) join() (chan []byte, bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed || len(h.windows) >= mostWindows {
		return nil, false
	}
	c := make(chan []byte, backlog)
	h.windows[c] = struct{}{}
	return c, true
}

func (h *hub) leave(c chan []byte) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.drop(c)
}

func (h *hub) drop(c chan []byte) {
	if _, there := h.windows[c]; there {
		delete(h.windows, c)
		close(c)
	}
}

// send sends an event to all windows. It never waits.
func (h *hub) send(name string, data any) {
	event := encode(name, data)
	h.mu.Lock()
	defer h.mu.Unlock()
	for c := range h.windows {
		select {
		case c <- event:
		default:
			h.drop(c)
		}
	}
}

// close ends all connections, so that the server can stop.
func (h *hub) close() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.closed = true
	for c := range h.windows {
		h.drop(c)
	}
}

// encode writes an event in the form of server-sent events (HTML Living
// Standard, section 9.2). JSON has no line breaks.
func encode(name string, data any) []byte {
	text, err := json.Marshal(data)
	if err != nil {
		panic(err) // the views are plain data
	}
	return fmt.Appendf(nil, "event: %s\ndata: %s\n\n", name, text)
}

// serve sends first and then every event to one window, until it goes away.
// first is made once the window is listening, so that nothing falls between.
func (h *hub) serve(w http.ResponseWriter, r *http.Request, first func() []byte) {
	events, ok := h.join()
	if !ok {
		http.Error(w, "too many windows are open: close some", http.StatusServiceUnavailable)
		return
	}
	defer h.leave(events)
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	write := func(data []byte) bool {
		if out.SetWriteDeadline(time.Now().Add(heartbeat)) != nil {
			return false
		}
		_, err := w.Write(data)
		return err == nil && out.Flush() == nil
	}
	if !write(first()) {
		return
	}
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for {
		select {
		case <-r.Context().Done():
			return
		case event, ok := <-events:
			if !ok || !write(event) {
				return
			}
		case <-beat.C:
			if !write([]byte(": still here\n\n")) {
				return
			}
		}
	}
}
