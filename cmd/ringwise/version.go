package main

import (
	"cmp"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"runtime"
	"runtime/debug"

	"gocv.io/x/gocv"
)

const versionBrief = "tell which Ringwise this is"

const versionHelp = `usage: ringwise version [--json]

Tells the version, the commit that it was built from, when it was built, and the
versions of Go, of OpenCV and of the bindings between them.

  --json   the same as one JSON object

Exit code: 0 told, 2 wrong use.

Examples:
  ringwise version
  ringwise version --json
`

// Packages set these when they link the program, by -ldflags "-X main.release=…".
var (
	release string // the version, such as 1.2.0
	commit  string
	built   string // RFC 3339
)

// unknown stands for what was not recorded when the program was built.
const unknown = "unknown"

// A build is what is known of this program. What was not recorded is unknown.
type build struct {
	Version  string `json:"version"`
	Commit   string `json:"commit"`
	Built    string `json:"built"`
	Go       string `json:"go"`
	System   string `json:"system"`
	OpenCV   string `json:"opencv"`
	Bindings string `json:"bindings"` // of gocv
}

// thisBuild gathers what the linker set and what Go records by itself: commit
// and its time if the program was built in a checkout.
func thisBuild() build {
	b := build{
		Version: release, Commit: commit, Built: built,
		Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH,
		OpenCV: gocv.OpenCVVersion(), Bindings: gocv.Version(),
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		info = &debug.BuildInfo{}
	}
	b.recorded(info)
	return b
}

// recorded fills in what the linker did not set.
func (b *build) recorded(info *debug.BuildInfo) {
	var revision, at string
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			revision = s.Value
		case "vcs.time":
			at = s.Value
		}
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.modified" && s.Value == "true" && revision != "" {
			revision += ", changed since"
		}
	}
	if at != "" {
		at = "from sources of " + at
	}
	b.Version = cmp.Or(b.Version, info.Main.Version, unknown)
	b.Commit = cmp.Or(b.Commit, revision, unknown)
	b.Built = cmp.Or(b.Built, at, unknown)
}

// tellVersion carries out ringwise version.
func tellVersion(_ context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("version", flag.ContinueOnError)
	asJSON := set.Bool("json", false, "")
	words, err := parse(set, args)
	if err != nil {
		return 0, err
	}
	if len(words) > 0 {
		return 0, usage("%q is too much", words[0])
	}
	b := thisBuild()
	if *asJSON {
		return allWell, json.NewEncoder(std.out).Encode(b)
	}
	_, err = fmt.Fprintf(std.out, "Ringwise %s\ncommit    %s\nbuilt     %s\nGo        %s, %s\nOpenCV    %s\nbindings  gocv %s\n",
		b.Version, b.Commit, b.Built, b.Go, b.System, b.OpenCV, b.Bindings)
	return allWell, err
}
