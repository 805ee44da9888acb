package marking

import (
	_ "embed"
	"html/template"
	"io"
)

//go:embed class.html
var classHTML string

var classPage = template.Must(template.New("class").Parse(classHTML))

// WriteHTML writes the summary as one HTML page that needs no other file. The
// chart is a table with bars, so that it can be read as well as seen.
func (c Class) WriteHTML(out io.Writer) error { return classPage.Execute(out, c) }
