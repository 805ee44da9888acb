package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestScoreWritesAPage(t *testing.T) {
	folder := t.TempDir()
	write(t, filepath.Join(folder, "mat.png"), asPNG(t, plainPicture(200, 150)))
	truth := filepath.Join(folder, "truth.json")
	write(t, truth, []byte(`{"photos": [
		{"file": "mat.png", "resistors": [{"bands": ["brown", "black", "red", "gold"], "body": {"center": [100, 75], "length_px": 90}}]}]}`))
	page := filepath.Join(folder, "page.html")

	code, out, errs := ringwise("score", "--page", page, "desk="+truth, "hall="+truth)
	require.Equal(t, allWell, code, errs)
	assert.Contains(t, out, "\ndesk  1       1      0.0")
	assert.Contains(t, out, "\nhall  1       1      0.0")
	text, err := os.ReadFile(page)
	require.NoError(t, err)
	assert.Contains(t, string(text), "Shown: 2 of 2.")
	assert.Contains(t, string(text), "2 photos with 2 labelled parts: desk (1 photo), hall (1 photo)")

	code, _, errs = ringwise("score", "--page", filepath.Join(folder, "missing", "page.html"), truth)
	assert.Equal(t, failed, code)
	assert.Contains(t, errs, "make the folder first")
}

func TestScoreOptions(t *testing.T) {
	folder := t.TempDir()
	truth := filepath.Join(folder, "truth.json")
	write(t, truth, []byte(`{"photos": [{"file": "a.jpg"}]}`))
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"score", "--worst", "-1", truth}, wrongUse, "--worst -1 makes no sense"},
		{[]string{"score", "--taught", "-1", truth}, wrongUse, "--taught -1 makes no sense"},
		{[]string{"score", "--taught", "3", "--json", truth}, wrongUse, "--taught is not part of --json"},
		{[]string{"score", "desk=" + truth, "desk=" + truth}, failed, `would both be called "desk"`},
	} {
		code, _, errs := ringwise(c.args...)
		assert.Equal(t, c.code, code, "%q", c.args)
		assert.Contains(t, errs, c.want, "%q", c.args)
	}
}
