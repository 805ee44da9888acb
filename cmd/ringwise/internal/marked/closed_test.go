//go:build matprofile

package marked

import (
	"image/color"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/photoread"
)

// Every picture that drawing and writing make must be closed again.
func TestEveryMatIsClosed(t *testing.T) {
	photo, part := plain(color.RGBA{200, 180, 150, 255})
	defer photo.Close()
	before := gocv.MatProfile.Count()
	require.NoError(t, Write(filepath.Join(t.TempDir(), "a.jpg"), photo, []photoread.Part{part}))
	assert.Equal(t, before, gocv.MatProfile.Count())
}
