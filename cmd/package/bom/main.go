// Bom writes the bill of materials of a program of this module: its modules, its
// Go, and the packages of Debian that hold the libraries that it is linked to.
//
//	go run ./cmd/package/bom PROGRAM VERSION > ringwise.cdx.json
//
// Its form is CycloneDX 1.6 (ECMA-424) in JSON.
package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"github.com/CycloneDX/cyclonedx-go"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "bom: name a program and its version")
		os.Exit(2)
	}
	if err := write(os.Stdout, os.Args[1], os.Args[2], time.Now()); err != nil {
		fmt.Fprintln(os.Stderr, "bom:", err)
		os.Exit(1)
	}
}

// write writes the bill of materials of the program in the file at path.
func write(w io.Writer, path, version string, now time.Time) error {
	parts, err := modules(path)
	if err != nil {
		return err
	}
	libraries, err := libraries(path)
	if err != nil {
		return err
	}
	bom, err := bill(path, version, append(parts, libraries...), now)
	if err != nil {
		return err
	}
	return cyclonedx.NewBOMEncoder(w, cyclonedx.BOMFileFormatJSON).SetPretty(true).SetEscapeHTML(false).EncodeVersion(bom, cyclonedx.SpecVersion1_6)
}
