package main

import (
	"bufio"
	"debug/elf"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"slices"
	"strings"

	"github.com/CycloneDX/cyclonedx-go"
)

// libraries are the packages of this Debian that hold the libraries which the
// program in the file at path asks for when it starts, OpenCV among them.
func libraries(path string) ([]cyclonedx.Component, error) {
	program, err := elf.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s is no program for this system: %w", path, err)
	}
	defer program.Close()
	names, err := program.ImportedLibraries()
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, nil
	}
	var packages []string
	for _, name := range names {
		of, err := owner(name)
		if err != nil {
			return nil, err
		}
		packages = append(packages, of)
	}
	slices.Sort(packages)
	system, err := systemName()
	if err != nil {
		return nil, err
	}
	var parts []cyclonedx.Component
	for _, name := range slices.Compact(packages) {
		line, err := exec.Command("dpkg-query", "--show", "--showformat", "${binary:Package}\t${Version}\t${Architecture}", name).Output()
		if err != nil {
			return nil, fmt.Errorf("the version of package %s is not known: %w", name, err)
		}
		fields := strings.Split(string(line), "\t")
		if len(fields) != 3 {
			return nil, fmt.Errorf("dpkg-query says %q of package %s", line, name)
		}
		bare, _, _ := strings.Cut(fields[0], ":")
		parts = append(parts, debian(bare, fields[1], fields[2], system))
	}
	return parts, nil
}

// debian is one package of Debian under its package URL, in the form for deb.
func debian(name, version, architecture, system string) cyclonedx.Component {
	at := "pkg:deb/debian/" + name + "@" + strings.ReplaceAll(url.PathEscape(version), "+", "%2B") + "?" +
		url.Values{"arch": {architecture}, "distro": {system}}.Encode()
	return cyclonedx.Component{BOMRef: at, PackageURL: at, Type: cyclonedx.ComponentTypeLibrary, Name: name, Version: version}
}

// owner is the package that holds a library.
func owner(library string) (string, error) {
	out, err := exec.Command("dpkg-query", "--search", "*/"+library).Output()
	if err != nil {
		return "", fmt.Errorf("no package of this system holds %s: build on Debian or its kin", library)
	}
	for line := range strings.Lines(string(out)) {
		name, _, found := strings.Cut(line, ": ")
		if found && !strings.HasPrefix(name, "diversion by ") && !strings.Contains(name, ",") {
			return name, nil
		}
	}
	return "", fmt.Errorf("it is not clear which package holds %s", library)
}

// systemName is such as debian-12, by os-release(5).
func systemName() (string, error) {
	file, err := os.Open("/etc/os-release")
	if err != nil {
		return "", err
	}
	defer file.Close()
	fields := map[string]string{}
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		key, value, _ := strings.Cut(lines.Text(), "=")
		fields[key] = strings.Trim(value, `"`)
	}
	return fields["ID"] + "-" + fields["VERSION_ID"], lines.Err()
}
