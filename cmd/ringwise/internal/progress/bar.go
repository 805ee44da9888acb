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
	w     io.Writer // nil if w is no terminal
	total int

	mu   sync.Mutex
	done int
}

// New returns a bar for so many photos. It stays silent unless w is a
// terminal and there is more than one photo.
func New(w io.Writer, total int) *Bar {
	if f, ok := w.(*os.File); !ok || !term.IsTerminal(int(f.Fd())) || total < 2 {
		w = nil
	}
	b := &Bar{w: w, total: total}
	b.draw()
	return b
}

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
	filled := width * b.done / b.total
	fmt.Fprintf(b.w, "\r[%s%s] %d of %d photos\x1b[K",
		strings.Repeat("=", filled), strings.Repeat(" ", width-filled), b.done, b.total)
}
