// Package bench is the page on which a person confirms what was read of photos,
// and the local server behind it. Photos come in, each part is judged, and what
// a person has confirmed goes into the stock.
package bench

import (
	"context"
	"crypto/rand"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode"

	"ringwise/cmd/ringwise/internal/isolated"
	"ringwise/cmd/ringwise/internal/stock"
)

//go:embed page
var files embed.FS

// A Server shows the bench to browsers.
type Server struct {
	tray      *tray
	hub       *hub
	store     *stock.Store
	listener  net.Listener
	port      string
	addresses []netip.Addr // see Options
	invited   func(address string)
	door      *door
	intake    *intake
	decoder   *isolated.Decoder
	camera    *camera // nil if there is none
	made      *made
	log       *slog.Logger
	finding   chan struct{} // the search that runs
	making    chan struct{} // the sheets that are made
}

// Options are what a bench may have besides a stock.
type Options struct {
	// Addresses are those of this computer on the local network, if devices
	// there may be let in; nil if the bench is for this computer alone.
	Addresses []netip.Addr
	// Invited is called with the new invitation when one was used.
	Invited func(address string)
	// Log is told what happens, without anything personal; nil for no log.
	Log *slog.Logger
	// Camera is a fixed camera, nil if there is none. Serve closes it.
	Camera *isolated.Camera
}

// New returns a server that answers on the listener and keeps confirmed parts
// in the store.
func New(store *stock.Store, listener net.Listener, options Options) (*Server, error) {
	_, port, err := net.SplitHostPort(listener.Addr().String())
	if err != nil {
		return nil, err
	}
	hub := newHub()
	s := &Server{
		tray: &tray{store: store, hub: hub, now: time.Now, key: rand.Text()},
		hub:  hub, store: store, intake: newIntake(), decoder: isolated.NewDecoder(), door: newDoor(),
		made: newMade(), finding: make(chan struct{}, 1), making: make(chan struct{}, 1),
		addresses: options.Addresses, invited: options.Invited, port: port, listener: listener,
	}
	if s.log = options.Log; s.log == nil {
		s.log = slog.New(slog.DiscardHandler)
	}
	if options.Camera != nil {
		s.camera = newCamera(options.Camera, s)
	}
	return s, nil
}

// Address is where a browser on this computer finds the bench.
func (s *Server) Address() string { return "http://" + net.JoinHostPort("127.0.0.1", s.port) }

// Serve answers until ctx ends.
func (s *Server) Serve(ctx context.Context) error {
	server := s.server(ctx, usualWaits)
	s.log.Info("the bench opens", "network", len(s.addresses) > 0, "camera", s.camera != nil)
	defer s.log.Info("the bench is closed")
	s.decoder.KeepReady()
	defer s.decoder.Close()
	var beside sync.WaitGroup
	beside.Go(func() {
		for range s.store.Watch(ctx, watchBeat) {
			s.tray.reconcile(ctx)
			s.hub.send("stock", struct{}{})
		}
	})
	if s.camera != nil {
		beside.Go(func() {
			s.camera.run(ctx)
			s.log.Info("the camera ended")
		})
	}
	stop := context.AfterFunc(ctx, func() {
		s.hub.close()
		last, done := context.WithTimeout(context.WithoutCancel(ctx), 3*time.Second)
		defer done()
		if server.Shutdown(last) != nil {
			server.Close()
		}
	})
	defer stop()
	err := server.Serve(s.listener)
	if errors.Is(err, http.ErrServerClosed) {
		beside.Wait()
		return nil
	}
	return err
}

// Waits are how long the server bears with a slow client.
type waits struct{ headers, request, answer, idle time.Duration }

// usualWaits let a phone on a poor network through. Photos and events, which
// may take longer, have times of their own.
var usualWaits = waits{headers: 5 * time.Second, request: 20 * time.Second, answer: 20 * time.Second, idle: 2 * time.Minute}

// server is the HTTP server of the bench.
func (s *Server) server(ctx context.Context, p waits) *http.Server {
	return &http.Server{
		Handler:           s.handler(),
		ReadHeaderTimeout: p.headers,
		ReadTimeout:       p.request,
		WriteTimeout:      p.answer,
		IdleTimeout:       p.idle,
		MaxHeaderBytes:    16 << 10,
		BaseContext:       func(net.Listener) context.Context { return ctx },
		ErrorLog:          log.New(connectionTrouble{s.log}, "", 0),
	}
}

// watchBeat is how often the stock is asked whether another program changed it.
const watchBeat = time.Second

