package main

import (
	"encoding/json"
	"os/exec"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestVersion(t *testing.T) {
	var b build
	require.NoError(t, json.Unmarshal([]byte(told(t, "version", "--json")), &b))
	assert.Equal(t, runtime.Version(), b.Go)
	// pkg-config tells the version of the headers that it was compiled with.
	headers, err := exec.Command("pkg-config", "--modversion", "opencv4").Output()
	require.NoError(t, err)
	assert.Equal(t, strings.TrimSpace(string(headers)), b.OpenCV)
	text := told(t, "version")
	assert.Equal(t, text, told(t, "--version"))
	for _, want := range []string{b.Version, b.Commit, b.Built, b.Go, b.OpenCV, b.Bindings} {
		assert.NotEmpty(t, want)
		assert.Contains(t, text, want)
	}
}

func TestBuildRecorded(t *testing.T) {
	info := &debug.BuildInfo{Settings: []debug.BuildSetting{
		{Key: "vcs.modified", Value: "true"}, {Key: "vcs.revision", Value: "abc123"}, {Key: "vcs.time", Value: "2026-03-01T10:00:00Z"},
	}}
	var b build
	b.recorded(info)
	assert.Equal(t, build{Version: "unknown", Commit: "abc123, changed since", Built: "from sources of 2026-03-01T10:00:00Z"}, b)

	b = build{Version: "1.2.0", Commit: "def456", Built: "2026-03-02T10:00:00Z"}
	b.recorded(info)
	assert.Equal(t, build{Version: "1.2.0", Commit: "def456", Built: "2026-03-02T10:00:00Z"}, b, "the linker's word goes first")

	b = build{}
	b.recorded(&debug.BuildInfo{})
	assert.Equal(t, build{Version: unknown, Commit: unknown, Built: unknown}, b)
}

// told is what a command line that goes well writes.
func told(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs strings.Builder
	code := run(t.Context(), args, strings.NewReader(""), &out, &errs)
	require.Equal(t, allWell, code, errs.String())
	require.Empty(t, errs.String())
	return out.String()
}
