package photoread

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/vision"
)

// endless gives bytes without end.
type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

func TestSourceRefuses(t *testing.T) {
	folder := t.TempDir()
	empty := filepath.Join(folder, "empty.jpg")
	require.NoError(t, os.WriteFile(empty, nil, 0o600))
	for _, c := range []struct {
		source Source
		want   string
	}{
		{File(filepath.Join(folder, "missing.jpg")), "no such file"},
		{File(folder), "folder"},
		{File(empty), "empty"},
		{Stream("-", strings.NewReader("")), "empty"},
	} {
		_, err := c.source.Load()
		require.ErrorContains(t, err, c.want, c.source.Name)
		assert.NotContains(t, err.Error(), "\n")
	}
}

func TestLoadStopsAtTheLimit(t *testing.T) {
	_, err := load(endless{}, 1<<20)
	assert.ErrorContains(t, err, "larger than 1 MB")
	data, err := load(strings.NewReader("ring"), 4)
	require.NoError(t, err)
	assert.Equal(t, "ring", string(data))
}

func TestReadTurnsAPanicIntoAnError(t *testing.T) {
	result := Read(context.Background(), Source{Name: "odd.jpg", Load: func() ([]byte, error) { panic("out of rings") }}, nil)
	assert.Equal(t, "odd.jpg", result.Name)
	assert.ErrorContains(t, result.Err, "out of rings")
}

func TestReadStopsWithItsContext(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	result := Read(ctx, Source{Name: "a.jpg", Load: func() ([]byte, error) { return nil, errors.New("loaded") }}, nil)
	assert.ErrorIs(t, result.Err, context.Canceled)
}

func TestReadLooks(t *testing.T) {
	look := func(photo *vision.Photo, parts []Part) error {
		assert.Equal(t, 320, photo.Pixels.Cols())
		return errors.New("no room")
	}
	result := Read(context.Background(), blank(t, 320, 200), look)
	assert.ErrorContains(t, result.Err, "no room")

	result = Read(context.Background(), blank(t, 320, 200), nil)
	require.NoError(t, result.Err)
	assert.Equal(t, 320, result.Width)
	assert.Equal(t, 200, result.Height)
}