// handler routes requests. Nothing in a path or a query ever names a file:
// the page's files are a fixed list, all else goes by number.
func (s *Server) handler() http.Handler {
	mux := http.NewServeMux()
	page, err := fs.Sub(files, "page")
	if err != nil {
		panic(err) // the folder is part of the program
	}
	names, err := fs.Glob(page, "*")
	if err != nil {
		panic(err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(page, name)
		if err != nil {
			panic(err)
		}
		at := "/" + name
		switch name {
		case "index.html":
			at = "/{$}"
		case "join.html":
			at = "/join"
		}
		kind := contentTypes[path.Ext(name)]
		mux.HandleFunc("GET "+at, func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", kind)
			w.Write(data)
		})
	}
	mux.HandleFunc("GET /events", func(w http.ResponseWriter, r *http.Request) {
		s.hub.serve(w, r, func() []byte {
			v := s.tray.view()
			v.LAN, v.Remote, v.Camera = len(s.addresses) > 0, !fromHere(r), s.camera.view()
			return encode("bench", v)
		})
	})
	mux.HandleFunc("POST /join", s.join)
	mux.HandleFunc("GET /invitation", s.invitation)
	mux.HandleFunc("GET /camera", s.showCamera)
	mux.HandleFunc("POST /photos", s.takeIn)
	mux.HandleFunc("DELETE /photos/{photo}", s.clearAway)
	mux.HandleFunc("GET /photos/{photo}", s.showPhoto)
	mux.HandleFunc("GET /photos/{photo}/{part}", s.showStrip)
	mux.HandleFunc("POST /photos/{photo}/{part}", s.changePart)
	mux.HandleFunc("POST /photos/{photo}/light", s.tellLight)
	mux.HandleFunc("POST /photos/{photo}/scale", s.tellScale)
	mux.HandleFunc("POST /photos/{photo}/parts", s.markPart)
	mux.HandleFunc("POST /undo", s.undo)
	mux.HandleFunc("POST /redo", s.redo)
	mux.HandleFunc("POST /by-hand", s.enterByHand)
	mux.HandleFunc("GET /unsaved", s.showUnsaved)
	mux.HandleFunc("GET /stock.csv", s.saveStock)
	mux.HandleFunc("GET /stock.jsonl", s.saveStock)
	mux.HandleFunc("POST /stock", s.bringStock)
	mux.HandleFunc("GET /bins", s.bins)
	mux.HandleFunc("POST /bins/{entry}", s.changeEntry)
	mux.HandleFunc("GET /bins/{entry}/crop", s.showCrop)
	mux.HandleFunc("POST /use/spread", s.useSpread)
	mux.HandleFunc("POST /use/stand-in", s.useStandIn)
	mux.HandleFunc("POST /use/power", s.usePower)
	mux.HandleFunc("POST /find/replace", s.findReplace)
	mux.HandleFunc("POST /find/combine", s.findCombine)
	mux.HandleFunc("POST /find/divider", s.findDivider)
	mux.HandleFunc("POST /find/project", s.findProject)
	mux.HandleFunc("POST /find/take", s.takeParts)
	mux.HandleFunc("POST /values", s.showValues)
	mux.HandleFunc("POST /sheets", s.orderSheets)
	mux.HandleFunc("GET /made/{name}", s.showMade)
	return s.logged(s.guard(mux))
}

// contentTypes of the page's files.
var contentTypes = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8",
	".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml",
}

// mostBody is the largest JSON body that is read, in bytes.
const mostBody = 16 << 10

// take reads a JSON body. It answers the request itself if it cannot.
func take[T any](w http.ResponseWriter, r *http.Request) (value T, ok bool) {
	return takeAtMost[T](w, r, mostBody)
}

// takeAtMost reads a JSON body of at most so many bytes.
func takeAtMost[T any](w http.ResponseWriter, r *http.Request, most int64) (value T, ok bool) {
	decoder := json.NewDecoder(http.MaxBytesReader(w, r.Body, most))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&value); err != nil {
		refuse(w, http.StatusBadRequest, "the request cannot be read: load the page again")
		return value, false
	}
	if _, err := decoder.Token(); err != io.EOF {
		refuse(w, http.StatusBadRequest, "the request has more than one part: load the page again")
		return value, false
	}
	return value, true
}

// answer writes a JSON body.
func answer(w http.ResponseWriter, value any) {
	w.Header().Set("Content-Type", "application/json")
	json.NewEncoder(w).Encode(value)
}

// refuse answers with an error for the person.
func refuse(w http.ResponseWriter, code int, text string) {
	if code == http.StatusTooManyRequests || code == http.StatusServiceUnavailable {
		w.Header().Set("Retry-After", retryAfter)
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(code)
	json.NewEncoder(w).Encode(map[string]string{"error": text})
}

// retryAfter is when to try again what the bench was too busy for, in seconds
// (RFC 9110, 10.2.3).
const retryAfter = "2"

// refuseField answers with an error that lies in one field of a form.
func refuseField(w http.ResponseWriter, field, text string) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(http.StatusUnprocessableEntity)
	json.NewEncoder(w).Encode(map[string]string{"error": text, "field": field})
}

