// Package speech says sentences aloud with a speech program of the system.
package speech

import (
	"context"
	"errors"
	"os/exec"
	"strings"
	"sync"
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

// Say begins to say a text and returns at once. What was being said is broken
// off: whoever answers need not hear a sentence to its end.
func (v *Voice) Say(text string) {
	v.Hush()
	ctx, cancel := context.WithCancel(context.Background())
	v.hush = cancel
	options := v.options
	if !v.piped {
		options = append(append([]string(nil), options...), text)
	}
	command := exec.CommandContext(ctx, v.path, options...)
	if v.piped {
		command.Stdin = strings.NewReader(text)
	}
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
