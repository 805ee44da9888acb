package bench

import (
	"cmp"
	"log/slog"
	"net/http"
	"runtime"
	"strings"
	"time"

	"ringwise/cmd/ringwise/internal/stock"
)

// A watched answer remembers what the log is told of it.
type watchedAnswer struct {
	http.ResponseWriter
	status  int
	bytes   int64
	trouble *stock.FileError
}

func (w *watchedAnswer) WriteHeader(status int) {
	w.status = cmp.Or(w.status, status)
	w.ResponseWriter.WriteHeader(status)
}

func (w *watchedAnswer) Write(data []byte) (int, error) {
	w.status = cmp.Or(w.status, http.StatusOK)
	n, err := w.ResponseWriter.Write(data)
	w.bytes += int64(n)
	return n, err
}

// Unwrap lets http.ResponseController through.
func (w *watchedAnswer) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// note remembers trouble with the file of the stock.
func note(w http.ResponseWriter, trouble *stock.FileError) {
	if watched, ok := w.(*watchedAnswer); ok {
		watched.trouble = trouble
	}
}

// logged logs every request by its route, never by its path, and answers for the
// program where it breaks.
func (s *Server) logged(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		begun := time.Now()
		watched := &watchedAnswer{ResponseWriter: w}
		defer func() {
			if broke := recover(); broke != nil {
				s.log.Error("the bench broke on a request", "route", route(r), "at", brokeAt())
				if watched.status != 0 {
					panic(http.ErrAbortHandler) // the answer has begun: end it there
				}
				refuse(watched, http.StatusInternalServerError, "the bench broke on this: load the page again; what was confirmed is kept")
			}
			if watched.trouble != nil {
				s.log.Warn("the stock cannot be used", "route", route(r), "code", watched.trouble.Code)
			}
			s.log.Debug("answered", "route", route(r), "from", sender(r), "status", watched.status, "bytes", watched.bytes, "took", time.Since(begun))
		}()
		next.ServeHTTP(watched, r)
	})
}

// turnedAway logs a request that the guard refuses.
func (s *Server) turnedAway(r *http.Request, why string) {
	s.log.Info("turned away", "refused", why, "from", sender(r))
}

// route is the pattern of a request, without what stands in its path.
func route(r *http.Request) string { return cmp.Or(r.Pattern, "none") }

func sender(r *http.Request) string {
	if fromHere(r) {
		return "this computer"
	}
	return "a device"
}

// brokeAt is the function of this program in which it broke.
func brokeAt() string {
	callers := make([]uintptr, 64)
	frames := runtime.CallersFrames(callers[:runtime.Callers(1, callers)])
	for broke := false; ; {
		frame, more := frames.Next()
		if broke && strings.HasPrefix(frame.Function, "ringwise/") {
			return frame.Function
		}
		broke = broke || frame.Function == "runtime.gopanic"
		if !more {
			return "unknown"
		}
	}
}

// connectionTrouble takes what net/http says of connections. Its text names
// addresses, so only that it happened is logged.
type connectionTrouble struct{ log *slog.Logger }

func (c connectionTrouble) Write(text []byte) (int, error) {
	c.log.Info("trouble with a connection")
	return len(text), nil
}
