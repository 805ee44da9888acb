package main

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
)

func TestReadConfirm(t *testing.T) {
	folder := t.TempDir()
	photo, path := filepath.Join(folder, "drawn.png"), filepath.Join(folder, "stock.db")
	write(t, photo, asPNG(t, drawnResistor()))
	empty := filepath.Join(folder, "mat.png")
	write(t, empty, asPNG(t, plainPicture(200, 100)))

	answers := "rings GN BU RD GD\ncount 2\n\n"
	code, out, errs := ringwiseFrom(strings.NewReader(answers), "read", "--confirm", "--stock", path, photo)
	require.Equal(t, allWell, code, errs)
	assert.Contains(t, out, "confirmed as entry 1: five point six kilo-ohm, plus or minus five percent; 2 of them")
	assert.NotContains(t, out, "\x1b")

	s, err := stock.Open(context.Background(), path)
	require.NoError(t, err)
	defer s.Close()
	p, err := s.Part(context.Background(), 1)
	require.NoError(t, err)
	assert.Equal(t, "drawn.png", p.Photo, "without its folder")
	assert.NotEmpty(t, p.Candidates)
	crop, err := s.Crop(context.Background(), 1)
	require.NoError(t, err)
	assert.NotEmpty(t, crop)

	// The same photo a second time, under another name.
	other := filepath.Join(folder, "copy.png")
	write(t, other, asPNG(t, drawnResistor()))
	code, out, errs = ringwiseFrom(strings.NewReader("\n"), "read", "--confirm", "--stock", path, empty, other, filepath.Join(folder, "missing.jpg"))
	assert.Equal(t, failed, code)
	assert.Contains(t, errs, "missing.jpg: no such file")
	assert.Contains(t, out, empty+": no parts\n")
	assert.Contains(t, out, "in the stock already as entry 1")
	parts, err := s.Parts(context.Background(), stock.Filter{})
	require.NoError(t, err)
	assert.Len(t, parts, 1)
}

func TestReadConfirmRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--json", "a.jpg"}, "leave out --json and --csv"},
		{[]string{"--forms", "a.jpg"}, "leave out --forms"},
		{[]string{"-"}, "--confirm reads answers from standard input"},
	} {
		code, _, errs := ringwise(append([]string{"read", "--confirm"}, c.args...)...)
		assert.Equal(t, wrongUse, code)
		assert.Contains(t, errs, c.want)
	}
	for _, option := range [][]string{{"--speak"}, {"--stock", "a.db"}} {
		code, _, errs := ringwise(append([]string{"read", "a.jpg"}, option...)...)
		assert.Equal(t, wrongUse, code)
		assert.Contains(t, errs, "go with --confirm")
	}
	folder := t.TempDir()
	t.Setenv("PATH", folder)
	path := filepath.Join(folder, "stock.db")
	code, _, errs := ringwise("read", "--confirm", "--speak", "--stock", path, "a.jpg")
	assert.Equal(t, failed, code)
	assert.Contains(t, errs, "install espeak-ng or speech-dispatcher (spd-say), or leave out --speak")
	assert.NoFileExists(t, path)
}

func TestReadConfirmSpeaks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the stand-in is a shell script")
	}
	folder := t.TempDir()
	heard := filepath.Join(folder, "heard")
	require.NoError(t, os.WriteFile(filepath.Join(folder, "espeak-ng"), []byte("#!/bin/sh\nexec /bin/cat >> '"+heard+"'\n"), 0o700))
	t.Setenv("PATH", folder)
	photo := filepath.Join(folder, "mat.png")
	write(t, photo, asPNG(t, plainPicture(200, 100)))
	code, _, errs := ringwise("read", "--confirm", "--speak", "--stock", filepath.Join(folder, "stock.db"), photo)
	assert.Equal(t, nothingIn, code, errs)
	text, err := os.ReadFile(heard)
	require.NoError(t, err)
	assert.Contains(t, string(text), "no parts answered: 0 confirmed", "the last is said to its end")
}
