package paper

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

// glyphs is the regular font, to ask what signs it has. The bold one has the
// same.
var glyphs = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		panic(fmt.Sprintf("the embedded font is damaged: %v", err))
	}
	return f
})

// Printable returns an error if the embedded font lacks a sign of the text.
func Printable(text string) error {
	var b sfnt.Buffer
	for _, r := range text {
		if strings.ContainsRune(blanks, r) {
			continue
		}
		if i, err := glyphs().GlyphIndex(&b, r); err != nil || i == 0 || r < ' ' {
			return fmt.Errorf("%q has the sign %q, which the font of the sheet does not have: write it with other letters", text, r)
		}
	}
	return nil
}

// blanks are the signs between words at which lines break.
const blanks = " \t\r\n"

// fonts names the embedded fonts by their style.
var fonts = []struct {
	style string
	data  []byte
}{{"", goregular.TTF}, {"B", gobold.TTF}}
