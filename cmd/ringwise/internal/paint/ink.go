package paint

import (
	"fmt"
	"io"
	"os"
	"strings"

	"golang.org/x/term"

	"ringwise/decode"
)

// An Ink writes rings in letters, with a swatch before each where the reader
// of the text can see it.
type Ink struct{ swatches bool }

// InkFor returns the ink for text written to w: with swatches only if w is a
// terminal that says it shows 24-bit colour (COLORTERM) and NO_COLOR is not
// set.
func InkFor(w io.Writer) Ink {
	f, ok := w.(interface{ Fd() uintptr })
	return Ink{ok && term.IsTerminal(int(f.Fd())) && showsColour(os.Getenv)}
}

func showsColour(getenv func(string) string) bool {
	depth := getenv("COLORTERM")
	return (depth == "truecolor" || depth == "24bit") && getenv("NO_COLOR") == "" && getenv("TERM") != "dumb"
}

// Rings writes the letters of the rings, in order, and says how many columns
// of a terminal they fill.
func (k Ink) Rings(rings []decode.Colour) (text string, columns int) {
	words := make([]string, len(rings))
	for i, r := range rings {
		words[i] = r.Letters()
		columns += 2
		if k.swatches {
			c := Of(r)
			words[i] = fmt.Sprintf("\x1b[48;2;%d;%d;%dm  \x1b[0m%s", c.R, c.G, c.B, words[i])
			columns += 2
		}
	}
	return strings.Join(words, " "), columns + max(0, len(rings)-1)
}
