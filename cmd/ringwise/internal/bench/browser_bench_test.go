package bench

import (
	"image"
	"os/exec"
	"path/filepath"
	"sort"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// twelveMegapixels is the sample enlarged to 4000 × 3000 pixels, as a file.
func twelveMegapixels(b *testing.B) string {
	b.Helper()
	small, large := gocv.IMRead(sample, gocv.IMReadColor), gocv.NewMat()
	defer small.Close()
	defer large.Close()
	require.False(b, small.Empty())
	gocv.Resize(small, &large, image.Pt(4000, 3000), 0, 0, gocv.InterpolationCubic)
	path := filepath.Join(b.TempDir(), "pile.jpg")
	require.True(b, gocv.IMWrite(path, large))
	return path
}

// BenchmarkFirstPart measures how long it takes from choosing a photo of 12
// megapixels until its first part is on the page with its strip, beside what
// the read command takes for the same file, from its start to its end. The
// two take turns, so that a busy machine weighs on both alike; medians are
// reported, and their ratio.
func BenchmarkFirstPart(b *testing.B) {
	path := twelveMegapixels(b)
	program := filepath.Join(b.TempDir(), "ringwise")
	out, err := exec.CommandContext(b.Context(), "go", "build", "-o", program, "ringwise/cmd/ringwise").CombinedOutput()
	require.NoError(b, err, string(out))
	r := start(b, Options{})
	w := r.open(b, 1440, 900)
	read := func() time.Duration {
		begun := time.Now()
		require.NoError(b, exec.CommandContext(b.Context(), program, "read", path).Run())
		return time.Since(begun)
	}
	show := func() time.Duration {
		w.run(chromedp.Evaluate[chromedp.Void](`window.seen = new Promise((done) => {
			const begun = new Promise((chosen) => document.querySelector('#files').addEventListener('change', () => chosen(performance.now()), { capture: true, once: true }));
			const look = async () => {
				const strip = document.querySelector('#strip');
				if (document.querySelector('#value').checkVisibility() && strip.complete && strip.naturalWidth > 0) done(performance.now() - await begun);
				else requestAnimationFrame(look);
			};
			look();
		}); 0`))
		w.bring(path)
		took := get(w, chromedp.Evaluate[float64](`window.seen`, chromedp.EvalAwaitPromise))
		w.click("#clear")
		w.until(`!document.querySelector('#welcome').hidden && !document.querySelector('#value').checkVisibility()`)
		w.run(chromedp.Evaluate[chromedp.Void](`document.querySelector('#strip').removeAttribute('src')`))
		return time.Duration(took * float64(time.Millisecond))
	}
	read()
	show()
	var reads, shows []time.Duration
	for b.Loop() {
		reads, shows = append(reads, read()), append(shows, show())
	}
	median := func(times []time.Duration) float64 {
		sort.Slice(times, func(i, j int) bool { return times[i] < times[j] })
		return times[len(times)/2].Seconds()
	}
	b.ReportMetric(1000*median(reads), "read-ms")
	b.ReportMetric(1000*median(shows), "first-part-ms")
	b.ReportMetric(median(shows)/median(reads), "ratio")
	b.ReportMetric(0, "ns/op")
}
