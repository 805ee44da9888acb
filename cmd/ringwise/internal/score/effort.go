package score

import (
	"context"
	"time"

	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/ordered"
	"ringwise/cmd/ringwise/internal/photoread"
)

// An Effort is what reading cost against the floor: opening the same photos
// with OpenCV in colour and converting them to 8-bit Lab, with the same
// threads. Starting up is in neither.
type Effort struct {
	Read, Floor time.Duration // CPU time over all photos
	// PeakAbove is by how much reading raised the process's peak memory
	// above that of the floor, in bytes.
	PeakAbove int64
}

// Ratio is the CPU time of reading over that of the floor.
func (e Effort) Ratio() float64 { return float64(e.Read) / float64(e.Floor) }

// floor does to every photo what the floor is, as many at once as reading
// does.
func floor(ctx context.Context, sources []photoread.Source) {
	ordered.Run(len(sources), func(i int) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		data, err := sources[i].Load()
		if err != nil {
			return err
		}
		photo, err := gocv.IMDecode(data, gocv.IMReadColor)
		if err != nil {
			return err
		}
		defer photo.Close()
		if photo.Empty() {
			return nil
		}
		lab := gocv.NewMat()
		defer lab.Close()
		gocv.CvtColor(photo, &lab, gocv.ColorBGRToLab)
		return nil
	}, func(int, error) {}) // what cannot be opened is told when it is read
}
