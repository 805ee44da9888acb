package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A generator that renders nothing, but writes its options as a ground.
const pretender = `package main

import (
	"fmt"
	"os"
	"strings"
)

func main() {
	err := os.WriteFile(os.Args[3]+"/truth.json", []byte(fmt.Sprintf(
		"{\"photos\": [{\"file\": \"a.jpg\", \"scene\": {\"ground\": %q}}]}", strings.Join(os.Args[4:], " "))), 0o600)
	if err != nil {
		panic(err)
	}
}
`

func put(t *testing.T, path, text string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
}

func TestStudio(t *testing.T) {
	root, folder := t.TempDir(), t.TempDir()
	put(t, filepath.Join(root, "go.mod"), "module pretended\n\ngo 1.26\n")
	put(t, filepath.Join(root, "samples/scene/main.go"), pretender)
	s, err := newStudio(root, folder, 3)
	require.NoError(t, err)

	truth, err := s.set(t.Context(), set{"scenes", []run{
		{style: "mixed", first: 50, count: 2, size: 1},
		{style: "negatives", first: 70, count: 9, objects: 30, size: 2.5},
	}})
	require.NoError(t, err)
	assert.Equal(t, "scenes", truth.Name)
	require.Len(t, truth.Photos, 2)
	assert.Equal(t, "-style mixed -seed 50 -count 2 -objects 0 -size 1", truth.Photos[0].Scene["ground"])
	assert.Equal(t, "-style negatives -seed 70 -count 3 -objects 30 -size 2.5", truth.Photos[1].Scene["ground"])
	assert.Equal(t, filepath.Join(folder, "mixed-50", "a.jpg"), truth.Photos[0].Path())

	// Another generator must not take over what this one made.
	put(t, filepath.Join(root, "samples/scene/light.go"), "package main\n")
	other, err := newStudio(root, folder, 3)
	require.NoError(t, err)
	_, err = other.run(t.Context(), run{style: "mixed", first: 50, count: 2, size: 1})
	assert.ErrorContains(t, err, "made by another version of samples/scene: delete the folder")
	_, err = other.run(t.Context(), run{style: "mixed", first: 60, count: 2, size: 1})
	assert.NoError(t, err, "a folder of its own")
}

func TestVersion(t *testing.T) {
	folder := t.TempDir()
	sum := func() string {
		v, err := versionOf(folder)
		require.NoError(t, err)
		return v
	}
	put(t, filepath.Join(folder, "scene.go"), "package main\n")
	before := sum()
	put(t, filepath.Join(folder, "scene_test.go"), "package main\n")
	put(t, filepath.Join(folder, "notes.txt"), "none")
	assert.Equal(t, before, sum(), "tests render nothing")
	put(t, filepath.Join(folder, "scene.go"), "package main // changed\n")
	assert.NotEqual(t, before, sum())
}

// Only the figures of the whole report split are the ones to keep.
func TestFolderFor(t *testing.T) {
	for _, c := range []struct {
		split         string
		count, others int
		want          string
	}{
		{"report", 0, 0, "root/testdata/figures"},
		{"report", 4, 0, "root/build/figures"},
		{"report", 0, 1, "root/build/figures"},
		{"tune", 0, 0, "root/build/figures"},
	} {
		assert.Equal(t, filepath.FromSlash(c.want), folderFor("root", c.split, c.count, c.others), "%+v", c)
	}
}
