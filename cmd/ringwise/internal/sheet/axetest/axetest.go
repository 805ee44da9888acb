// Package axetest asks axe-core what is wrong with a page, for tests of pages
// that are written as files.
package axetest

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// patience is how long the browser may take for all pages of a test.
const patience = 3 * time.Minute

// A Checker is a browser with axe-core, an accessibility checker by the rules
// of the W3C's WCAG 2.2, levels A and AA, and by good practice.
type Checker struct {
	browser context.Context
	axe     string
}

// New starts a browser until the test ends. It skips the test where chromium
// or axe-core is not installed.
func New(t *testing.T) Checker {
	t.Helper()
	_, here, _, _ := runtime.Caller(0)
	axe, err := os.ReadFile(filepath.Join(filepath.Dir(here), "../../../../../testdata/browser/node_modules/axe-core/axe.min.js"))
	if err != nil {
		t.Skip("axe-core is missing: npm ci in testdata/browser installs it")
	}
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("chromium is not installed")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.NoSandbox)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	browser, end := chromedp.NewContext(allocator)
	t.Cleanup(end)
	browser, late := context.WithTimeout(browser, patience)
	t.Cleanup(late)
	return Checker{browser, string(axe)}
}

// Check fails the test if axe-core finds a fault in the page or does not pass
// any rule.
func (c Checker) Check(t *testing.T, page []byte) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.html")
	require.NoError(t, os.WriteFile(file, page, 0o600))
	require.NoError(t, chromedp.Do(c.browser, chromedp.Navigate("file://"+file)))
	result, err := chromedp.Run(c.browser, chromedp.Evaluate[struct {
		Passes int
		Faults []string
	}](c.axe+`; axe.run().then(r => ({passes: r.passes.length,
		faults: r.violations.map(v => v.id + ': ' + v.help + ' ' + v.nodes[0].html.slice(0, 120))}))`, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	require.Empty(t, result.Faults)
	require.NotZero(t, result.Passes)
}
