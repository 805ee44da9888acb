// Package speech says sentences aloud with a speech program of the system.
package speech

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// programs are the speech programs that are looked for, in this order, with
// the words that make them speak English and take the text from standard
// input or, where that cannot be, as the last word.
var programs = []struct {
	name    string
	options []string
	piped   bool
}{
	{"espeak-ng", []string{"-v", "en", "--stdin"}, true},
	{"spd-say", []string{"--language", "en", "--wait", "--"}, false},
}

// A Voice says sentences, one at a time. Its methods may be called from one
// goroutine only.
type Voice struct {
	path    string
	options []string
	piped   bool
	hush    context.CancelFunc // ends the sentence that is being said
	saying  sync.WaitGroup
}

// Find returns a voice by the first speech program that is on the PATH. It
// returns an error that says what to install if there is none.
func Find() (*Voice, error) {
	for _, p := range programs {
		if path, err := exec.LookPath(p.name); err == nil {
			return &Voice{path: path, options: p.options, piped: p.piped, hush: func() {}}, nil
		}
	}
	return nil, errors.New("there is no speech program: install espeak-ng or speech-dispatcher (spd-say), or leave out --speak")
}

// longestTry is how long Try waits at most.
const longestTry = 10 * time.Second

// Try says a text and returns when it is said. The error says why it could not
// be heard, such as where there is no sound device.
func (v *Voice) Try(ctx context.Context, text string) error {
	ctx, stop := context.WithTimeout(ctx, longestTry)
	defer stop()
	command := v.command(ctx, text)
	var complaints strings.Builder
	command.Stderr = &complaints
	command.WaitDelay = time.Second
	if err := command.Run(); err != nil {
		return v.unheard(err.Error())
	}
	// espeak-ng ends well even without a sound device, but says so.
	for line := range strings.Lines(complaints.String()) {
		if why, is := strings.CutPrefix(strings.ToLower(strings.TrimSpace(line)), "error: "); is {
			return v.unheard(why)
		}
	}
	return nil
}

func (v *Voice) unheard(why string) error {
	return fmt.Errorf("%s cannot be heard (%s): connect or switch on a sound device and try again, or leave out --speak", filepath.Base(v.path), why)
}

// command is the speech program with a text to say.
func (v *Voice) command(ctx context.Context, text string) *exec.Cmd {
	if v.piped {
		command := exec.CommandContext(ctx, v.path, v.options...)
		command.Stdin = strings.NewReader(text)
		return command
	}
	return exec.CommandContext(ctx, v.path, append(slices.Clone(v.options), text)...)
}

// Say begins to say a text and returns at once. What was being said is broken
// off: whoever answers need not hear a sentence to its end.
func (v *Voice) Say(text string) {
	v.Hush()
	ctx, cancel := context.WithCancel(context.Background())
	v.hush = cancel
	command := v.command(ctx, text)
	v.saying.Add(1)
	go func() {
		defer v.saying.Done()
		defer cancel()
		_ = command.Run() // the text stands on the screen all the same
	}()
}

// Hush breaks off what is being said.
func (v *Voice) Hush() {
	v.hush()
	v.saying.Wait()
}

// Wait returns when the last text is said.
func (v *Voice) Wait() { v.saying.Wait() }
