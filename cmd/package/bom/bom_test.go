package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"github.com/CycloneDX/cyclonedx-go"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv" // so that this test is linked to OpenCV
)

// written is the bill of materials of this test, which is a program of this
// module.
func written(t *testing.T) []byte {
	t.Helper()
	if _, err := exec.LookPath("dpkg-query"); err != nil {
		t.Skip("no dpkg here")
	}
	self, err := os.Executable()
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, write(&out, self, "1.2.0", time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)))
	return out.Bytes()
}

// The JSON Schema of CycloneDX 1.6 itself, as the standard's own Go module ships
// it, finds no fault.
func TestSchema(t *testing.T) {
	text := written(t)
	folder, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/CycloneDX/cyclonedx-go").Output()
	require.NoError(t, err)
	at := filepath.Join(strings.TrimSpace(string(folder)), "schema")
	compiler := jsonschema.NewCompiler()
	for _, name := range []string{"spdx.schema.json", "jsf-0.82.schemax.json", "bom-1.6.schema.json"} {
		data, err := os.ReadFile(filepath.Join(at, name))
		require.NoError(t, err)
		schema, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		require.NoError(t, err)
		require.NoError(t, compiler.AddResource("http://cyclonedx.org/schema/"+strings.Replace(name, "schemax", "schema", 1), schema))
	}
	schema, err := compiler.Compile("http://cyclonedx.org/schema/bom-1.6.schema.json")
	require.NoError(t, err)
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	assert.NoError(t, schema.Validate(value))

	// What the schema asks for at least, by its "required".
	var bill map[string]any
	require.NoError(t, json.Unmarshal(text, &bill))
	for _, field := range []string{"bomFormat", "specVersion"} {
		spoiled := map[string]any{}
		for key, value := range bill {
			if key != field {
				spoiled[key] = value
			}
		}
		assert.Error(t, schema.Validate(spoiled), "without %s it must not pass", field)
	}
}

func TestWhatIsListed(t *testing.T) {
	var bom cyclonedx.BOM
	require.NoError(t, cyclonedx.NewBOMDecoder(bytes.NewReader(written(t)), cyclonedx.BOMFileFormatJSON).Decode(&bom))
	assert.Equal(t, "ringwise", bom.Metadata.Component.Name)
	assert.Equal(t, "1.2.0", bom.Metadata.Component.Version)
	assert.Equal(t, "2026-03-01T10:00:00Z", bom.Metadata.Timestamp)
	assert.NotEmpty(t, bom.SerialNumber)
	versions, seen := map[string]string{}, map[string]bool{}
	for _, c := range *bom.Components {
		assert.False(t, seen[c.BOMRef], "%s is listed twice", c.BOMRef)
		seen[c.BOMRef] = true
		versions[c.Name] = c.Version
	}
	info, ok := debug.ReadBuildInfo()
	require.True(t, ok)
	require.NotEmpty(t, info.Deps)
	for _, m := range info.Deps {
		assert.Equal(t, m.Version, versions[m.Path], m.Path)
	}
	assert.Equal(t, strings.TrimPrefix(info.GoVersion, "go"), versions["std"])
	// Debian 12 calls the package after the version that the program must find.
	core := ""
	for name, version := range versions {
		if strings.HasPrefix(name, "libopencv-core") {
			core = version
		}
	}
	assert.True(t, strings.HasPrefix(core, gocv.OpenCVVersion()), "OpenCV %s is listed as %q", gocv.OpenCVVersion(), core)
	assert.Contains(t, versions, "libc6")
	for _, ref := range *(*bom.Dependencies)[0].Dependencies {
		assert.True(t, seen[ref], "%s is needed but not listed", ref)
	}
}

// By the package URL specification: the version follows @, a + in it is written in
// percent, a : is not.
func TestPackageURLs(t *testing.T) {
	assert.Equal(t, "pkg:golang/gocv.io/x/gocv@v0.31.0", module("gocv.io/x/gocv", "v0.31.0").PackageURL)
	assert.Equal(t, "pkg:golang/a.example/b@v2.0.0%2Bincompatible", module("a.example/b", "v2.0.0+incompatible").PackageURL)
	assert.Equal(t, "pkg:deb/debian/libopencv-core406@4.6.0%2Bdfsg-12?arch=amd64&distro=debian-12",
		debian("libopencv-core406", "4.6.0+dfsg-12", "amd64", "debian-12").PackageURL)
	assert.Equal(t, "pkg:deb/debian/libgcc-s1@1:12.2.0-14?arch=amd64&distro=debian-12",
		debian("libgcc-s1", "1:12.2.0-14", "amd64", "debian-12").PackageURL)
}

func TestWhatIsNoProgram(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notes.txt")
	require.NoError(t, os.WriteFile(path, []byte("the green set"), 0o600))
	assert.ErrorContains(t, write(&bytes.Buffer{}, path, "1.2.0", time.Now()), "no program built by Go")
}
