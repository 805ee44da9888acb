package vision

import (
	"context"
	"slices"
)

// FindUnder is Find for a photo of whose light something is known.
func FindUnder(ctx context.Context, photo *Photo, light Light) ([]Part, error) {
	parts, err := Find(ctx, photo)
	if err != nil {
		return nil, err
	}
	return Under(parts, light), nil
}

// Under weighs anew, in a light of which something is known, what was seen of
// the parts of one photo. Nothing is looked for again, so that it is quick. The
// parts given stay as they were; a light of which nothing is known changes
// nothing. parts should be all that were found in the photo, since each is
// helped by what the others say of the light.
func Under(parts []Part, light Light) []Part {
	out := slices.Clone(parts)
	if !light.Known() {
		return out
	}
	var traces []*trace
	var at []int
	for i, p := range out {
		if p.trace != nil {
			traces = append(traces, p.trace)
			at = append(at, i)
		}
	}
	for i, seen := range sightings(traces, light.setting()) {
		out[at[i]].Seen = seen
	}
	return out
}
