package vision

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"
)

// openAndFind reads a photo and counts its parts.
func openAndFind(data []byte) (parts int, err error) {
	photo, err := Open(context.Background(), data)
	if err != nil {
		return 0, err
	}
	defer photo.Close()
	found, err := Find(context.Background(), photo)
	return len(found), err
}

// openToLab is the floor: it opens a photo with OpenCV in colour and converts it
// to 8-bit Lab.
func openToLab(data []byte) error {
	pixels, err := gocv.IMDecode(data, gocv.IMReadColor)
	if err != nil {
		return err
	}
	defer pixels.Close()
	lab := gocv.NewMat()
	defer lab.Close()
	gocv.CvtColor(pixels, &lab, gocv.ColorBGRToLab)
	return nil
}

// BenchmarkFurtherPart compares photos of 12 megapixels with one, four and
// twelve parts. It reports what each further part costs, as the slope of a line
// through the three, in percent of the photo with twelve; and that photo against
// the floor. Of each photo the round that took least processor time counts, since
// other work on the machine can only lengthen it.
func BenchmarkFurtherPart(b *testing.B) {
	counts := []int{1, 4, 12}
	photos := make([][]byte, len(counts))
	least := make([]time.Duration, len(counts))
	for i, n := range counts {
		photos[i] = twelveMegapixels(b, n)
	}
	var floor time.Duration
	shorter := func(least *time.Duration, round func()) {
		before := processorTime(b)
		round()
		if took := processorTime(b) - before; *least == 0 || took < *least {
			*least = took
		}
	}
	floorOnce := func() { require.NoError(b, openToLab(photos[len(photos)-1])) }
	readOnce := func(i int) {
		parts, err := openAndFind(photos[i])
		require.NoError(b, err)
		require.Equal(b, counts[i], parts)
	}
	floorOnce() // what starts up at the first photo is in no figure
	readOnce(0)
	for b.Loop() {
		shorter(&floor, floorOnce)
		for i := range counts {
			shorter(&least[i], func() { readOnce(i) })
		}
	}
	whole := least[len(least)-1].Seconds()
	for i, n := range counts {
		b.ReportMetric(1e3*least[i].Seconds(), fmt.Sprintf("cpu-ms/%d-parts", n))
	}
	b.ReportMetric(100*slope(counts, least)/whole, "%/part")
	b.ReportMetric(whole/floor.Seconds(), "x-floor")
}

// slope is by how many seconds the time grows with each further part, by least
// squares.
func slope(counts []int, times []time.Duration) float64 {
	var n, t, nn, nt float64
	for i, c := range counts {
		n += float64(c)
		t += times[i].Seconds()
		nn += float64(c * c)
		nt += float64(c) * times[i].Seconds()
	}
	k := float64(len(counts))
	return (k*nt - n*t) / (k*nn - n*n)
}

// Three photos that each take ten seconds and two more a part.
func TestSlope(t *testing.T) {
	require.InDelta(t, 2, slope([]int{1, 4, 12}, []time.Duration{12 * time.Second, 18 * time.Second, 34 * time.Second}), 1e-9)
}
