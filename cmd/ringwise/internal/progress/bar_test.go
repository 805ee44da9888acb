package progress

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestSilentWithoutATerminal(t *testing.T) {
	var out bytes.Buffer
	bar := New(&out, 5)
	bar.Step()
	wrote := false
	bar.Aside(func() { wrote = true })
	bar.Clear()
	assert.True(t, wrote)
	assert.Empty(t, out.String())
}

func TestBar(t *testing.T) {
	var out bytes.Buffer
	bar := &Bar{w: &out, total: 3}
	bar.Step()
	assert.Equal(t, "\r["+strings.Repeat("=", 10)+strings.Repeat(" ", 20)+"] 1 of 3 photos\x1b[K", out.String())

	out.Reset()
	bar.Aside(func() { out.WriteString("a line\n") })
	assert.Regexp(t, `^\r\x1b\[Ka line\n\r\[=+ +\] 1 of 3 photos`, out.String())
}

func TestSilentOnPlainTerminals(t *testing.T) {
	for _, c := range []struct {
		set  map[string]string
		want bool
	}{
		{nil, true},
		{map[string]string{"TERM": "xterm"}, true},
		{map[string]string{"TERM": "dumb"}, false},
		{map[string]string{"TERM": "xterm", "NO_COLOR": "1"}, false},
	} {
		assert.Equal(t, c.want, drawsOver(func(name string) string { return c.set[name] }), c.set)
	}
}

// The line of twelve photos takes 48 columns, and the cursor one more.
func TestFits(t *testing.T) {
	bar := &Bar{total: 12}
	assert.Len(t, bar.line(12), 48)
	for columns, want := range map[int]bool{0: true, 20: false, 48: false, 49: true, 80: true} {
		assert.Equal(t, want, bar.fits(columns), columns)
	}
}
