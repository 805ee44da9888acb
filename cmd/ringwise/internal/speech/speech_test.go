package speech

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
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

// real is the real espeak-ng.
func real(t *testing.T) *Voice {
	t.Helper()
	if _, err := exec.LookPath("espeak-ng"); err != nil {
		t.Skip("espeak-ng is not installed")
	}
	v, err := Find()
	require.NoError(t, err)
	return v
}

// The real espeak-ng takes what it is given and makes speech of it, as long as
// a person would take: here written to a WAV file of 16 bits at 22.05 kHz
// instead of a sound device.
func TestRealSpeech(t *testing.T) {
	v := real(t)
	length := func(text string) float64 {
		path := filepath.Join(t.TempDir(), "said.wav")
		written := &Voice{path: v.path, piped: v.piped, options: append(slices.Clone(v.options), "-w", path)}
		require.NoError(t, written.Try(t.Context(), text))
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, "RIFF", string(data[:4]))
		return float64(len(data)-44) / 2 / 22050
	}
	short, long := length("five"), length("part 3 of 12: five point six kilo-ohm, five percent; fairly sure; second ring may be violet")
	assert.Greater(t, short, 0.2)
	assert.Greater(t, long, 4.0)
	assert.Less(t, long, 20.0)
}

// Without a sound device espeak-ng ends as if all were well. It is said all the
// same that nothing can be heard, and what to do.
func TestNoSoundDevice(t *testing.T) {
	v := real(t)
	none := filepath.Join(t.TempDir(), "none")
	require.NoError(t, os.WriteFile(none, nil, 0o600))
	t.Setenv("ALSA_CONFIG_PATH", none)
	t.Setenv("PULSE_SERVER", none)
	err := v.Try(t.Context(), "five")
	assert.ErrorContains(t, err, "espeak-ng cannot be heard (no such file or directory): connect or switch on a sound device")
}

// A program that fails is not heard either.
func TestTry(t *testing.T) {
	heard := stand(t, "spd-say", "0")
	v, err := Find()
	require.NoError(t, err)
	require.NoError(t, v.Try(t.Context(), "five"))
	text, err := os.ReadFile(heard)
	require.NoError(t, err)
	assert.Equal(t, "--language en --wait -- five|\n", string(text))
	v.path = filepath.Join(filepath.Dir(v.path), "gone")
	assert.ErrorContains(t, v.Try(t.Context(), "five"), "gone cannot be heard")
}

func TestNoVoice(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	_, err := Find()
	assert.ErrorContains(t, err, "install espeak-ng or speech-dispatcher (spd-say), or leave out --speak")
}
