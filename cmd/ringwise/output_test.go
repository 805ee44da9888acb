package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A fullDisk takes nothing.
type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

// A closedPipe is one that nobody reads any more.
type closedPipe struct{}

func (closedPipe) Write([]byte) (int, error) { return 0, syscall.EPIPE }

// A command whose output is lost fails and says so once, whatever it prints with.
func TestLostOutputFails(t *testing.T) {
	folder, stock := t.TempDir(), clubStock(t)
	sample := filepath.Join("internal", "doctor", "sample.jpg")
	list := filepath.Join(folder, "radio.csv")
	write(t, list, []byte("reference,value\nR1,5K6\n"))
	for _, args := range [][]string{
		{"help"}, {"help", "read"}, {"stock", "--help"},
		{"read", sample}, {"read", "--json", sample}, {"read", "--csv", sample},
		{"read", "--confirm", "--stock", filepath.Join(folder, "confirmed.db"), sample},
		{"stock", "--stock", stock}, {"stock", "find", "5K6", "--stock", stock},
		{"stock", "labels", "--stock", stock}, {"stock", "export", "--csv", "--stock", stock},
		{"stock", "journal", "--stock", stock}, {"stock", "take", "0R", "--stock", stock},
		{"decode", "GN", "BU", "RD", "GD"}, {"code", "5K6"}, {"code", "5K6", "--forms"},
		{"spread", "5K6J"}, {"replace", "5K6", "--from", "E24"}, {"combine", "5.23k", "--from", "E24"},
		{"divider", "--in", "12V", "--out", "3.3V", "--from", "E24"}, {"power", "12V", "470R"},
		{"project", list, "--stock", stock}, {"project", list, "--json", "--stock", stock},
		{"sheet", "--values", "E12", "--out", filepath.Join(folder, "sheets")},
		{"complete", "bash"}, {"version"}, {"version", "--json"},
	} {
		var errs bytes.Buffer
		code := run(context.Background(), args, strings.NewReader("\n"), fullDisk{}, &errs)
		assert.Equal(t, failed, code, "%q", args)
		assert.Equal(t, 1, strings.Count(errs.String(), "no space left on device"), "%q: %s", args, &errs)
		assert.Contains(t, errs.String(), "the output could not be written", "%q", args)
	}
	_, out, _ := ringwise("stock", "--stock", stock)
	assert.Contains(t, out, "3  0 Ω link", "one of four was taken, though nothing could be said of it")
}

// Whoever reads only the first lines of a long answer is told of no failure.
func TestClosedPipeIsQuiet(t *testing.T) {
	self, err := os.Executable()
	require.NoError(t, err)
	command := exec.Command(self, "help", "read")
	command.Env = append(os.Environ(), asProgram+"=1")
	reader, writer, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, reader.Close())
	defer writer.Close()
	var errs bytes.Buffer
	command.Stdout, command.Stderr = writer, &errs
	assert.Error(t, command.Run())
	assert.Empty(t, errs.String())

	// And so where the system does not end the program by itself.
	assert.Equal(t, failed, run(context.Background(), []string{"help", "read"}, nil, closedPipe{}, &errs))
	assert.Empty(t, errs.String())
}
