//go:build linux

package photoread

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/ordered"
)

// batchChild is what this program is started with as the child process that
// goes through a batch; after it stands "floor" or "read", and the photos.
const batchChild = "measure-batch"

func TestMain(m *testing.M) {
	if len(os.Args) < 4 || os.Args[1] != batchChild {
		os.Exit(m.Run())
	}
	if err := measureBatch(os.Args[2], os.Args[3:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// floorPasses is how often the floor goes through the batch, to take about as long as
// reading it once: so what else the machine does weighs the same on both.
const floorPasses = 24

// measureBatch does the job with all photos, as "ringwise read" does, on the
// cores that it may use, and prints the nanoseconds that passed and those that
// the processors worked. What starts up at the first photo is in neither.
func measureBatch(job string, photos []string) error {
	do := func(path string) error { return Read(context.Background(), File(path), nil).Err }
	passes := 1
	if job == "floor" {
		do, passes = openToLab, floorPasses
	}
	if err := do(photos[0]); err != nil {
		return err
	}
	busy, began := processorTime(), time.Now()
	var broken error
	ordered.Run(passes*len(photos), func(i int) error { return do(photos[i%len(photos)]) }, func(_ int, err error) {
		if broken == nil {
			broken = err
		}
	})
	fmt.Println(time.Since(began).Nanoseconds(), (processorTime() - busy).Nanoseconds())
	return broken
}

// openToLab is the floor: it opens a photo with OpenCV in colour and converts it
// to 8-bit Lab.
func openToLab(path string) error {
	data, err := File(path).Load()
	if err != nil {
		return err
	}
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

// processorTime is what the process has used of all processors so far.
func processorTime() time.Duration {
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		panic(err) // it has no reason to fail
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// A run is what one child process took.
type run struct{ passed, worked time.Duration }

// least keeps the shortest of either: other work on the machine can only
// lengthen them.
func (r *run) least(o run) {
	if r.passed == 0 || o.passed < r.passed {
		r.passed = o.passed
	}
	if r.worked == 0 || o.worked < r.worked {
		r.worked = o.worked
	}
}

// on does the job in a child process kept to some cores.
func on(b *testing.B, cores, job string, photos []string) run {
	b.Helper()
	self, err := os.Executable()
	require.NoError(b, err)
	var errs bytes.Buffer
	child := exec.CommandContext(b.Context(), "taskset", append([]string{"-c", cores, self, batchChild, job}, photos...)...)
	child.Stderr = &errs
	out, err := child.Output()
	require.NoError(b, err, errs.String())
	took := strings.Fields(string(out))
	require.Len(b, took, 2)
	var r run
	for i, to := range []*time.Duration{&r.passed, &r.worked} {
		n, err := strconv.ParseInt(took[i], 10, 64)
		require.NoError(b, err)
		*to = time.Duration(n)
	}
	return r
}

// BenchmarkBatch goes through fifty photos on two cores and kept to one of them.
// It reports how much shorter two cores make it for reading and for the floor,
// the ratio of both, and how much more the processors work on two cores than on
// one, which shows what is lost to sharing even where other work on the machine
// spoils the rest.
func BenchmarkBatch(b *testing.B) {
	if _, err := exec.LookPath("taskset"); err != nil {
		b.Skip("taskset is missing: install util-linux")
	}
	demo, err := filepath.Glob("../../../../samples/cleanout-*.jpg")
	require.NoError(b, err)
	require.NotEmpty(b, demo)
	var photos []string
	for i := range 50 {
		photos = append(photos, demo[i%len(demo)])
	}
	took := map[string]*run{}
	for b.Loop() {
		for _, job := range []string{"floor", "read"} {
			for _, cores := range []string{"0", "0,1"} {
				name := job + " " + cores
				if took[name] == nil {
					took[name] = &run{}
				}
				took[name].least(on(b, cores, job, photos))
			}
		}
	}
	speedUp := func(job string) float64 {
		return took[job+" 0"].passed.Seconds() / took[job+" 0,1"].passed.Seconds()
	}
	work := func(job string) float64 {
		return took[job+" 0,1"].worked.Seconds() / took[job+" 0"].worked.Seconds()
	}
	b.ReportMetric(speedUp("read"), "x-read")
	b.ReportMetric(speedUp("floor"), "x-floor")
	b.ReportMetric(speedUp("read")/speedUp("floor"), "read/floor")
	b.ReportMetric(work("read"), "work-read")
	b.ReportMetric(work("floor"), "work-floor")
	b.ReportMetric(1e3*took["read 0,1"].passed.Seconds()/float64(len(photos)), "ms/photo")
}
