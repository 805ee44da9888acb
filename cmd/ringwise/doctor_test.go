package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDoctor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stock.db")
	code, out, errs := ringwise("doctor", "--stock", path)
	assert.Equal(t, allWell, code, out)
	assert.Empty(t, errs)
	for line := range strings.Lines(out) {
		assert.Regexp(t, `^(well|lacking): .+: .+|^All that is needed works`, line)
	}
	assert.NotContains(t, out, "camera", "no camera is opened unless it is named")

	require.NoError(t, os.WriteFile(path, []byte("spoilt"), 0o600))
	code, out, _ = ringwise("doctor", "--json", "--stock", path, "--camera", path+".avi")
	assert.Equal(t, failed, code)
	var told struct {
		Sound    bool
		Findings []struct{ Of, State, Found, Do string }
	}
	require.NoError(t, json.Unmarshal([]byte(out), &told))
	assert.False(t, told.Sound)
	wrong := map[string]string{}
	for _, f := range told.Findings {
		if f.State == "wrong" {
			wrong[f.Of] = f.Do
		}
	}
	assert.Len(t, wrong, 2)
	assert.Contains(t, wrong["stock"], "restore")
	assert.Contains(t, wrong["camera "+path+".avi"], "check its number or address")
}
