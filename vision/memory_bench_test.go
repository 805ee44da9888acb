//go:build linux

package vision

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// memoryChild is what this program is started with as the child process whose
// memory is measured; after it stand "floor" or "read", how many times, and the
// photo.
const memoryChild = "measure-peak-memory"

func TestMain(m *testing.M) {
	if len(os.Args) != 5 || os.Args[1] != memoryChild {
		os.Exit(m.Run())
	}
	if err := measureMemory(os.Args[2], os.Args[3], os.Args[4]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// measureMemory does the job so many times and prints the process's peak memory
// in KiB.
func measureMemory(job, times, path string) error {
	n, err := strconv.Atoi(times)
	if err != nil {
		return err
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	for range n {
		if job == "floor" {
			err = openToLab(data)
		} else {
			_, err = openAndFind(data)
		}
		if err != nil {
			return err
		}
	}
	peak, err := peakMemory()
	fmt.Println(peak)
	return err
}

// peakMemory is the most memory, in KiB, that this process has had in use since
// it was started (proc(5): VmHWM). getrusage(2) does not do: its peak is at first
// that of the process that started this one.
func peakMemory() (kib int, err error) {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0, err
	}
	for line := range strings.Lines(string(status)) {
		if peak, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			return strconv.Atoi(strings.TrimSuffix(strings.TrimSpace(peak), " kB"))
		}
	}
	return 0, fmt.Errorf("/proc/self/status tells no peak memory")
}

// peakOf is the peak memory of a child process that does the job, in KiB.
func peakOf(tb testing.TB, job string, times int, path string) int {
	tb.Helper()
	self, err := os.Executable()
	require.NoError(tb, err)
	var errs bytes.Buffer
	child := exec.CommandContext(tb.Context(), self, memoryChild, job, strconv.Itoa(times), path)
	child.Stderr = &errs
	out, err := child.Output()
	require.NoError(tb, err, errs.String())
	peak, err := strconv.Atoi(strings.TrimSpace(string(out)))
	require.NoError(tb, err)
	return peak
}

// BenchmarkPeakMemory reports by how much the peak memory of reading a photo of
// 12 megapixels with twelve parts lies above the floor's, each in a process of
// its own, for one photo and for five one after the other. The largest of all
// rounds counts.
func BenchmarkPeakMemory(b *testing.B) {
	path := filepath.Join(b.TempDir(), "twelve.jpg")
	require.NoError(b, os.WriteFile(path, twelveMegapixels(b, 12), 0o600))
	floor, above, aboveFive := 0, 0, 0
	for b.Loop() {
		floor = peakOf(b, "floor", 1, path)
		above = max(above, peakOf(b, "read", 1, path)-floor)
		aboveFive = max(aboveFive, peakOf(b, "read", 5, path)-floor)
	}
	b.ReportMetric(float64(floor)/1024, "floor-MB")
	b.ReportMetric(float64(above)/1024, "MB-above")
	b.ReportMetric(float64(aboveFive)/1024, "MB-above/5-photos")
}

// A child that opens twelve million pixels and keeps a copy in Lab holds both.
func TestPeakMemoryIsMeasured(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bare.jpg")
	require.NoError(t, os.WriteFile(path, asJPEG(t, paper(4000, 3000)), 0o600))
	require.Greater(t, peakOf(t, "floor", 1, path)<<10, 2*3*4000*3000)
}
