package main

import (
	"os"
	"time"

	"github.com/CycloneDX/cyclonedx-go"
	"github.com/google/uuid"
)

// bill says what the program in the file at path is made of. The same program
// has the same serial number.
func bill(path, version string, parts []cyclonedx.Component, now time.Time) (*cyclonedx.BOM, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	program := cyclonedx.Component{
		BOMRef: "ringwise", Type: cyclonedx.ComponentTypeApplication, Name: "ringwise", Version: version,
		Description: "reads the colour rings of resistors from photos",
		Licenses:    &cyclonedx.Licenses{{License: &cyclonedx.License{ID: "MIT"}}},
	}
	var needed []string
	for _, p := range parts {
		needed = append(needed, p.BOMRef)
	}
	bom := cyclonedx.NewBOM()
	bom.SerialNumber = uuid.NewSHA1(uuid.NameSpaceURL, data).URN()
	bom.Metadata = &cyclonedx.Metadata{Timestamp: now.UTC().Format(time.RFC3339), Component: &program}
	bom.Components = &parts
	bom.Dependencies = &[]cyclonedx.Dependency{{Ref: program.BOMRef, Dependencies: &needed}}
	return bom, nil
}
