package main

import (
	"debug/buildinfo"
	"fmt"
	"strings"

	"github.com/CycloneDX/cyclonedx-go"
)

// modules are those that Go says it built the program in the file at path of,
// and Go itself for its standard library.
func modules(path string) ([]cyclonedx.Component, error) {
	info, err := buildinfo.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("%s is no program built by Go: %w", path, err)
	}
	parts := []cyclonedx.Component{module("std", strings.TrimPrefix(info.GoVersion, "go"))}
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		parts = append(parts, module(m.Path, m.Version))
	}
	return parts, nil
}

// module is one module under its package URL, in the form for Go modules.
func module(path, version string) cyclonedx.Component {
	at := "pkg:golang/" + path + "@" + strings.ReplaceAll(version, "+", "%2B")
	return cyclonedx.Component{BOMRef: at, PackageURL: at, Type: cyclonedx.ComponentTypeLibrary, Name: path, Version: version}
}