// fail answers with the error of something that was tried.
func fail(w http.ResponseWriter, err error) {
	code := http.StatusUnprocessableEntity
	var wrong fieldError
	if errors.As(err, &wrong) {
		refuseField(w, wrong.field, wrong.Error())
		return
	}
	var file *stock.FileError
	if errors.As(err, &file) {
		note(w, file)
	}
	switch {
	case file != nil && file.Busy():
		code = http.StatusServiceUnavailable
	case errors.Is(err, errBusy), errors.Is(err, errBusyFinding):
		code = http.StatusTooManyRequests
	case errors.Is(err, errGone), errors.Is(err, errNoPart):
		code = http.StatusNotFound
	case errors.Is(err, errStale):
		code = http.StatusConflict
	}
	refuse(w, code, err.Error())
}

// number reads a number from the path, -1 if it is none.
func number(r *http.Request, name string) int {
	n, err := strconv.Atoi(r.PathValue(name))
	if err != nil || n < 0 {
		return -1
	}
	return n
}

func (s *Server) clearAway(w http.ResponseWriter, r *http.Request) {
	if err := s.tray.clear(number(r, "photo")); err != nil {
		fail(w, err)
		return
	}
	answer(w, struct{}{})
}

func (s *Server) showPhoto(w http.ResponseWriter, r *http.Request) {
	data, err := s.tray.picture(number(r, "photo"))
	showPicture(w, "image/jpeg", data, err)
}

func (s *Server) showStrip(w http.ResponseWriter, r *http.Request) {
	data, err := s.tray.strip(number(r, "photo"), number(r, "part"))
	showPicture(w, "image/png", data, err)
}

// showPicture sends a picture, which never changes under its address.
func showPicture(w http.ResponseWriter, kind string, data []byte, err error) {
	if err != nil {
		fail(w, err)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "private, max-age=86400, immutable")
	w.Write(data)
}

// A done is the answer to a change.
type done struct {
	What  string     `json:"what"`            // in a few words
	Ring  int        `json:"ring"`            // to go on with, from 0
	Photo *photoView `json:"photo,omitempty"` // as it is now
}

func (s *Server) changePart(w http.ResponseWriter, r *http.Request) {
	c, ok := take[struct {
		Version int `json:"version"`
		change
	}](w, r)
	if !ok {
		return
	}
	photo, part := number(r, "photo"), number(r, "part")
	if c.Do == "confirm" {
		entry, err := s.tray.confirm(r.Context(), photo, part, c.Version)
		if err != nil {
			fail(w, err)
			return
		}
		s.hub.send("stock", struct{}{})
		answer(w, done{What: "confirmed " + stock.Meaning(entry.Reading), Photo: s.tray.viewOf(photo)})
		return
	}
	what, ring, err := s.tray.change(photo, part, c.Version, c.change)
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, done{what, ring, s.tray.viewOf(photo)})
}

func (s *Server) undo(w http.ResponseWriter, r *http.Request) {
	which, ok := take[struct {
		Undo int `json:"undo"`
	}](w, r)
	if !ok {
		return
	}
	deed, err := s.tray.undo(which.Undo)
	s.tellDeed(w, deed, err)
}

func (s *Server) redo(w http.ResponseWriter, r *http.Request) {
	which, ok := take[struct {
		Redo int `json:"redo"`
	}](w, r)
	if !ok {
		return
	}
	deed, err := s.tray.redo(which.Redo)
	s.tellDeed(w, deed, err)
}

// tellDeed answers with what was undone or done again, and with what can be next.
func (s *Server) tellDeed(w http.ResponseWriter, deed deed, err error) {
	if err != nil {
		fail(w, err)
		return
	}
	s.hub.send("stock", struct{}{})
	answer(w, struct {
		What    string      `json:"what"`
		Photo   int         `json:"photo"`
		Part    int         `json:"part"`
		Session sessionView `json:"session"`
	}{deed.what, deed.photo, deed.part, s.tray.sessionNow()})
}

func (s *Server) enterByHand(w http.ResponseWriter, r *http.Request) {
	h, ok := take[byHand](w, r)
	if !ok {
		return
	}
	entry, err := s.tray.enter(r.Context(), h)
	if err != nil {
		fail(w, err)
		return
	}
	s.hub.send("stock", struct{}{})
	answer(w, done{What: "confirmed " + stock.Meaning(entry.Reading)})
}

// plainName is a photo's name as it may be shown: its last part, printable, not
// too long. No file is ever opened by it.
func plainName(name string) string {
	if i := strings.LastIndexAny(name, `/\`); i >= 0 {
		name = name[i+1:]
	}
	name = strings.TrimSpace(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(name, "")))
	if runes := []rune(name); len(runes) > mostName {
		name = string(runes[:mostName]) + "…"
	}
	if name == "" {
		return fmt.Sprintf("photo of %s", time.Now().Format("15:04"))
	}
	return name
}

// mostName is how much of a photo's name is kept, in characters.
const mostName = 100
