// Package progress shows how much of some long work is done, on a terminal
// only.
package progress

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"

	"golang.org/x/term"
)

// width is the number of cells of a full bar.
const width = 30

// A Bar is one line that is drawn over and over.
type Bar struct {
	w     io.Writer // nil if it is not drawn
	total int

	mu   sync.Mutex
	done int
}

// New returns a bar for so many photos. It stays silent unless w is a terminal
// that a line can be drawn over on, is wide enough for it, and there is more than
// one photo. With NO_COLOR set it is silent, too: all output is plain text then.
func New(w io.Writer, total int) *Bar {
	b := &Bar{total: total}
	if f, ok := w.(*os.File); ok && total > 1 && drawsOver(os.Getenv) {
		columns, _, err := term.GetSize(int(f.Fd()))
		if err == nil && b.fits(columns) {
			b.w = w
		}
	}
	b.draw()
	return b
}

// drawsOver tells whether a terminal takes more than plain text.
func drawsOver(getenv func(string) string) bool {
	return getenv("NO_COLOR") == "" && getenv("TERM") != "dumb"
}

// fits tells whether the line stays on one row of a terminal; on two it could not
// be wiped away. One that tells no width, 0, is taken to be wide.
func (b *Bar) fits(columns int) bool { return columns == 0 || len(b.line(b.total)) < columns }

// Step draws the bar with one more photo done.
func (b *Bar) Step() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.done++
	b.draw()
}

// Aside wipes the bar away, lets write write other text, and draws the bar
// again.
func (b *Bar) Aside(write func()) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.wipe()
	write()
	b.draw()
}

// Clear wipes the bar away for good.
func (b *Bar) Clear() {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.wipe()
}

func (b *Bar) wipe() {
	if b.w != nil {
		fmt.Fprint(b.w, "\r\x1b[K")
	}
}

func (b *Bar) draw() {
	if b.w == nil {
		return
	}
	fmt.Fprintf(b.w, "\r%s\x1b[K", b.line(b.done))
}

// line is the bar with so many photos done.
func (b *Bar) line(done int) string {
	filled := width * done / b.total
	return fmt.Sprintf("[%s%s] %d of %d photos", strings.Repeat("=", filled), strings.Repeat(" ", width-filled), done, b.total)
}
