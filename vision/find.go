package vision

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Find returns the bodies of a photo with what was seen of their rings, from top
// to bottom and, at one height, from left to right. Among them are bodies that
// show no row of rings, such as printed resistors and diodes: what was seen of them
// has a fault. It returns the context's error when that ends first.
func Find(ctx context.Context, photo *Photo) ([]Part, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	picture := pictureOf(photo.Pixels)
	defer picture.close()
	view := newView(picture)
	looks, rough, err := findBodies(ctx, picture, view)
	if err != nil {
		return nil, err
	}
	if looks, err = nearer(ctx, picture, view, looks, rough); err != nil {
		return nil, err
	}
	var traces []*trace
	for _, l := range looks {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		traces = append(traces, l.trace())
	}
	var parts []Part
	for i, seen := range sightings(traces, unknown) {
		parts = append(parts, Part{Outline: looks[i].scaled(1 / view.scale).outline(), Seen: seen, trace: traces[i]})
	}
	slices.SortStableFunc(parts, func(a, b Part) int {
		p, q := a.At(0.5, 0.5), b.At(0.5, 0.5)
		return cmp.Or(cmp.Compare(p.Y, q.Y), cmp.Compare(p.X, q.X))
	})
	return parts, nil
}

// findBodies returns the bodies of a photo, each once, and the rough boxes of all places
// where there may be some, from outlines and from hints.
func findBodies(ctx context.Context, photo picture, v view) ([]look, []box, error) {
	g := seeGround(v)
	stand := g.stand(v)
	defer stand.Close()
	mask := plane{v.width, v.height, stand.ToBytes()}
	var rough []box
	var fits []fit
	for _, b := range findBoxes(stand) {
		if !v.mayHoldBody(b) || slices.ContainsFunc(rough, func(o box) bool { return o.like(b) }) {
			continue
		}
		rough = append(rough, b)
		f, ok := refine(mask, b)
		if ok && v.varied(f.box) && !slices.ContainsFunc(fits, func(o fit) bool { return o.like(f.box) }) {
			fits = append(fits, f)
		}
	}
	var places []place
	hinted, bare := hints(v, mask)
	for _, f := range slices.Concat(hinted, fits) {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		if slices.ContainsFunc(places, func(p place) bool { return p.settles(f.box) }) {
			continue
		}
		if p, ok := glanceAt(photo, v, mask, g, f); ok {
			places = append(places, p)
		}
	}
	places = onePerBody(places)
	var looks []look
	for _, p := range places {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		if l, ok := p.closer(photo, v, mask, g); ok {
			l.chance = l.chanceIn(hinted) // its box has moved, or came from an outline
			looks = append(looks, l)
		}
	}
	looks = withoutPrint(oneLookPerBody(looks), v.grey())
	looks = unringed(photo, v, mask, g, fits, bare, looks)
	for i := range looks {
		looks[i].regard(v, mask)
	}
	for _, f := range hinted {
		rough = append(rough, f.box)
	}
	return looks, rough, nil
}

// oneLookPerBody keeps the best of the looks that a closer view showed to be of
// the same body.
func oneLookPerBody(looks []look) []look {
	var kept []look
	for _, l := range looks {
		i := slices.IndexFunc(kept, func(k look) bool { return k.shared(l.box) > 0.5 })
		switch {
		case i < 0:
			kept = append(kept, l)
		case l.worth() > kept[i].worth():
			kept[i] = l
		}
	}
	return kept
}

// mayHoldBody tells whether a rough box is worth fitting to the outline in it.
func (v view) mayHoldBody(b box) bool {
	aspect := b.half / b.rise
	return aspect >= 0.9 && aspect <= 1.6*mostAspect && v.varied(b)
}

// varied tells whether the colour changes along a box's axis at all; leads and
// grid lines do not.
func (v view) varied(b box) bool {
	const samples = 40
	var sum, squares [3]float64
	for i := range samples {
		x, y := b.at((2*(float64(i)+0.5)/samples-1)*0.9*b.half, 0)
		u := min(max(int(x+0.5), 0), v.width-1)
		t := min(max(int(y+0.5), 0), v.height-1)
		for k := range 3 {
			p := float64(v.lab[3*(t*v.width+u)+k])
			sum[k] += p
			squares[k] += p * p
		}
	}
	spread := 0.0
	for k := range 3 {
		spread += squares[k]/samples - sum[k]*sum[k]/samples/samples
	}
	return math.Sqrt(spread) > 7
}
