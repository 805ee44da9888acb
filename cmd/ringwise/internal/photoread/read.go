package photoread

import (
	"context"
	"fmt"
	"time"

	"ringwise/cmd/ringwise/internal/ruler"
	"ringwise/decode"
	"ringwise/vision"
)

// A Part is one body of a photo: where it lies, what was seen of it and what
// that may mean.
type Part struct {
	vision.Part
	decode.Ranking
	Body ruler.Body // by the scale of its source
}

// A Result is what came of one photo.
type Result struct {
	Name          string
	Width, Height int         // in pixels of the photo as displayed; 0 if not opened
	Scale         ruler.Scale // of its source
	Parts         []Part      // in reading order: top to bottom, then left to right
	Err           error       // why the photo could not be read, nil if it was
}

// A Look is called with a photo that was read and its parts, while the pixels
// are still there.
type Look func(photo *vision.Photo, parts []Part) error

// Read reads one photo. look may be nil. A panic becomes the photo's error,
// and so does an error of look.
func Read(ctx context.Context, source Source, look Look) (result Result) {
	result.Name = source.Name
	if source.Done != nil {
		begun := time.Now()
		defer func() { source.Done(result, time.Since(begun)) }()
	}
	defer func() {
		if p := recover(); p != nil {
			result = Result{Name: source.Name, Err: fmt.Errorf("the reader broke on this photo (%v): please report it with the photo", p)}
		}
	}()
	if result.Err = ctx.Err(); result.Err != nil {
		return result
	}
	data, err := source.Load()
	if err != nil {
		result.Err = err
		return result
	}
	open := source.Open
	if open == nil {
		open = vision.Open
	}
	photo, err := open(ctx, data)
	if err != nil {
		result.Err = err
		return result
	}
	defer photo.Close()
	if err := ruler.Within(source.Points, photo.Pixels.Cols(), photo.Pixels.Rows()); err != nil {
		result.Err = err
		return result
	}
	found, err := vision.Find(ctx, photo)
	if err != nil {
		result.Err = err
		return result
	}
	parts := make([]Part, len(found))
	for k, part := range found {
		if result.Err = ctx.Err(); result.Err != nil {
			return result
		}
		parts[k] = Part{part, decode.Rank(part.Seen), source.Scale.Of(part)}
	}
	if look != nil {
		if err := look(photo, parts); err != nil {
			result.Err = err
			return result
		}
	}
	result.Width, result.Height, result.Parts = photo.Pixels.Cols(), photo.Pixels.Rows(), parts
	result.Scale = source.Scale
	return result
}
