package speech

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stand puts a program of that name on the PATH that stands in for a speech
// program: it writes its words and its input to a file and then sleeps so many
// seconds. It returns the file.
func stand(t *testing.T, name, seconds string) string {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("the stand-in is a shell script")
	}
	folder := t.TempDir()
	heard := filepath.Join(folder, "heard")
	script := "#!/bin/sh\nin=\n[ \"$3\" = --stdin ] && in=$(/bin/cat)\necho \"$*|$in\" >> '" + heard + "'\nexec /bin/sleep " + seconds + "\n"
	require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(script), 0o700))
	t.Setenv("PATH", folder)
	return heard
}

func TestSay(t *testing.T) {
	for name, want := range map[string]string{
		"espeak-ng": "-v en --stdin|five point six kilo-ohm\n",
		"spd-say":   "--language en --wait -- five point six kilo-ohm|\n",
	} {
		heard := stand(t, name, "0")
		v, err := Find()
		require.NoError(t, err)
		v.Say("five point six kilo-ohm")
		v.Wait()
		text, err := os.ReadFile(heard)
		require.NoError(t, err)
		assert.Equal(t, want, string(text))
	}
}

func TestSayBreaksOff(t *testing.T) {
	heard := stand(t, "espeak-ng", "60")
	v, err := Find()
	require.NoError(t, err)
	v.Say("one")
	require.Eventually(t, func() bool { _, err := os.Stat(heard); return err == nil }, 10*time.Second, 5*time.Millisecond)
	start := time.Now()
	v.Say("two")
	v.Hush()
	assert.Less(t, time.Since(start), 30*time.Second)
}

func TestNoVoice(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	_, err := Find()
	assert.ErrorContains(t, err, "install espeak-ng or speech-dispatcher (spd-say), or leave out --speak")
}
