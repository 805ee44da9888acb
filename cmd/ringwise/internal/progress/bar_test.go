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
