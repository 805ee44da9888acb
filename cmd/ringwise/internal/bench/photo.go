package bench

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"image"
	"image/png"
	"math"
	"sync"

	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/vision"
)

// A photo is one that was brought to the bench. All but the parts' answers
// stays as it was read.
type photo struct {
	id            int
	name          string
	width, height int    // in pixels, as displayed
	shown         []byte // JPEG for the page, at most shownSide pixels a side
	parts         []*part
	whites        []vision.Light // each of one spot that the person says is white
	scale         toldScale      // zero if unknown
	lamp          int            // the photo whose light this one was taken in, 0 for its own
}

// Sizes of the pictures that the page shows.
const (
	shownSide  = 2000 // the longest side of a photo, in pixels
	leastStrip = 320  // the width of a part's strip, in pixels
	mostStrip  = 960
)

// shownQuality is the JPEG quality of the photos on the page.
const shownQuality = 88

// readPhoto reads a photo. Errors are those of the command line: they say what
// was wrong and what to do.
func readPhoto(ctx context.Context, source photoread.Source) (*photo, error) {
	p := &photo{name: source.Name}
	var failed error
	var beside sync.WaitGroup
	decode := source.Open
	source.Open = func(ctx context.Context, data []byte) (*vision.Photo, error) {
		opened, err := decode(ctx, data)
		if err == nil { // while the parts are looked for
			pixels := opened.Pixels.Region(image.Rect(0, 0, opened.Pixels.Cols(), opened.Pixels.Rows()))
			beside.Go(func() {
				defer pixels.Close()
				p.shown, failed = picture(pixels)
			})
		}
		return opened, err
	}
	result := photoread.Read(ctx, source, func(opened *vision.Photo, parts []photoread.Part) error {
		for i, found := range parts {
			strip, err := strip(opened, found.Part)
			if err != nil {
				return err
			}
			p.parts = append(p.parts, &part{number: i + 1, found: found, strip: strip, said: said{status: open}})
		}
		return nil
	})
	beside.Wait()
	p.width, p.height = result.Width, result.Height
	return p, cmp.Or(result.Err, failed)
}

// picture is the photo as the page shows it.
func picture(pixels gocv.Mat) ([]byte, error) {
	if side := max(pixels.Cols(), pixels.Rows()); side > shownSide {
		small := gocv.NewMat()
		defer small.Close()
		scale := shownSide / float64(side)
		gocv.Resize(pixels, &small, image.Point{}, scale, scale, gocv.InterpolationArea)
		pixels = small
	}
	data, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, pixels, []int{gocv.IMWriteJpegQuality, shownQuality})
	if err != nil {
		return nil, fmt.Errorf("the photo cannot be shown: %w", err)
	}
	defer data.Close()
	return bytes.Clone(data.GetBytes()), nil
}

// strip is the part turned straight. Making a PNG of it takes a third as long as
// reading the part, so that this is left until somebody wants to see it, or
// until makeStrips.
func strip(opened *vision.Photo, part vision.Part) (func() []byte, error) {
	long := math.Hypot(part.Outline[1].X-part.Outline[0].X, part.Outline[1].Y-part.Outline[0].Y)
	width := math.Max(leastStrip, math.Min(mostStrip, 2*long))
	img, err := part.Crop(opened, int(width), max(1, int(width/part.CropAspect())))
	if err != nil {
		return nil, err
	}
	return sync.OnceValue(func() []byte {
		var out bytes.Buffer
		if err := png.Encode(&out, img); err != nil {
			panic(err) // a picture in memory of a sound size
		}
		return out.Bytes()
	}), nil
}

// makeStrips makes the strips of parts, while the person looks at the first.
func makeStrips(parts []*part) {
	for _, p := range parts {
		p.strip()
	}
}
