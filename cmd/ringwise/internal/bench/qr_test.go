package bench

import (
	"encoding/json"
	"image"
	"image/color"
	"image/draw"
	"net/netip"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ZBar, a general-purpose reader of bar codes, reads the address of the
// invitation from the QR code that the page draws.
func TestInvitationCode(t *testing.T) {
	reader, err := exec.LookPath("zbarimg")
	if err != nil {
		t.Skip("zbarimg is not installed: run testdata/check")
	}
	s := newServer(t, Options{Addresses: []netip.Addr{netip.MustParseAddr("192.168.1.7")}})
	var told struct{ Rows []string }
	require.NoError(t, json.Unmarshal(s.answers(own("GET", "/invitation", "")).Body.Bytes(), &told))
	const module = 6 // pixels
	code := image.NewGray(image.Rect(0, 0, len(told.Rows)*module, len(told.Rows)*module))
	for y, row := range told.Rows {
		for x, dark := range row {
			tone := color.White
			if dark == '1' {
				tone = color.Black
			}
			draw.Draw(code, image.Rect(x*module, y*module, (x+1)*module, (y+1)*module), image.NewUniform(tone), image.Point{}, draw.Src)
		}
	}
	path := filepath.Join(t.TempDir(), "code.png")
	require.NoError(t, os.WriteFile(path, asPNG(t, code), 0o600))
	read, err := exec.Command(reader, "--quiet", "--raw", path).Output()
	require.NoError(t, err)
	assert.Equal(t, s.Invitation(), strings.TrimSpace(string(read)))
}
