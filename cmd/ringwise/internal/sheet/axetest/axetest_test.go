package axetest

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/chromedp/chromedp"
)

// The checker finds what is known to be wrong: a picture without a text (WCAG
// 2.2, success criterion 1.1.1) and a page without a language (3.1.1).
func TestFaultsAreFound(t *testing.T) {
	c := New(t)
	require.NoError(t, chromedp.Do(c.browser, chromedp.Navigate(`data:text/html,<title>x</title><img src="x.png">`)))
	faults, err := chromedp.Run(c.browser, chromedp.Evaluate[[]string](
		c.axe+`; axe.run().then(r => r.violations.map(v => v.id))`, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	assert.Contains(t, faults, "image-alt")
	assert.Contains(t, faults, "html-has-lang")
}
