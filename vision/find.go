package vision

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// Find returns the resistor bodies of a photo with what was seen of their
// rings, in reading order: top to bottom, then left to right.
func Find(ctx context.Context, photo *Photo) ([]Part, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	view := newView(photo.Pixels)
	ground := seeGround(view)
	bodies := findBodies(view, ground)
	var parts []Part
	for _, b := range bodies {
		full := b.scaled(1 / view.scale)
		seen, ok := sight(photo.Pixels, full)
		if !ok {
			continue
		}
		parts = append(parts, Part{Outline: full.outline(), Seen: seen})
	}
	return parts, nil
}

// findBodies returns the bodies of a view, each once.
func findBodies(v view, g ground) []fit {
	stand := g.stand(v)
	defer stand.Close()
	mask := plane{v.width, v.height, stand.ToBytes()}
	var fits []fit
	for _, b := range findBoxes(stand) {
		if aspect := b.half / b.rise; aspect < 0.9 || aspect > 1.6*mostAspect {
			continue
		}
		if f, ok := refine(mask, b); ok {
			fits = append(fits, f)
		}
	}
	return once(fits)
}

// once keeps the best of fits that cover the same place.
func once(fits []fit) []fit {
	slices.SortStableFunc(fits, func(a, b fit) int { return cmp.Compare(b.worth(), a.worth()) })
	var kept []fit
next:
	for _, f := range fits {
		for _, k := range kept {
			if k.overlaps(f.box) {
				continue next
			}
		}
		kept = append(kept, f)
	}
	return kept
}

// worth ranks fits over the same place.
func (f fit) worth() float64 {
	return f.fill + 0.5*float64(f.leads) - 2*f.wave
}

// overlaps tells whether the centre of either box lies in the other.
func (b box) overlaps(o box) bool {
	return b.holds(o.x, o.y) || o.holds(b.x, b.y)
}

func (b box) holds(x, y float64) bool {
	s, c := math.Sincos(b.angle)
	dx, dy := x-b.x, y-b.y
	return math.Abs(dx*c+dy*s) < b.half && math.Abs(dy*c-dx*s) < b.rise
}
