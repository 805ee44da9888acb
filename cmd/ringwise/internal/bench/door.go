package bench

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"sync"
	"time"

	"github.com/skip2/go-qrcode"
)

// A door lets devices of the local network in. Each is let in by a secret that
// is good for one exchange, and keeps a token of its own after that. Both lapse
// when the program ends.
type door struct {
	mu     sync.Mutex
	secret string
	tokens [][sha256.Size]byte // of the devices that were let in
	tries  []time.Time
}

// Bounds on letting in.
const (
	mostDevices = 16
	mostTries   = 12 // a minute
)

// newDoor returns a door with a fresh secret of 128 bits or more.
func newDoor() *door { return &door{secret: rand.Text()} }

// invitation is the secret for the next device.
func (d *door) invitation() string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.secret
}

// exchange takes the secret for a token, and makes a new secret.
func (d *door) exchange(secret string, now time.Time) (token string, err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for len(d.tries) > 0 && now.Sub(d.tries[0]) > time.Minute {
		d.tries = d.tries[1:]
	}
	if len(d.tries) >= mostTries {
		return "", errors.New("too many tries: wait a minute, then scan the code on the bench")
	}
	d.tries = append(d.tries, now)
	given, want := sha256.Sum256([]byte(secret)), sha256.Sum256([]byte(d.secret))
	if subtle.ConstantTimeCompare(given[:], want[:]) != 1 {
		return "", errors.New("this code was used already or is not of this bench: scan the one that the bench shows now")
	}
	if len(d.tokens) >= mostDevices {
		return "", errors.New("many devices are in already: start the bench anew to let them all go")
	}
	d.secret, token = rand.Text(), rand.Text()
	d.tokens = append(d.tokens, sha256.Sum256([]byte(token)))
	return token, nil
}

// knows tells whether a device has a token, in the same time whichever it is.
func (d *door) knows(token string) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	given, known := sha256.Sum256([]byte(token)), 0
	for _, t := range d.tokens {
		known |= subtle.ConstantTimeCompare(given[:], t[:])
	}
	return known == 1
}

func (d *door) devices() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return len(d.tokens)
}

// cookie is the name of the cookie that holds a device's token. Browsers do
// not tell the ports of one host apart, so the name does.
func (s *Server) cookie() string { return "ringwise-" + s.port }

// admits tells whether the request's device may use the bench: this computer
// always may, others once they were let in. The page for getting in is open.
func (s *Server) admits(r *http.Request) bool {
	if fromHere(r) {
		return true
	}
	if len(s.addresses) == 0 {
		return false
	}
	switch r.URL.Path {
	case "/join", "/join.js", "/dom.js", "/bench.css", "/icon.svg":
		return true
	}
	cookie, err := r.Cookie(s.cookie())
	return err == nil && s.door.knows(cookie.Value)
}

// join lets in a device that brings the secret.
func (s *Server) join(w http.ResponseWriter, r *http.Request) {
	if len(s.addresses) == 0 {
		refuse(w, http.StatusNotFound, "the bench is closed to the network: start it with --lan")
		return
	}
	brought, ok := take[struct {
		Secret string `json:"secret"`
	}](w, r)
	if !ok {
		return
	}
	token, err := s.door.exchange(brought.Secret, time.Now())
	if err != nil {
		refuse(w, http.StatusForbidden, err.Error())
		return
	}
	http.SetCookie(w, &http.Cookie{Name: s.cookie(), Value: token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
	s.hub.send("invitation", struct{}{})
	if s.invited != nil {
		s.invited(s.Invitation())
	}
	answer(w, struct{}{})
}

// Invitation is the address that lets one device in. The secret stands behind
// a #, which browsers keep to themselves: it is in no request line and no log.
func (s *Server) Invitation() string {
	return "http://" + net.JoinHostPort(s.addresses[0].String(), s.port) + "/join#" + s.door.invitation()
}

// invitation shows the invitation to windows on this computer alone.
func (s *Server) invitation(w http.ResponseWriter, r *http.Request) {
	if len(s.addresses) == 0 || !fromHere(r) {
		refuse(w, http.StatusForbidden, "the invitation is shown on the computer that runs the bench, started with --lan")
		return
	}
	address := s.Invitation()
	code, err := qrcode.New(address, qrcode.Medium)
	if err != nil {
		fail(w, err)
		return
	}
	rows := []string{}
	for _, line := range code.Bitmap() {
		row := make([]byte, len(line))
		for i, dark := range line {
			row[i] = '0'
			if dark {
				row[i] = '1'
			}
		}
		rows = append(rows, string(row))
	}
	answer(w, struct {
		Address string   `json:"address"`
		Rows    []string `json:"rows"` // of the QR code, 1 for dark
		Devices int      `json:"devices"`
	}{address, rows, s.door.devices()})
}

// LocalAddresses are the addresses under which other devices of the local
// network reach this computer: private ones, IPv4 first.
func LocalAddresses() ([]netip.Addr, error) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	var four, six []netip.Addr
	for _, a := range all {
		prefix, err := netip.ParsePrefix(a.String())
		if err != nil {
			continue
		}
		switch address := prefix.Addr().Unmap(); {
		case !address.IsPrivate():
		case address.Is4():
			four = append(four, address)
		default:
			six = append(six, address)
		}
	}
	list := append(four, six...)
	if len(list) == 0 {
		return nil, errors.New("this computer is on no local network: connect it to one, or leave out --lan")
	}
	if i := slices.Index(list, towardsOthers()); i > 0 {
		list[0], list[i] = list[i], list[0]
	}
	return list, nil
}

// towardsOthers is the address from which this computer talks to others, to be
// told from those of its virtual networks. Nothing is sent to find it; the
// address asked for is one that nobody has (RFC 5737).
func towardsOthers() netip.Addr {
	connection, err := net.Dial("udp4", "192.0.2.1:9")
	if err != nil {
		return netip.Addr{}
	}
	defer connection.Close()
	at, err := netip.ParseAddrPort(connection.LocalAddr().String())
	if err != nil {
		return netip.Addr{}
	}
	return at.Addr().Unmap()
}
