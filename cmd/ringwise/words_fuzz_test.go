package main

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// reckoners are the commands that work on their words alone.
var reckoners = []string{"decode", "code", "spread", "power", "divider"}

// FuzzWords gives any words to the commands that reckon with them. Each ends in
// good time with one of its exit codes, and an error is one line that names the
// command.
func FuzzWords(f *testing.F) {
	for _, line := range []string{
		"decode yellow violet orange gold", "decode GD BN RD GD", "code 5K6 --tolerance 5", "code 0", "spread 5K6J --measured 5.31k",
		"spread 10k --temperature -40..85 --tempco 100", "power 12V 470R --rated 1/2W", "power 5mA 1k", "power 5 W --json",
		"divider --in 12V --out 3.3V --load 10k --from E6", "decode --", "code -- -5", "spread --json",
	} {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		words := strings.Fields(line)
		if len(words) == 0 || !slices.Contains(reckoners, words[0]) || strings.Contains(line, "stock") {
			return // the stock is a file
		}
		ctx, stop := context.WithTimeout(t.Context(), 300*time.Millisecond)
		defer stop()
		var out, errs strings.Builder
		code := run(ctx, words, strings.NewReader(""), &out, &errs)
		require.Contains(t, []int{allWell, failed, wrongUse, nothingIn}, code)
		if code == wrongUse || code == failed {
			assert.True(t, strings.HasPrefix(errs.String(), "ringwise "+words[0]+": "), errs.String())
			assert.Equal(t, 1, strings.Count(errs.String(), "\n"), errs.String())
		} else {
			assert.Empty(t, errs.String())
		}
	})
}
