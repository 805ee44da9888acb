package score

import (
	"context"
	"time"

	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/photoread"
)

// An Effort is what reading cost against the floor: opening the same photos
// with OpenCV in colour and converting them to 8-bit Lab, with the same
// threads. Starting up is in neither.
type Effort struct {
	Read, Floor time.Duration // CPU time over all photos
	// Peak and FloorPeak are the process's peak memory after reading and
	// after the floor, in bytes. Where the process had used more before, they
	// say nothing.
	Peak, FloorPeak int64
}

// Ratio is the CPU time of reading over that of the floor.
func (e Effort) Ratio() float64 { return float64(e.Read) / float64(e.Floor) }

// PeakAbove is by how much reading raised the peak memory above the floor's,
// in bytes.
func (e Effort) PeakAbove() int64 { return e.Peak - e.FloorPeak }

// PeakRatio is the peak memory of reading over that of the floor.
func (e Effort) PeakRatio() float64 { return float64(e.Peak) / float64(e.FloorPeak) }

// rounds is how often Speed measures, to take the least CPU time of each: other
// work on the machine can only lengthen it.
const rounds = 3

// Speed measures reading with one photo after the other, which does not depend
// on the number of cores. It returns nil where the system gives no CPU time.
func Speed(ctx context.Context, truth Truth) (*Effort, error) {
	var sources []photoread.Source
	for _, photo := range truth.Photos {
		sources = append(sources, photoread.File(photo.path))
	}
	inTurn := func(n int, work func(i int)) {
		for i := range n {
			work(i)
		}
	}
	var broken error
	var least *Effort
	for range rounds {
		e := effortOf(ctx, sources, inTurn, func(i int) {
			if result := photoread.Read(ctx, sources[i], nil); result.Err != nil && broken == nil {
				broken = result.Err
			}
		})
		switch {
		case e == nil || broken != nil:
			return nil, broken
		case least == nil:
			least = e
		default: // by now the floor's peak is that of reading
			least.Read, least.Floor, least.Peak = min(least.Read, e.Read), min(least.Floor, e.Floor), e.Peak
		}
	}
	return least, nil
}

// effortOf measures read against the floor over all photos. spread calls work
// for each of n photos, in turn or several at once.
func effortOf(ctx context.Context, sources []photoread.Source, spread func(n int, work func(i int)), read func(i int)) *Effort {
	floor := func(i int) { openToLab(ctx, sources[i]) }

	// What starts up at the first photo is in no figure.
	spread(min(2, len(sources)), floor)
	before, _, _ := usage()
	spread(len(sources), floor)
	between, floorPeak, _ := usage()

	photoread.Read(ctx, sources[0], nil)
	begun, _, _ := usage()
	spread(len(sources), read)
	after, peak, ok := usage()
	if !ok {
		return nil
	}
	return &Effort{Read: after - begun, Floor: between - before, Peak: peak, FloorPeak: floorPeak}
}

// openToLab does to a photo what the floor is. What cannot be opened is told
// when it is read.
func openToLab(ctx context.Context, source photoread.Source) {
	if ctx.Err() != nil {
		return
	}
	data, err := source.Load()
	if err != nil {
		return
	}
	photo, err := gocv.IMDecode(data, gocv.IMReadColor)
	if err != nil {
		return
	}
	defer photo.Close()
	if photo.Empty() {
		return
	}
	lab := gocv.NewMat()
	defer lab.Close()
	gocv.CvtColor(photo, &lab, gocv.ColorBGRToLab)
}
