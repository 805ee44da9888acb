package picksheet

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// References that a list gives without a space, as many programs write them, do
// not make the page wider than paper: a browser would print it small and cut.
func TestLongReferencesStayOnThePage(t *testing.T) {
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("chromium is not installed")
	}
	page := sheet(t, "reference,value,tolerance,power,quantity,kind\n"+
		`"R1,R2,R3,R4,R5,R6,R7,R8,R9,R10,R11,R12,R13,R14,R15,R16,R17,R18,R19,R20",5k6,5,1/4,20,ordinary`+"\n")
	file := filepath.Join(t.TempDir(), "page.html")
	require.NoError(t, os.WriteFile(file, []byte(page), 0o600))
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.NoSandbox)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	defer stop()
	browser, end := chromedp.NewContext(allocator)
	defer end()
	browser, late := context.WithTimeout(browser, time.Minute)
	defer late()
	const paper = 794 // pixels of A4 at 96 to the inch
	require.NoError(t, chromedp.Do(browser, chromedp.EmulateViewport(paper, 1123), chromedp.Navigate("file://"+file)))
	width, err := chromedp.Run(browser, chromedp.Evaluate[int](`document.documentElement.scrollWidth`))
	require.NoError(t, err)
	assert.LessOrEqual(t, width, paper)
}
