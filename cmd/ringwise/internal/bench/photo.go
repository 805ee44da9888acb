package bench

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"

	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/isolated"
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

// readPhoto reads the bytes of a photo file. Errors are those of the command
// line: they say what was wrong and what to do.
func readPhoto(ctx context.Context, name string, data []byte) (*photo, error) {
	p := &photo{name: name}
	source := photoread.Stream(name, bytes.NewReader(data))
	source.Open = isolated.Open
	result := photoread.Read(ctx, source, func(opened *vision.Photo, parts []photoread.Part) error {
		var err error
		if p.shown, err = picture(opened); err != nil {
			return err
		}
		for i, found := range parts {
			strip, err := strip(opened, found.Part)
			if err != nil {
				return err
			}
			p.parts = append(p.parts, &part{number: i + 1, found: found, strip: strip, said: said{status: open}})
		}
		return nil
	})
	p.width, p.height = result.Width, result.Height
	return p, result.Err
}

// picture is the photo as the page shows it.
func picture(opened *vision.Photo) ([]byte, error) {
	pixels := opened.Pixels
	if side := max(pixels.Cols(), pixels.Rows()); side > shownSide {
		small := gocv.NewMat()
		defer small.Close()
		scale := shownSide / float64(side)
		gocv.Resize(pixels, &small, image.Point{}, scale, scale, gocv.InterpolationArea)
		pixels = small
	}
	img, err := pixels.ToImage()
	if err != nil {
		return nil, fmt.Errorf("the photo cannot be shown: %w", err)
	}
	var out bytes.Buffer
	err = jpeg.Encode(&out, img, &jpeg.Options{Quality: shownQuality})
	return out.Bytes(), err
}

// strip is the part turned straight, as PNG.
func strip(opened *vision.Photo, part vision.Part) ([]byte, error) {
	long := math.Hypot(part.Outline[1].X-part.Outline[0].X, part.Outline[1].Y-part.Outline[0].Y)
	width := math.Max(leastStrip, math.Min(mostStrip, 2*long))
	img, err := part.Crop(opened, int(width), max(1, int(width/part.CropAspect())))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = png.Encode(&out, img)
	return out.Bytes(), err
}
