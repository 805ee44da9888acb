package score

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lamps lays truth files out in a folder and returns it.
func lamps(t *testing.T, paths ...string) string {
	t.Helper()
	folder := t.TempDir()
	for _, path := range paths {
		path = filepath.Join(folder, path)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
		require.NoError(t, os.WriteFile(path, []byte(`{"photos": [{"file": "a.jpg"}]}`), 0o600))
	}
	return folder
}

func TestLoadSets(t *testing.T) {
	t.Chdir(lamps(t, "desk/truth.json", "hall/truth.json", "hall/evening.json", "odd=name/truth.json", "truth.json"))
	here, err := os.Getwd()
	require.NoError(t, err)
	for _, c := range []struct {
		words []string
		names []string
	}{
		{[]string{"desk/truth.json", "hall/truth.json"}, []string{"desk", "hall"}},
		{[]string{"hall/evening.json", "evening lamp=hall/truth.json"}, []string{"evening", "evening lamp"}},
		{[]string{"truth.json"}, []string{filepath.Base(here)}},
		{[]string{"odd=name/truth.json"}, []string{"odd=name"}},
		{[]string{"a=b=desk/truth.json"}, nil}, // no such file "b=desk/truth.json"
		{[]string{"desk/truth.json", "desk=hall/truth.json"}, nil},
	} {
		sets, err := LoadSets(c.words)
		if c.names == nil {
			assert.Error(t, err, "%q", c.words)
			continue
		}
		require.NoError(t, err, "%q", c.words)
		for i, name := range c.names {
			assert.Equal(t, name, sets[i].Name, "%q", c.words)
			assert.Equal(t, name, sets[i].Photos[0].set, "%q", c.words)
			assert.Equal(t, "a.jpg", filepath.Base(sets[i].Photos[0].Path()), "%q", c.words)
		}
	}
	_, err = LoadSets([]string{"desk/truth.json", "desk=hall/truth.json"})
	assert.ErrorContains(t, err, `would both be called "desk": give one another name`)
}
