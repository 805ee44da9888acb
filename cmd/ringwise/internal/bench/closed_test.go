//go:build matprofile

package bench

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/isolated"
)

// Every picture that reading a photo or looking through a camera makes is
// closed again. gocv counts those that are not.
func TestEveryMatIsClosed(t *testing.T) {
	data, err := os.ReadFile(filepath.Clean(sample))
	require.NoError(t, err)
	film := video(t, 25)
	before := gocv.MatProfile.Count()
	_, err = readPhoto(context.Background(), file("tin.jpg", data))
	require.NoError(t, err)
	_, err = readPhoto(context.Background(), file("half.jpg", data[:len(data)/2]))
	require.Error(t, err)
	assert.Equal(t, before, gocv.MatProfile.Count())

	fixed, err := isolated.OpenCamera(context.Background(), film)
	require.NoError(t, err)
	fixed.Pause = time.Millisecond
	s := newServer(t, Options{Camera: fixed})
	s.camera.run(context.Background())
	assert.Equal(t, before, gocv.MatProfile.Count())
}
