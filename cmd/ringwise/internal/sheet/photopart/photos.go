package photopart

import (
	"context"
	"fmt"
	"math"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/decode"
	"ringwise/vision"
)

// A Reading is what came of one photo.
type Reading struct {
	Parts []sheet.Part // those read as sure, marked as unchecked
	Left  int          // parts that are not sure
	Err   error
}

// FromPhoto takes the parts of a photo of which the reading is sure. No person
// has confirmed them, and they say so.
func FromPhoto(ctx context.Context, source photoread.Source) (r Reading) {
	result := photoread.Read(ctx, source, func(photo *vision.Photo, parts []photoread.Part) error {
		for _, p := range parts {
			best, ok := p.Best()
			if !ok || p.Verdict != decode.Sure {
				r.Left++
				continue
			}
			view, err := cut(photo, p.Part, places(p.Seen.Cuts[best.Cut], best.Order))
			if err != nil {
				return err
			}
			r.Parts = append(r.Parts, sheet.Part{Reading: best.Reading, Picture: view, Unchecked: true})
		}
		return nil
	})
	if result.Err != nil {
		return Reading{Err: fmt.Errorf("%s: %w", source.Name, result.Err)}
	}
	return r
}

// places are the places of rings in reading order in a crop of the body, as
// fractions of the crop's width.
func places(c decode.Cut, order []int) []float64 {
	at := make([]float64, len(order))
	for i, k := range order {
		at[i] = (c.Rings[k].Centre + vision.CropMargin) / (1 + 2*vision.CropMargin)
	}
	return at
}

// cut cuts a part with rings at those places out of a photo.
func cut(photo *vision.Photo, part vision.Part, at []float64) (*sheet.Picture, error) {
	long := 2 * width // finer than shown, then brought to size
	crop, err := part.Crop(photo, long, max(1, int(math.Round(float64(long)/part.CropAspect()))))
	if err != nil {
		return nil, err
	}
	return picture(crop, at)
}
