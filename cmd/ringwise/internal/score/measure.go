package score

import (
	"context"

	"ringwise/cmd/ringwise/internal/ordered"
	"ringwise/cmd/ringwise/internal/photoread"
)

// Measure reads all photos of the truths, as many at once as there are cores,
// and scores what came of it. step, if not nil, is called after each photo
// that was read, from many goroutines.
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

	results := make([]photoread.Result, len(sources))
	atOnce := func(n int, work func(i int)) {
		ordered.Run(n, func(i int) struct{} { work(i); return struct{}{} }, func(int, struct{}) {})
	}
	card := &Card{}
	card.Effort = effortOf(ctx, sources, atOnce, func(i int) {
		results[i] = photoread.Read(ctx, sources[i], nil)
		if step != nil {
			step()
		}
	})
	for i, photo := range photos {
		card.add(photo, results[i])
	}
	return card, ctx.Err()
}
