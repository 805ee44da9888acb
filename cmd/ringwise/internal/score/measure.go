package score

import (
	"context"

	"ringwise/cmd/ringwise/internal/ordered"
	"ringwise/cmd/ringwise/internal/photoread"
)

// Measure reads all photos of the truths and scores what came of it.
// step, if not nil, is called after each photo that was read, from many
// goroutines.
func Measure(ctx context.Context, truths []Truth, step func()) (*Card, error) {
	var photos []*Photo
	var sources []photoread.Source
	for _, truth := range truths {
		for i := range truth.Photos {
			photo := &truth.Photos[i]
			photos = append(photos, photo)
			sources = append(sources, photoread.File(photo.path))
		}
	}

	// Once unmeasured, so that starting up is in neither figure.
	floor(ctx, sources[:min(2, len(sources))])
	photoread.Read(ctx, sources[0], nil)

	before, _, _ := usage()
	floor(ctx, sources)
	between, lowPeak, _ := usage()

	card := &Card{}
	ordered.Run(len(sources), func(i int) photoread.Result {
		if step != nil {
			defer step()
		}
		return photoread.Read(ctx, sources[i], nil)
	}, func(i int, result photoread.Result) {
		card.add(photos[i], result)
	})
	if after, highPeak, ok := usage(); ok {
		card.Effort = &Effort{
			Read:      after - between,
			Floor:     between - before,
			PeakAbove: highPeak - lowPeak,
		}
	}
	return card, ctx.Err()
}
