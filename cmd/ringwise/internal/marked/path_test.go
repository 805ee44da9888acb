package marked

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPaths(t *testing.T) {
	folder := t.TempDir()
	text := filepath.Join(folder, "notes.txt")
	photo := filepath.Join(folder, "pile.jpg")
	for _, path := range []string{text, photo} {
		require.NoError(t, os.WriteFile(path, []byte("x"), 0o600))
	}
	out := filepath.Join(folder, "out")
	for _, c := range []struct {
		name   string
		out    string
		photos []string
		want   []string
		err    string
	}{
		{"a file for one", out + ".png", []string{"a.jpg"}, []string{out + ".png"}, ""},
		{"a folder for one", out, []string{"x/a.png"}, []string{filepath.Join(out, "a.jpg")}, ""},
		{"a folder for many", out, []string{"x/a.png", "y/a.jpg", "a", "-"}, []string{filepath.Join(out, "a.jpg"),
			filepath.Join(out, "a-2.jpg"), filepath.Join(out, "a-3.jpg"), filepath.Join(out, "standard-input.jpg")}, ""},
		{"a folder that exists", folder, []string{"a.jpg"}, []string{filepath.Join(folder, "a.jpg")}, ""},
		{"a file for many", out + ".png", []string{"a.jpg", "b.jpg"}, nil, "need one"},
		{"a folder with a date", out + "-2026.03.01", []string{"a.jpg"}, []string{filepath.Join(out+"-2026.03.01", "a.jpg")}, ""},
		{"a hidden folder", filepath.Join(folder, ".out"), []string{"a.jpg"}, []string{filepath.Join(folder, ".out", "a.jpg")}, ""},
		{"a folder by its ending", out + ".d/", []string{"a.jpg"}, []string{filepath.Join(out+".d", "a.jpg")}, ""},
		{"a picture that cannot be written", out + ".gif", []string{"a.jpg"}, nil, "out.gif is no .jpg, .png or .webp file: use one of these, or end the name with / if it is to be a folder"},
		{"a text that is not there", out + ".TXT", []string{"a.jpg", "b.jpg"}, nil, "out.TXT is no .jpg"},
		{"standard output", "-", []string{"a.jpg"}, nil, "marked copies do not go to standard output"},
		{"a folder named so", "./-", []string{"a.jpg"}, []string{filepath.Join("-", "a.jpg")}, ""},
		{"no name", "", []string{"a.jpg"}, nil, "have no name"},
		{"a text for one", text, []string{"a.jpg"}, nil, "neither a folder nor"},
		{"over the photo", photo, []string{photo}, nil, "would replace it"},
		{"over the photo in its folder", folder, []string{filepath.Join(folder, ".", "pile.jpg")}, nil, "would replace it"},
	} {
		got, err := Paths(c.out, c.photos)
		if c.err != "" {
			assert.ErrorContains(t, err, c.err, c.name)
			continue
		}
		require.NoError(t, err, c.name)
		assert.Equal(t, c.want, got, c.name)
	}
}
