package bench

import (
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"
)

// policy lets a page load only what this server gives it, and run no code but
// its own files (W3C Content Security Policy Level 3).
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; " +
	"connect-src 'self'; font-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'; " +
	"require-trusted-types-for 'script'; trusted-types 'none'"

// guard lets through only requests that this computer's own pages make, or
// those of devices that were let in.
//
// A web page from elsewhere that a browser on this computer shows can send
// requests here. The Host header gives away one whose name was bent to this
// address (DNS rebinding); Origin and Sec-Fetch-Site give away the others.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(self), microphone=(), geolocation=()")
		h.Set("Cache-Control", "no-store")
		if !slices.Contains(s.hosts(), strings.ToLower(r.Host)) {
			s.turnedAway(r, "another host")
			refuse(w, http.StatusMisdirectedRequest, "this is not an address of this bench: use the one that ringwise bench printed")
			return
		}
		if !sameOrigin(r) {
			s.turnedAway(r, "another page")
			refuse(w, http.StatusForbidden, "the request comes from another page: open the bench in its own window")
			return
		}
		if !s.admits(r) {
			s.turnedAway(r, "a device not let in")
			refuse(w, http.StatusUnauthorized, "this device was not let in, or the bench was started anew: scan the code on the bench again")
			return
		}
		next.ServeHTTP(w, r)
	})
}

// sameOrigin tells whether a request comes from this server's own pages, or
// from a person who typed the address or followed a link.
func sameOrigin(r *http.Request) bool {
	if origin := r.Header.Get("Origin"); origin != "" {
		u, err := url.Parse(origin)
		return err == nil && u.Scheme == "http" && strings.EqualFold(u.Host, r.Host)
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		return false // browsers send Origin with these
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
		return true
	}
	// A link or a typed address may open the page, nothing else.
	return r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Header.Get("Sec-Fetch-Dest") == "document" && openPages[r.URL.Path]
}

// openPages are the pages to which another site may link.
var openPages = map[string]bool{"/": true, "/join": true}

// fromHere tells whether a request comes from this computer, by the address of
// its connection.
func fromHere(r *http.Request) bool {
	at, err := netip.ParseAddrPort(r.RemoteAddr)
	return err == nil && at.Addr().Unmap().IsLoopback()
}

// hosts are the values of Host under which this server may be reached.
func (s *Server) hosts() []string {
	all := []string{net.JoinHostPort("127.0.0.1", s.port), net.JoinHostPort("localhost", s.port), net.JoinHostPort("::1", s.port)}
	for _, address := range s.addresses {
		all = append(all, net.JoinHostPort(address.String(), s.port))
	}
	return all
}
