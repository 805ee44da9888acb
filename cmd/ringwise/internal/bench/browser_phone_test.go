package bench

import (
	"context"
	"net"
	"net/netip"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ownAddress is an address of this computer that is not the loopback, so that
// requests to it come from outside as far as the bench can tell.
func ownAddress(t *testing.T) netip.Addr {
	t.Helper()
	all, err := net.InterfaceAddrs()
	require.NoError(t, err)
	for _, a := range all {
		prefix, err := netip.ParsePrefix(a.String())
		if err == nil && !prefix.Addr().IsLoopback() && !prefix.Addr().IsLinkLocalUnicast() {
			return prefix.Addr()
		}
	}
	t.Skip("this computer has no address but the loopback")
	return netip.Addr{}
}

// A phone is let in by what the QR code says, once; the secret is gone from the
// address; a photo that it sends is on the bench at once, in a window that was
// open all the time.
func TestPhone(t *testing.T) {
	address := ownAddress(t)
	r := startOn(t, ":0", Options{Addresses: []netip.Addr{address}})
	atBench := r.open(t, 1024, 800)
	atBench.click("#phone")
	atBench.untilSays("#invitation", r.Invitation())
	first := r.Invitation()

	outside := rig{r.Server, first, r.stock}
	phone := outside.open(t, 390, 800)
	assert.Equal(t, "http://"+net.JoinHostPort(address.String(), r.port)+"/", value[string](phone, `location.href`))
	assert.Empty(t, value[string](phone, `document.cookie`), "no code can read the cookie")
	assert.Zero(t, value[int](phone, `performance.getEntriesByType('resource').filter((e) => e.name.includes(`+quote(first[len(first)-26:])+`)).length`))
	phone.until(`!document.querySelector('#overheard').hidden && document.querySelector('#phone').hidden`)
	atBench.untilSays("#invitation", "1 device is in")
	assert.NotEqual(t, first, r.Invitation())

	phone.picture("phone")
	phone.bring(sample)
	phone.untilSays("#hand-title", "Part 1 of 6")
	atBench.untilSays("#photos", "cleanout-01-biscuit-tin.jpg")

	// The used code lets nobody else in.
	other, stop := chromedp.NewContext(browser, chromedp.WithNewBrowserContext())
	defer stop()
	require.NoError(t, chromedp.Do(other))
	late := window{t, other, new(troubles)}
	late.run(chromedp.Navigate(first))
	late.untilSays("#join", "used already")
	late.picture("phone-late")
	cookies, err := chromedp.Call(other, network.GetCookies, network.GetCookiesParams{})
	require.NoError(t, err)
	assert.Empty(t, cookies.Cookies)
}

// Without the page's help: closed to devices until --lan opens it.
func TestClosedByDefault(t *testing.T) {
	address := ownAddress(t)
	r := start(t, Options{})
	dialer := net.Dialer{}
	connection, err := dialer.DialContext(context.Background(), "tcp", net.JoinHostPort(address.String(), r.port))
	if err == nil {
		connection.Close()
	}
	assert.Error(t, err, "only the loopback listens")
}
